"""The worksheet in a real browser: the shared vectors, a shared link, refusals that keep what was typed, no scripts."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

pytestmark = pytest.mark.browser
VECTORS = Path(__file__).parents[1] / "vectors" / "worksheet.json"

COMPARE = """
async ([file, names]) => {
  const { readInputs, sheet } = await import(new URL("../../assets/worksheet.js", location.href).href);
  const wrong = [];
  let worst = 0;
  for (const [raw, refused, numbers, model, stop, exceeded] of file.packs) {
    const [inputs, refusals] = readInputs(file.data, raw);
    if (!inputs) {
      if (JSON.stringify(refusals.map((r) => r.sentence)) !== JSON.stringify(refused)) wrong.push([raw, refusals]);
      continue;
    }
    const made = sheet(inputs, file.tables[inputs.cell], file.data);
    names.forEach((name, k) => {
      const [a, b] = [made.numbers[name], numbers[k]];
      if ((a === null) !== (b === null) || a === undefined) wrong.push([raw, name, a, b]);
      else if (a !== b) worst = Math.max(worst, Math.abs(a - b) / Math.abs(b));
    });
    const codes = made.exceeded.map((e) => e.code).join();
    if (codes !== exceeded.map((e) => e[0]).join() || made.stop !== stop || made.model !== model) wrong.push([raw, codes, made.stop]);
  }
  return { worst, wrong: wrong.slice(0, 5), count: file.packs.length };
}
"""


def test_page_and_python_agree_on_a_thousand_packs(page, address):
    page.goto(f"{address}building/worksheet/")
    file = json.loads(VECTORS.read_text("utf-8"))
    found = page.evaluate(COMPARE, [file, file["names"]])
    assert found["count"] == 1000 and found["wrong"] == [] and found["worst"] <= 1e-9


def test_a_link_reproduces_the_sheet(page, address):
    page.goto(f"{address}building/worksheet/?chemistry=nmc&series=10&parallel=4&capacity_ah=2.5&load_kind=a&load=5&ambient_c=25")
    page.locator("#worksheet-name", has_text="10S4P").wait_for()
    assert page.locator("[data-n=full_v]").inner_text() == "42.00"
    assert page.locator("[data-n=energy_wh]").inner_text() == "360"
    assert "160" in page.locator("#worksheet-exceeded").inner_text()
    assert "No passenger may carry it" in page.locator("#worksheet-transport").inner_text()
    assert page.locator("#worksheet [name=capacity_ah]").input_value() == "2.5"


def test_typing_writes_the_link(page, address):
    page.goto(f"{address}building/worksheet/")
    page.fill("[name=series]", "8")
    page.click("#worksheet button")
    page.locator("#worksheet-name", has_text="8S2P").wait_for()
    assert "series=8" in page.url and page.locator("[data-n=full_v]").inner_text() == "29.20"


BAD_INPUT = (("series", "0", "outside 1 to 200"), ("parallel", "1000000", "outside 1 to 200"), ("capacity_ah", "two", "is not a number"), ("load", "", "is empty"))


def test_bad_input_is_a_sentence_and_stays_typed(page, address):
    page.goto(f"{address}building/worksheet/")
    for field, text, words in BAD_INPUT:
        good = page.locator(f"#worksheet [name={field}]").input_value()
        page.fill(f"[name={field}]", text)
        page.click("#worksheet button")
        page.locator(f"#e-{field}", has_text=words).wait_for()
        assert page.locator(f"#worksheet [name={field}]").input_value() == text
        assert page.locator("#worksheet-answer").is_hidden()
        page.fill(f"[name={field}]", good)
        page.click("#worksheet button")
        page.locator("#worksheet-answer").wait_for()  # each starts from a sheet that can be used


def test_a_tampered_link_is_answered_in_words(page, address):
    for link in ("chemistry=<script>&series=4", "chemistry=lfp&cell=../../x", "load_kind=x", "series=%00&__proto__=1", "chemistry=constructor"):
        page.goto(f"{address}building/worksheet/?{link}")
        page.locator("#worksheet-status", has_text="cannot be used").wait_for()


def test_without_scripts_the_example_stands(without_scripts, address):
    without_scripts.goto(f"{address}building/worksheet/")
    assert without_scripts.locator("[data-n=full_v]").inner_text() == "14.60"


def test_conductor_tool_computes_what_python_does(page, address, library):
    """Strip and wire: rise and resistance of the page's script against generator/compute/conductor.py."""
    from generator.compute.conductor import metals, resistance_ohm, rise_k, wire_area_mm2

    page.goto(f"{address}building/interconnects/")
    for metal in metals(library.practices["conductors"]).values():
        for width, thickness, ampere, ambient in ((8.0, 0.15, 5.0, 25.0), (2.0, None, 12.0, 0.0), (5.0, 0.1, 400.0, 25.0)):
            call = "async ([m, x]) => (await import(new URL('../../assets/interconnects.js', location.href).href)).conductor(m, 10, x)"
            inputs = {"width": width, "thickness": thickness, "length": 50, "count": 2, "current": ampere, "ambient": ambient}
            found = page.evaluate(call, [{"rho": metal.resistivity_ohm_m, "alpha": metal.coefficient_1_k}, inputs])
            area = wire_area_mm2(width) if thickness is None else width * thickness
            perimeter = 3.141592653589793 * width if thickness is None else 2 * (width + thickness)
            rise = rise_k(metal, area, perimeter, ampere / 2, ambient)
            assert (found["rise"] is None) == (rise is None)
            if rise is not None:
                assert found["rise"] == pytest.approx(rise, rel=1e-9)
                assert found["ohm"] == pytest.approx(resistance_ohm(metal, area, 0.05, ambient + rise) / 2, rel=1e-9)


def test_conductor_tool_refuses_in_words(page, address):
    page.goto(f"{address}building/interconnects/")
    page.fill("#conductor [name=width]", "wide")
    page.click("#conductor button")
    assert "'wide' is not a number" in page.locator("#conductor .said").inner_text()


def test_equipment_link_is_answered(page, address):
    page.goto(f"{address}building/equipment/?least=10.5&nominal=12&most=15")
    page.wait_for_selector("#equipment-answer table")
    text = page.locator("#equipment-answer table").inner_text()
    assert "6 \u00d7 AGM" in text and "too high when full" in text
    page.fill("#equipment [name=most]", "3")
    page.click("#equipment button")
    assert "must lie below" in page.locator("#equipment-answer").inner_text()


def test_a_printed_bench_card_is_one_page(page, address):
    page.goto(f"{address}building/bench-card/lfp/")
    assert page.pdf(format="A4").count(b"/Type /Page\n") == 1
    assert page.pdf(format="Letter").count(b"/Type /Page\n") == 1
