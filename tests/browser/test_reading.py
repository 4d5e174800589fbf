"""Reading the site in a browser: on a phone, on a desk, in both palettes, and without scripts."""

from __future__ import annotations

import re

import pytest

WIDTHS = (320, 360, 1350)

pytestmark = pytest.mark.browser


TOUCHING = """() => [...document.querySelectorAll('svg.ruler')].flatMap(svg => {
    const boxes = [...svg.querySelectorAll('text')].map(t => [t.textContent, t.getBoundingClientRect()]);
    const out = [];
    for (const [i, [a, p]] of boxes.entries())
        for (const [b, q] of boxes.slice(i + 1))
            if (Math.min(p.right, q.right) - Math.max(p.left, q.left) > 0.5
                && Math.min(p.bottom, q.bottom) - Math.max(p.top, q.top) > 4) out.push([a, b]);
    return out;
})"""


@pytest.mark.parametrize("path", ("chemistries/", "chemistries/lfp/", "chemistries/nmc/"))
def test_labels_of_the_ruler_never_touch(page, address, path):
    page.goto(address + path)
    for width in WIDTHS:
        page.set_viewport_size({"width": width, "height": 740})
        assert page.evaluate(TOUCHING) == [], f"at {width} px"


def until(page, script: str) -> None:
    """Wait for a script to be true, without the evaluated text that the policy forbids."""
    for _ in range(250):
        if page.evaluate(script):
            return
        page.wait_for_timeout(20)
    raise AssertionError(f"never true: {script}")


def test_ruler_marks_stand_where_the_strip_says(page, address):
    page.goto(address + "chemistries/lfp/")
    shares = page.evaluate(
        """() => { const svg = document.querySelector('svg.ruler'), box = svg.getBoundingClientRect();
            return Object.fromEntries([...svg.querySelectorAll('.ruler-mark')].map(m => [m.classList[1],
                (m.getBoundingClientRect().left + m.getBoundingClientRect().width / 2 - box.left) / box.width])) }"""
    )
    printed = dict(zip(page.locator(".strip dt").all_inner_texts(), page.locator(".strip dd").all_inner_texts(), strict=True))
    for word, name in (("Empty", "empty"), ("Storage", "storage"), ("Nominal", "nominal"), ("Full", "full")):
        volts = next(float(re.match(r"[\d.]+", text).group()) for key, text in printed.items() if key.startswith(word))
        assert shares[name] == pytest.approx((volts - 0.5) / 4.5, abs=0.004)


def column(page, index: int) -> list[float]:
    texts = page.locator(f"table.sortable tbody tr > :nth-child({index + 1})").all_inner_texts()
    return [float(found.group()) for text in texts if (found := re.match(r"[\d.]+", text.strip()))]


def test_table_sorts_both_ways_and_says_so(page, address):
    page.goto(address + "chemistries/")
    headings = page.locator("table.sortable thead th")
    full = headings.all_inner_texts().index("Full")
    before = column(page, full)
    button = headings.nth(full).get_by_role("button")
    button.click()
    assert headings.nth(full).get_attribute("aria-sort") == "ascending"
    assert column(page, full) == sorted(before)
    button.focus()
    page.keyboard.press("Enter")
    assert headings.nth(full).get_attribute("aria-sort") == "descending"
    assert column(page, full) == sorted(before, reverse=True)
    headings.first.get_by_role("button").click()
    assert page.locator("table.sortable thead th[aria-sort]").count() == 1


def test_table_keeps_its_heading_and_first_column_in_sight(page, address):
    page.goto(address + "chemistries/")
    moved = page.evaluate(
        """() => { const box = document.querySelector('.tw'), head = box.querySelector('thead th'), first = box.querySelector('tbody tr:nth-child(5) th');
            box.scrollTo(200, 120);
            const outer = box.getBoundingClientRect();
            return [head.getBoundingClientRect().top - outer.top, first.getBoundingClientRect().left - outer.left, box.scrollLeft] }"""
    )
    assert moved[2] == 200  # it did scroll
    assert abs(moved[0]) < 3 and abs(moved[1]) < 3


def shown_rows(page) -> int:
    return page.locator("#limits-table tr[data-family]:visible").count()


def test_filter_keeps_its_state_in_the_address(page, address):
    page.goto(address + "limits/")
    everything = shown_rows(page)
    page.get_by_label("discharging").check()
    page.get_by_label("Family").select_option("lithium-ion")
    some = shown_rows(page)
    assert 0 < some < everything
    assert "task=discharge" in page.url and "family=lithium-ion" in page.url
    assert page.locator(".filter-count").inner_text() == f"{some} limits shown"
    page.goto(page.url)  # sent to someone else
    assert shown_rows(page) == some
    assert page.get_by_label("discharging").is_checked()
    assert page.locator("#limits-table tbody:visible", has_text="Maximum charge voltage").count() == 0


def test_filter_bears_any_address(page, address):
    for query in ("?task=nonsense&family=%3Cscript%3E", "?task=&family=", "?family=lithium-ion&family=x"):
        page.goto(address + "limits/" + query)
        assert shown_rows(page) > 0, query


def test_everything_is_there_without_scripts(without_scripts, address, library):
    page = without_scripts
    page.goto(address + "limits/")
    assert page.locator("#limits-table tr[data-family]:visible").count() > 20
    assert not page.locator("form.filter").is_visible()
    page.goto(address + "chemistries/lfp/")
    assert page.locator("dl.strip").is_visible() and page.locator("svg.ruler").first.is_visible()
    first = page.locator("details.evidence").first
    first.locator("summary").click()
    assert first.locator("li").first.is_visible()
    page.goto(address)
    assert page.locator("form[action='labels/'] input[name='v']").is_visible()


@pytest.mark.parametrize(("scheme", "expected"), (("light", "default"), ("dark", "slate")))
def test_palette_follows_the_system_and_the_switch_is_remembered(opened, address, scheme, expected):
    page = opened(color_scheme=scheme)
    page.goto(address)
    shown = "document.body.getAttribute('data-md-color-scheme')"
    assert page.evaluate(shown) == expected
    page.locator("form[data-md-component=palette] label:visible").click()
    until(page, f"{shown} !== '{expected}'")
    page.goto(address + "about/")
    assert page.evaluate(shown) != expected


def test_search_fetches_its_index_only_when_asked(page, address):
    asked = []
    page.on("request", lambda request: asked.append(request.url) if "search_index" in request.url else None)
    page.goto(address + "about/", wait_until="networkidle")  # half a second without a request
    assert asked == []
    page.locator("label[for=__search]").first.click()
    page.locator("input.md-search__input").fill("iron phosphate")
    found = page.locator(".md-search-result__item h1", has_text="iron phosphate").first
    found.wait_for()
    assert found.is_visible() and len(asked) == 1


def test_skip_link_is_the_first_stop(page, address):
    page.goto(address + "chemistries/lfp/")
    page.keyboard.press("Tab")
    assert page.evaluate("document.activeElement.classList.contains('md-skip')")


def test_every_tag_leads_to_a_row_of_the_page(page, address):
    page.goto(address + "chemistries/lfp/")
    lost = page.evaluate(
        """() => [...document.querySelectorAll('a.tag[href^="#"]')].map(a => a.getAttribute('href').slice(1))
            .filter(id => !document.getElementById(id))"""
    )
    assert lost == []


def test_reduced_motion_is_respected(page, address):
    durations = {}
    page.set_viewport_size({"width": 1350, "height": 900})
    page.goto(address + "about/")
    for wish in ("reduce", "no-preference"):
        page.emulate_media(reduced_motion=wish)
        durations[wish] = page.evaluate("getComputedStyle(document.querySelector('.md-search__inner')).transitionDuration")
    assert durations["reduce"] == "0s" != durations["no-preference"]
