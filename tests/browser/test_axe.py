"""axe finds nothing on any template: two palettes, a phone and a desk.

Rules: axe-core as packed by axe-playwright-python, all of its default rules (WCAG 2.x A and AA and best practices).
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
RUN = """() => axe.run(document, {resultTypes: ['violations']}).then((found) => found.violations.flatMap((v) =>
  v.nodes.slice(0, 3).map((n) => `${v.id}: ${n.html.slice(0, 120)} (${n.any.concat(n.all, n.none)[0]?.message ?? ''})`)))"""


# `make test` looks at each template once, palettes and widths taking turns; AXE_FULL=1 looks at all four combinations.
COMBINATIONS = [(palette, width) for palette in PALETTES for width in WIDTHS]
FULL = os.environ.get("AXE_FULL") == "1"
CASES = [(path, *c) for i, path in enumerate(PAGES) for c in (COMBINATIONS if FULL else (COMBINATIONS[i % len(COMBINATIONS)],))]


@pytest.mark.parametrize(("path", "palette", "width"), CASES, ids=lambda part: str(part) or "start")
def test_axe_finds_nothing(browser, address, path, palette, width):
    context = browser.new_context(bypass_csp=True, color_scheme=palette, reduced_motion="reduce", viewport={"width": width, "height": 740})
    page = context.new_page()
    try:
        page.goto(address + path)
        assert page.evaluate("document.body.getAttribute('data-md-color-scheme')") == PALETTES[palette]
        page.evaluate(OPEN_AND_SHORTEN)
        page.evaluate(AXE.read_text("utf-8"))
        assert page.evaluate(RUN) == [], f"at {width} px, {palette}"
    finally:
        context.close()
