"""A first-time reader on a phone does the jobs the almanac is for; then the same pages by other means.

Taps are counted from the start page. WCAG 2.2 success criteria are named beside the checks that follow them.
"""

from __future__ import annotations

import io
import re

import pytest

from generator.cite.styles import cite
from tests.browser.conftest import DESK

pytestmark = pytest.mark.browser
LFP = "chemistries/lfp/"
LIMIT = "charge-voltage-max.standard"

# Where an element stands in the window, and whether it is what is seen there, with nothing lying over it.
PLACE = """e => { const box = e.getBoundingClientRect(), over = document.elementFromPoint(box.left + 6, box.top + Math.min(6, box.height / 2));
  return {top: Math.round(box.top), height: innerHeight, seen: e.contains(over)}; }"""
GROUND = """e => { for (let n = e; n; n = n.parentElement) {
  const colour = getComputedStyle(n).backgroundColor;
  if (colour !== 'rgba(0, 0, 0, 0)') return colour; } }"""
# What shows a reader where the focus is: an outline, or a change of colour that the style sheet makes on focus.
FOCUS = """() => { const e = document.activeElement, style = getComputedStyle(e), box = e.getBoundingClientRect();
  return {id: e.id, name: e.className + ' ' + e.textContent.trim().slice(0, 30), tag: e.tagName, data: e.dataset.id ?? '',
          shown: style.outlineStyle !== 'none' && parseFloat(style.outlineWidth) > 0, inside: box.bottom > 0 && box.top < innerHeight}; }"""


def at(page, anchor):
    return page.locator(f"[id='{anchor}']")


def assert_in_sight(page, locator) -> None:
    """The top of an element stands in the window, with nothing over it, once the page has come to rest."""
    place, before = locator.evaluate(PLACE), None
    while place != before:
        page.wait_for_timeout(50)
        before, place = place, locator.evaluate(PLACE)
    assert place["seen"] and 0 <= place["top"] < place["height"] - 30, place


def test_one_tap_to_a_charge_limit_and_three_to_a_copied_citation(page, address, library):
    page.context.grant_permissions(["clipboard-read", "clipboard-write"], origin=address.rstrip("/"))
    page.goto(address)
    page.locator(".picks a", has_text=re.compile("^LFP$")).click()
    page.wait_for_url(f"**/{LFP}#{LIMIT}")
    assert re.search(r"3\.6\d\sV", at(page, LIMIT).inner_text())
    assert_in_sight(page, at(page, LIMIT))  # no scrolling after the tap
    at(page, LIMIT).locator("a.tag").first.click()
    page.get_by_role("button", name="Plain text", exact=True).click()
    page.get_by_role("status").get_by_text("Copied as Plain text.").wait_for()
    assert page.evaluate("navigator.clipboard.readText()") == cite(library, f"lfp.{LIMIT}", "plain")


def test_every_chemistry_is_one_tap_from_its_limits(page, address, site, library):
    page.goto(address)
    links = page.locator(".picks a").evaluate_all("all => all.map(a => a.getAttribute('href'))")
    assert len(links) == len(library.chemistries)
    for link in links:
        path, anchor = link.split("#")
        assert f'id="{anchor}"' in (site / path / "index.html").read_text("utf-8"), link


def test_a_link_to_a_value_opens_and_shows_it(page, address, library):
    value = library.chemistries["lfp"].values[-1]
    page.goto(f"{address}{LFP}#{value.anchor}")
    row = at(page, value.anchor)
    row.wait_for(state="visible")
    assert row.evaluate("e => e.closest('details').open")
    assert_in_sight(page, row)  # WCAG 2.4.11
    assert row.evaluate(GROUND) != page.locator("h1").evaluate(GROUND)  # marked among its neighbours
    page.evaluate(f"location.hash = '#{LIMIT}'")  # and once more on a page that is open already
    assert_in_sight(page, at(page, LIMIT))


def test_back_returns_to_the_same_place(page, address):
    page.goto(address + LFP)
    link = page.locator("#evidence ~ * a[href*='/sources/'], a[href*='sources/']:visible").last
    link.scroll_into_view_if_needed()
    before = page.evaluate("scrollY")
    assert before > 1000
    with page.expect_navigation():
        link.evaluate("a => a.click()")
    assert "/sources/" in page.url
    page.go_back()
    page.wait_for_timeout(100)
    assert abs(page.evaluate("scrollY") - before) < 4


def test_without_scripts_every_figure_stands(without_scripts, address, library):
    page = without_scripts
    page.goto(address + LFP)
    subject = library.chemistries["lfp"]
    shown = set(page.eval_on_selector_all("[id]", "all => all.filter(e => e.checkVisibility()).map(e => e.id)"))
    assert {stated.anchor for stated in subject.stated} <= shown
    assert page.locator("table").count() == page.locator("table:visible").count() > 0
    tags = page.locator("a.tag:visible").evaluate_all("all => all.map(a => a.getAttribute('href'))")
    assert len(tags) > 20 and all(tags)  # each leads on by itself


@pytest.mark.parametrize("path", (LFP, "labels/10.8-v/", "limits/", "chemistries/", "building/worksheet/"))
def test_print_is_the_page_without_its_tools(page, address, path):
    page.goto(address + path)
    page.emulate_media(media="print")
    page.evaluate("dispatchEvent(new Event('beforeprint'))")
    assert page.locator("nav:visible, :not(th) > button:visible, [role=search]:visible, .masthead__tools:visible").count() == 0
    cut = "all => all.filter(e => e.scrollHeight > e.clientHeight + 1 && getComputedStyle(e).overflowY !== 'visible').length"
    assert page.locator("h1").is_visible() and page.eval_on_selector_all(".tw, .fits", cut) == 0
    assert page.locator("details:not([open])").count() == 0
    fading = "all => all.filter(e => getComputedStyle(e).transitionDuration !== '0s').length"
    assert page.eval_on_selector_all("main a, main code", fading) == 0  # paper takes the colours of this very moment
    tags = page.eval_on_selector_all("a.tag", "all => all.filter(a => a.checkVisibility()).map(a => [getComputedStyle(a).color, parseFloat(getComputedStyle(a).fontSize)])")
    assert all(colour in {"rgb(0, 0, 0)", "rgb(51, 51, 51)"} and size >= 8 for colour, size in tags)
    assert tags or path == "building/worksheet/"


def tab_to(page, wanted, most: int = 60) -> dict:
    """Press Tab until ``wanted(focus)`` holds; every stop on the way must be seen (WCAG 2.4.7). Return the last stop."""
    for _ in range(most):
        page.keyboard.press("Tab")
        focus = page.evaluate(FOCUS)
        assert focus["shown"] and focus["inside"], focus
        if wanted(focus):
            return focus
    raise AssertionError(f"not within {most} stops: {focus}")


def test_by_keyboard_from_the_masthead_into_a_table_and_a_citation(page, address):
    page.set_viewport_size(DESK)
    page.goto(address + "chemistries/")
    scheme = "document.body.getAttribute('data-md-color-scheme')"
    before = page.evaluate(scheme)
    tab_to(page, lambda focus: "md-skip" in focus["name"], 1)
    tab_to(page, lambda focus: focus["tag"] in {"INPUT", "LABEL"} and "search" not in focus["name"], 6)
    page.keyboard.press("Enter")
    page.wait_for_timeout(100)
    assert page.evaluate(scheme) != before
    tab_to(page, lambda focus: "search__input" in focus["name"], 6)
    page.keyboard.type("float voltage")
    page.locator(".md-search-result__item a").first.wait_for()
    page.keyboard.press("Escape")
    tab_to(page, lambda focus: focus["tag"] == "BUTTON" and "Full" in focus["name"], 150)
    page.keyboard.press("Enter")
    assert page.locator("table.sortable th[aria-sort]").inner_text().startswith("Full")
    stop = tab_to(page, lambda focus: focus["data"])
    page.keyboard.press("Enter")
    page.locator("dialog[open]").wait_for()
    page.keyboard.press("Escape")
    assert page.evaluate(FOCUS)["data"] == stop["data"]


def ink(picture: bytes) -> float:
    """Return the share of a screenshot that differs clearly from its commonest colour."""
    import numpy as np
    from matplotlib.image import imread

    pixels = (imread(io.BytesIO(picture), format="png")[..., :3].mean(axis=2) * 255).astype(int)
    ground = np.bincount(pixels.ravel()).argmax()
    return float((abs(pixels - ground) > 60).mean())


def test_forced_colours_keep_text_rulers_and_borders(opened, address):
    page = opened(forced_colors="active")
    page.goto(address + LFP)
    assert ink(page.screenshot()) > 0.02 and ink(page.locator("svg.ruler:visible").first.screenshot()) > 0.02
    line = "e => { const s = getComputedStyle(e); return s.borderBottomStyle !== 'none' && s.borderBottomColor !== getComputedStyle(document.body).backgroundColor; }"
    for selector in (".caution", "table.data td", ".entries > div"):
        assert page.locator(selector).first.evaluate(line), selector
    strokes = page.eval_on_selector_all(".ruler-mark", "all => all.map(e => getComputedStyle(e).stroke)")
    assert strokes and page.evaluate("getComputedStyle(document.body).backgroundColor") not in strokes


def test_nothing_moves_for_who_asks_for_that(page, address):
    page.emulate_media(reduced_motion="reduce")
    page.goto(address + LFP)
    assert page.evaluate("getComputedStyle(document.documentElement).scrollBehavior") == "auto"
    page.evaluate(f"location.hash = '#{LIMIT}'")
    moving = "document.getAnimations().filter(a => a.playState === 'running' && a.effect.getComputedTiming().duration > 1).length"
    assert page.evaluate(moving) == 0
