"""Pages fit each kind of cell: what a lead-acid, a nickel and a primary page show, and what they must not."""

from __future__ import annotations

import re

import html5lib
import pytest
from markdown_it import MarkdownIt

from generator.build import CACHE
from generator.compute.results import compute
from generator.pages import chemistry, comparison, standin
from tests.made_up import HOSTILE, made_up_library, made_up_results

PRIMARIES = (
    "alkaline", "zinc-carbon", "zinc-air", "silver-oxide",
    "lithium-manganese-dioxide", "lithium-iron-disulfide", "lithium-thionyl-chloride", "lithium-carbon-monofluoride",
)  # fmt: skip


@pytest.fixture(scope="module")
def results(library):
    return compute(library, CACHE)


@pytest.fixture(scope="module")
def made(library, results):
    return {path.split("/")[1]: tree(text) for path, text in chemistry.pages(library, results).items()}


@pytest.fixture(scope="module")
def stand_in(library, results):
    return tree(standin.pages(library, results)["stand-in/index.md"])


def tree(page: str):
    """The page as a browser gets it, by a Markdown engine other than the site's."""
    text = re.sub(r"\A---\n.*?\n---\n", "", page, flags=re.DOTALL)
    return html5lib.parse(MarkdownIt("commonmark").render(text), namespaceHTMLElements=False)


def text_of(node) -> str:
    return " ".join("".join(node.itertext()).split())


def table(page, caption: str):
    """Rows of the table whose caption holds some words, as lists of texts."""
    for found in page.iter("table"):
        head = found.find("caption")
        if head is not None and caption in text_of(head):
            return [[text_of(cell) for cell in row if cell.tag in ("th", "td")] for row in found.iter("tr")]
    raise AssertionError(f"no table about {caption}")


def headings(page) -> str:
    return " | ".join(text_of(node) for level in ("h2", "h3") for node in page.iter(level))


@pytest.mark.parametrize("id", PRIMARIES)
def test_a_primary_page_warns_and_never_tells_how_to_charge(made, id):
    page = made[id]
    box = next(node for node in page.iter("div") if node.get("id") == "not-rechargeable")
    assert "never charge it" in text_of(box)
    assert "caution" in box.get("class")
    assert "While charging" not in headings(page)
    assert "Charging and discharging" not in headings(page)
    head = table(page, "volts of cells in series")[0]
    assert not any("Full" in cell or "Storage" in cell or "Float" in cell for cell in head)


def test_the_box_stands_before_every_figure(library, results):
    text = chemistry.pages(library, results)["chemistries/alkaline/index.md"]
    assert text.index('id="not-rechargeable"') < text.index("## Voltages")
    for id in ("lfp", "nimh", "lead-acid-agm"):
        assert 'id="not-rechargeable"' not in chemistry.pages(library, results)[f"chemistries/{id}/index.md"]


def test_service_by_size_and_load(made):
    rows = table(made["alkaline"], "service by size and load")
    assert rows[0][:3] == ["Load", "Hours", "mAh"]
    coppertop = next(row for row in rows if "Coppertop" in row[0] and "0.025 A" in row[0])
    assert "3000" in coppertop[2].replace("\u202f", "") and "120" in coppertop[1]  # 3000 mAh at 25 mA


@pytest.mark.parametrize("id", ["lead-acid-flooded", "lead-acid-agm", "lead-acid-gel"])
def test_lead_acid_speaks_of_blocks(made, library, id):
    rows = table(made[id], "blocks and strings")
    names = [row[0].split(" V")[0] for row in rows[1:]]
    assert {"6", "12", "24", "48"} <= set(names)
    twelve = next(row for row in rows if row[0].startswith("12 V"))
    absorption = rows[0].index(next(cell for cell in rows[0] if cell.startswith("Absorption")))
    assert float(twelve[absorption]) == pytest.approx(6 * library.chemistries[id].volts("absorption-voltage"), abs=0.006)
    heat = table(made[id], "by battery temperature")
    assert heat[1][0].startswith("\u221220") and heat[-1][0].startswith("50")


def test_charging_outside_the_window_is_refused_on_the_page(made):
    rows = table(made["lead-acid-agm"], "by battery temperature")
    assert "do not charge" in rows[1][0]
    assert not any("do not charge" in row[0] for row in rows if row[0].startswith("25"))


def test_flooded_page_has_gravity_frost_and_run_times(made):
    page = made["lead-acid-flooded"]
    assert ["100 %", "1.265"] == table(page, "Specific gravity")[1][:2]
    assert table(page, "Freezing point")[1][1].startswith("\u22123")
    assert [row[0] for row in table(page, "Constant current from full")[1:]] == ["0.05 C", "0.1 C", "0.2 C", "0.5 C", "1 C"]


@pytest.mark.parametrize("id", ["nicd", "nimh"])
def test_nickel_page_explains_the_end_of_charge_and_strings(made, id):
    page = made[id]
    words = headings(page)
    assert "no voltage limit" in words and "reversal" in words
    rows = table(page, "1 to 24 cells in series")
    assert len(rows) == 25
    stop = rows[0].index(next(cell for cell in rows[0] if cell.startswith("Stop")))
    assert [rows[n][stop] for n in (6, 7, 10)] == ["6.00", "7.20", "10.80"]
    assert rows[11][stop].endswith("*")  # nobody's word beyond ten cells


def test_every_page_shows_a_curve_or_says_there_is_none(made, library, results):
    for id, page in made.items():
        assert any(node.get("id") == "curves" or "Discharge curves" in text_of(node) for node in page.iter("h2")), id
        drawn = any(node.get("id") == "curves-best" for node in page.iter("figure"))
        said = "No published model or function was found" in text_of(page)
        assert drawn != said, id


def test_electrodes_explain_the_label(made):
    assert table(made["lead-acid-agm"], "standard potentials")[3][1] == "2.05"
    assert table(made["nicd"], "standard potentials")[3][1] == "1.30"


def test_stand_in_page_answers_twelve_volts(stand_in):
    rows = table(stand_in, "What replaces what")
    twelve = next(row for row in rows if row[0].startswith("12 V lead-acid"))
    assert "3S" in twelve[1] and "never 4S" in twelve[1]
    assert "4S to 14.4 V" in twelve[2]
    text = text_of(stand_in)
    assert "16.8 V" in text and "4.80 V" in text and "15.5 V" in text


def test_stand_in_charger_marks_what_is_too_high(stand_in):
    rows = table(stand_in, "12 V lead-acid charger")
    three = rows[0].index(next(cell for cell in rows[0] if cell.startswith("3S")))
    absorption = next(row for row in rows if row[0].startswith("AGM, absorption") and "0 \u00b0C" not in row[0])
    assert absorption[three] == "4.80too high"


def test_comparison_draws_ranges_with_numbers_in_words(library, results):
    page = tree(comparison.pages(library, results)["chemistries/index.md"])
    found = {node.get("aria-labelledby", "").split("-t ")[0]: node for node in page.iter() if str(node.tag).endswith("svg")}
    assert {"range-energy", "range-rate", "range-temperature", "range-self-discharge", "range-cycles"} <= set(found)
    desc = text_of(next(node for node in found["range-cycles"].iter() if str(node.tag).endswith("desc")))
    assert "LTO" in desc and "25 000 cycles" in desc
    head = table(page, "Chemistries compared")[0]
    assert {"Specific energy", "Energy density", "Discharge rate", "Self-discharge", "Cycle life"} <= set(head)


def test_made_up_texts_never_become_markup(tmp_path):
    library = made_up_library(tmp_path / "chemistry")
    made_results = made_up_results(library)
    pages = {**chemistry.pages(library, made_results), **comparison.pages(library, made_results), **standin.pages(library, made_results)}
    for path, text in pages.items():
        parsed = tree(text)
        assert not any(node.tag == "script" and "alert" in "".join(node.itertext()) and node.get("type") is None for node in parsed.iter()), path
        assert not any("x.invalid" == (node.get("href") or "").removeprefix("http://") for node in parsed.iter("a")), path
    assert HOSTILE
