"""Each template in a browser: no page wider than its window, and axe finds nothing in two palettes, on a phone and a desk.

Rules: axe-core as packed by axe-playwright-python, all of its default rules (WCAG 2.x A and AA and best practices),
and the size of touch targets (WCAG 2.2, 2.5.8), which is off by default.
"""

from __future__ import annotations

import os
from pathlib import Path

import axe_playwright_python
import pytest

pytestmark = pytest.mark.browser
AXE = next(Path(axe_playwright_python.__path__[0]).rglob("axe.min.js"))
WIDTHS = (360, 1350)
PALETTES = {"light": "default", "dark": "slate"}

# One page of each template, and of the chemistry page one of each kind.
PAGES = (
    "", "404.html", "about/", "changes/", "data/", "find/", "limits/", "markings/", "nominal-voltage/", "sizes/", "stand-in/",
    "chemistries/", "chemistries/lfp/", "chemistries/lead-acid-agm/", "chemistries/nicd/", "chemistries/nizn/", "chemistries/alkaline/",
    "labels/", "labels/12-v/", "curves/", "curves/chen-2020/", "curves/sulzer-2019/", "practice/transport/",
    "sources/", "sources/ti-bq2970/", "sources/work/",
    "building/", "building/bench-card/", "building/bench-card/lfp/", "building/board/", "building/charging/", "building/equipment/",
    "building/interconnects/", "building/protection/", "building/sorting/", "building/storage/", "building/strings/",
    "building/taking-apart/", "building/testing/", "building/triage/", "building/worksheet/", "building/worth/",
)

# Folds are opened, so that what lies in them is judged too. Long runs of like rows are cut to the first few: the cost
# of the contrast rule grows faster than the page, and row 200 is made by the same line of a template as row 5.
OPEN_AND_SHORTEN = """() => {
  document.querySelectorAll('details').forEach((fold) => { fold.open = true; });
  document.querySelectorAll(':is(tbody > tr, ul > li, ol > li, dl > div):nth-child(n + 8), section > :nth-child(n + 40)')
    .forEach((row) => row.remove());
  document.querySelectorAll('article > :nth-child(n + 90)').forEach((part) => part.remove());
}"""
RUN = """() => axe.run(document, {resultTypes: ['violations'], rules: {'target-size': {enabled: true}}}).then((found) => found.violations.flatMap((v) =>
  v.nodes.slice(0, 3).map((n) => `${v.id}: ${n.html.slice(0, 120)} (${n.any.concat(n.all, n.none)[0]?.message ?? ''})`)))"""


def too_wide(page, last: int = 360) -> dict[int, int]:
    """Return by how many pixels the page runs over its window, for each width at which it does; it is left at the last."""
    over = {}
    for width in sorted((320, 360, 768, 1350), key=lambda width: width == last):  # 320: WCAG 2.2, 1.4.10
        page.set_viewport_size({"width": width, "height": 740})
        over[width] = page.evaluate("document.documentElement.scrollWidth - document.documentElement.clientWidth")
    return {width: pixels for width, pixels in over.items() if pixels > 0}


# Pages of templates above whose tables and figures differ most from the one chosen there.
OTHERS = (
    "chemistries/nmc/", "chemistries/lead-acid-flooded/", "chemistries/nimh/", "chemistries/zinc-air/", "labels/48-v/",
    "curves/okane-2022/", "curves/advisor-nimh-28/", "curves/lmo-open-circuit/",
)


@pytest.mark.parametrize("path", OTHERS)
def test_no_page_is_wider_than_its_window(page, address, path):
    page.goto(address + path)
    assert too_wide(page) == {}


# `make test` looks at each template once, palettes and widths taking turns; AXE_FULL=1 looks at all four combinations.
COMBINATIONS = [(palette, width) for palette in PALETTES for width in WIDTHS]
FULL = os.environ.get("AXE_FULL") == "1"
CASES = [(path, *c) for i, path in enumerate(PAGES) for c in (COMBINATIONS if FULL else (COMBINATIONS[i % len(COMBINATIONS)],))]


@pytest.mark.parametrize(("path", "palette", "width"), CASES, ids=lambda part: str(part) or "start")
def test_no_overflow_and_axe_finds_nothing(opened, address, path, palette, width):
    page = opened(bypass_csp=True, color_scheme=palette, reduced_motion="reduce", viewport={"width": width, "height": 740})
    page.goto(address + path)
    assert too_wide(page, width) == {}
    assert page.evaluate("document.body.getAttribute('data-md-color-scheme')") == PALETTES[palette]
    page.evaluate(OPEN_AND_SHORTEN)
    page.evaluate(AXE.read_text("utf-8"))
    assert page.evaluate(RUN) == [], f"at {width} px, {palette}"
