"""Pages of every kind of chemistry in a browser: the warning first, the fold that opens, names that never meet."""

from __future__ import annotations

import pytest

pytestmark = pytest.mark.browser


def test_the_warning_is_on_the_first_screen(page, address):
    page.goto(address + "chemistries/silver-oxide/")
    box = page.locator("#not-rechargeable").bounding_box()
    assert box["y"] + 40 < 740
    assert "never charge" in page.locator("#not-rechargeable").inner_text()


def test_the_old_charger_unfolds_and_marks_what_is_too_high(page, address):
    page.goto(address + "stand-in/")
    fold = page.locator("#lead-12 ~ details.fold").first
    fold.locator("summary").click()
    assert "too high" in fold.locator("table").inner_text()


BOXES = "all => all.map(e => { const r = e.getBoundingClientRect(); return [r.left, r.right, r.top + 3, r.bottom - 3, e.textContent]; })"


def test_names_on_the_energy_map_never_meet(page, address):
    page.goto(address + "chemistries/")
    for width in (320, 360, 800, 1350):
        page.set_viewport_size({"width": width, "height": 800})
        boxes = page.eval_on_selector_all("#range-energy-all + figure .range-name", BOXES)
        assert len(boxes) > 10
        met = [(a[4], b[4]) for i, a in enumerate(boxes) for b in boxes[i + 1 :] if a[0] < b[1] and b[0] < a[1] and a[2] < b[3] and b[2] < a[3]]
        assert met == [], f"at {width} px"
