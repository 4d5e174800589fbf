"""The building pages in a real browser, on a phone: tools answer, refuse in words, and pages stand without scripts."""

from __future__ import annotations

import json
import re

import pytest
from playwright.sync_api import expect

from generator.build import ROOT
from generator.compute.match import match_cells
from generator.compute.measurements import read_measurements
from generator.compute.sample_cells import SAMPLE

pytestmark = pytest.mark.browser
TOPICS = ("taking-apart", "board", "triage", "testing", "sorting", "strings", "worth")


def said(page, form):
    return page.locator(f"#{form} .said").inner_text()


def submit(page, form):
    page.click(f"#{form} button[type=submit]")


def test_sorting_the_sample(page, address):
    page.goto(f"{address}building/sorting/")
    page.click("#sorting-sample")
    submit(page, "sorting-tool")
    cells, _ = read_measurements(SAMPLE.splitlines())
    wanted = match_cells(cells, 3, 4, 2.1)
    rows = page.locator("#sorting-tool table").first.locator("tbody tr")
    assert [rows.nth(k).locator("td").last.inner_text() for k in range(rows.count())] == [", ".join(group.cells) for group in wanted.groups]
    assert "Proven the best possible" in said(page, "sorting-tool")
    assert "recycle it, do not charge it" in said(page, "sorting-tool")
    with page.expect_download() as download:
        page.click("text=Download the result as JSON")
    data = json.loads(download.value.path().read_text("utf-8"))
    assert data["usable_capacity_mah"] == wanted.usable_capacity_mah


def test_sorting_a_file_from_the_device(page, address):
    page.goto(f"{address}building/sorting/")
    page.set_input_files("#sorting-file", str(ROOT / "docs" / "assets" / "sample-cells.csv"))
    expect(page.locator("#sorting-cells")).to_have_value(re.compile(r".{100,}", re.DOTALL))
    submit(page, "sorting-tool")
    assert "3S4P gives" in said(page, "sorting-tool")


REFUSED = (
    ("", "Line 1, column 1: The table is empty."),
    ("cell,capacity_mah\na,2500\nb,2.5", "Line 3, column 3: capacity_mah is 2.5"),
    ("cell,capacity_mah\na,2500\na,2500", "The cell 'a' was already in line 2."),
    ("cell,capacity_mah\na,2500", "3S4P needs 12 cells, but only 1 may be used."),
    ("cell,capacity_mah\n<img src=x onerror=alert(1)>,x", "not a number"),
)


def test_sorting_refuses_in_words_and_keeps_what_was_typed(page, address):
    page.goto(f"{address}building/sorting/")
    for text, answer in REFUSED:
        page.fill("#sorting-cells", text)
        submit(page, "sorting-tool")
        assert answer in said(page, "sorting-tool")
        assert page.input_value("#sorting-cells") == text
        assert not page.locator("#sorting-tool .said img").count()


def test_names_never_become_markup(page, address):
    page.goto(f"{address}building/sorting/")
    page.fill("#sorting-cells", "cell,capacity_mah\n" + "\n".join(f"<b>{k}</b>,25{k:02d}" for k in range(12)))
    submit(page, "sorting-tool")
    assert "<b>11</b>" in said(page, "sorting-tool") and not page.locator("#sorting-tool .said b").count()


def test_taps(page, address):
    page.goto(f"{address}building/taking-apart/")
    page.fill("#taps-readings", "1.10 2.21 3.30")
    submit(page, "taps-tool")
    assert "refuse it" in said(page, "taps-tool")  # fits nickel, but is below the floor of lithium-ion
    page.fill("#taps-readings", "3.7 seven")
    submit(page, "taps-tool")
    assert said(page, "taps-tool") == 'Reading 2, "seven", is not a number in volts.'


def test_board(page, address):
    page.goto(f"{address}building/board/")
    page.fill("#marking-text", "5L00")
    submit(page, "marking-tool")
    assert said(page, "marking-tool").startswith("5 m\u03a9")
    submit(page, "trip-tool")
    assert "Trips at 30 A, somewhere between 23.8 and 36.4 A." in said(page, "trip-tool")
    page.fill("#trip-tool [name=resistance]", "0")
    submit(page, "trip-tool")
    assert "above 0 mOhm" in said(page, "trip-tool")
    submit(page, "thermistor-tool")
    assert "\u00b0C" in said(page, "thermistor-tool")


def test_strings(page, address):
    page.goto(f"{address}building/strings/")
    submit(page, "string-tool")
    assert "ends the discharge" in said(page, "string-tool")
    assert page.locator("#string-plot-own").get_attribute("d").startswith("M")
    page.fill("#string-tool [name=leakage]", "1 2 3")
    submit(page, "string-tool")
    assert "give one for all, or one a cell" in said(page, "string-tool")


def test_worth(page, address):
    page.goto(f"{address}building/worth/")
    submit(page, "worth-tool")
    assert "7 good cells" in said(page, "worth-tool")
    page.fill("#worth-tool [name=rejects]", "10")
    submit(page, "worth-tool")
    assert "at least one good cell must remain" in said(page, "worth-tool")


@pytest.mark.parametrize("topic", TOPICS)
def test_pages_stand_without_scripts(without_scripts, address, topic):
    page = without_scripts
    page.goto(f"{address}building/{topic}/")
    assert page.locator("table.data, .remarks, ul").first.is_visible()
    assert not page.locator("form.tool").filter(visible=True).count()  # no dead controls
    assert page.locator(".answer").count() and page.locator(".caution").first.is_visible()


def test_the_section_lists_its_topics(page, address):
    page.goto(f"{address}building/")
    for topic in TOPICS:
        assert page.locator(f'.topics a[href$="building/{topic}/"]').count() == 1
