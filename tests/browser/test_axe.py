"""axe finds nothing on any template: two palettes, a phone and a desk.

Rules: axe-core as packed by axe-playwright-python, all of its default rules (WCAG 2.x A and AA and best practices).
"""

from __future__ import annotations

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


@pytest.fixture(scope="module", params=PALETTES)
def palette_page(browser, request):
    """A page in one palette, as the reader's system asks for it; transitions off, for axe measures at once."""
    context = browser.new_context(bypass_csp=True, color_scheme=request.param, reduced_motion="reduce", viewport={"width": 360, "height": 740})
    opened = context.new_page()
    yield opened, PALETTES[request.param]
    context.close()


@pytest.mark.parametrize("path", PAGES, ids=lambda path: path or "start")
def test_axe_finds_nothing(palette_page, address, path):
    page, palette = palette_page
    page.set_viewport_size({"width": WIDTHS[0], "height": 740})
    page.goto(address + path)
    assert page.evaluate("document.body.getAttribute('data-md-color-scheme')") == palette
    page.evaluate(OPEN_AND_SHORTEN)
    page.evaluate(AXE.read_text("utf-8"))
    for width in WIDTHS:
        page.set_viewport_size({"width": width, "height": 740})
        assert page.evaluate(RUN) == [], f"at {width} px, {palette}"


def test_axe_can_fail(palette_page, address):
    """The check sees a fault when there is one: a picture without a text, a word too faint to read."""
    page, _ = palette_page
    page.goto(address + "about/")
    page.evaluate("""() => { document.querySelector('h1').insertAdjacentHTML('afterend', '<img src="../assets/favicon.svg"><p id="faint">Faint</p>');
                             document.getElementById('faint').style.opacity = '0.3'; }""")
    page.evaluate(AXE.read_text("utf-8"))
    found = " ".join(page.evaluate(RUN))
    assert "image-alt" in found and "color-contrast" in found
