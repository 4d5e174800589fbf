"""The page on 3.6 and 3.7 V, and the pages of curves, against arithmetic done here from the curves and records."""

from __future__ import annotations

import re
from collections import Counter
from html.parser import HTMLParser

import numpy as np
import pytest

from generator.build import CACHE
from generator.compute.results import compute
from generator.pages import cell_parameters, curves, nominal
from generator.pages.format import MINUS

PRINTED_BY = ("nmc", "nca", "lco", "lmo", "lmo-nmc", "lithium-ion")


class Tables(HTMLParser):
    """Rows of the tables of a page by caption."""

    def __init__(self, page: str) -> None:
        super().__init__()
        self.found: dict[str, list[list[str]]] = {}
        self._caption = self._cell = None
        self._rows: list[list[str]] = []
        self.feed(page)

    def handle_starttag(self, tag, attributes):
        if tag == "table":
            self._rows = []
        elif tag == "tr":
            self._rows.append([])
        elif tag in ("td", "th", "caption"):
            self._cell = ""

    def handle_endtag(self, tag):
        if tag == "caption":
            self._caption = self._cell
        elif tag in ("td", "th"):
            self._rows[-1].append(" ".join(self._cell.split()))
        elif tag == "table":
            self.found[self._caption] = self._rows
        if tag in ("td", "th", "caption"):
            self._cell = None

    def handle_data(self, data):
        if self._cell is not None:
            self._cell += data


@pytest.fixture(scope="module")
def results(library):
    return compute(library, CACHE)


@pytest.fixture(scope="module")
def page(library, results) -> str:
    return nominal.pages(library, results)["nominal-voltage/index.md"]


@pytest.fixture(scope="module")
def tables(page):
    return Tables(page).found


def rows_of(tables, start: str) -> list[list[str]]:
    return next(rows for caption, rows in tables.items() if caption.startswith(start))


def test_averages_are_watt_hours_over_ampere_hours_of_the_curves(results, tables):
    """Trapezium rule over each curve to its own cut-off, done here once more."""
    head, *rows = rows_of(tables, "Energy-averaged voltage")
    rates = [float(text.split()[0]) for text in head[2:-1]]
    checked = 0
    for study_row, row in zip(results.nominal.rows, rows, strict=True):
        for rate, cell in zip(rates, row[2:-1], strict=True):
            curve = results.curves[study_row.cell].curve(rate)
            if curve is None:
                assert cell == "\u2013"
                continue
            charge, volts = np.array(curve.capacity_ah), np.array(curve.voltage_v)
            energy_wh = (np.diff(charge) * (volts[1:] + volts[:-1]) / 2).sum()
            assert float(cell) == pytest.approx(energy_wh / charge[-1], abs=0.0025)  # 81 points of the stored curve
            checked += 1
    assert checked >= 40


def test_packs_are_the_cell_multiplied(library, tables):
    """10.8 = 3 x 3.6, 11.1 = 3 x 3.7, 12 = 3 x 4, 18 = 5 x 3.6, 20 = 5 x 4: common practice of the trade, no published source."""
    full = library.chemistries["nmc"].volts("charge-voltage-max")
    rows = {int(row[0].removesuffix("S")): [float(cell) for cell in row[1:]] for row in rows_of(tables, "Volts of a pack")[1:]}
    assert rows[3] == [10.8, 11.1, 12.0, pytest.approx(3 * full)]
    assert rows[5] == [18.0, 18.5, 20.0, pytest.approx(5 * full)]
    for series, volts in rows.items():
        assert volts == pytest.approx([series * v for v in (3.6, 3.7, 4.0, full)], abs=0.05)


def test_printed_figures_are_counted_from_the_records(library, tables, page):
    values = [value for id in PRINTED_BY for value in (library.chemistries.get(id) or library.practices[id]).values_of("nominal-voltage", "standard")]
    printed = {(value.typical, value.source or value.id, value.grade) for value in values if value.typical is not None}  # a publication once
    counts = Counter(volts for volts, _, _ in printed)
    rows = {row[0]: int(row[1]) for row in rows_of(tables, "Printed nominal voltage")[1:]}
    for volts, count in counts.items():
        text = f"{volts:.3f}".removesuffix("0")
        assert rows[f"{text} V"] == count
    sourced = sum(volts == 3.6 and grade != "recalled" for volts, _, grade in printed)
    assert f"{sourced} print 3.60 V" in page


def test_cut_off_table_against_own_arithmetic(results, tables):
    """Cut each curve at 3.0 V and average again."""
    head, *rows = rows_of(tables, "Stopping at 3.0 V")
    for effect, row in zip(results.nominal.cutoffs, rows, strict=True):
        curve = results.curves[effect.cell].curve(effect.c_rate)
        charge, volts = np.array(curve.capacity_ah), np.array(curve.voltage_v)
        end = np.interp(-3.0, -volts, charge)
        kept = charge < end
        charge, volts = np.append(charge[kept], end), np.append(volts[kept], 3.0)
        average = (np.diff(charge) * (volts[1:] + volts[:-1]) / 2).sum() / end
        assert float(row[4]) == pytest.approx(average, abs=0.003)
        assert float(row[5]) == pytest.approx(100 * (1 - end / curve.capacity_ah[-1]), abs=0.3)
        assert float(row[4]) > float(row[3])


def test_the_answer_names_the_spread_of_the_table(results, tables, page):
    column = rows_of(tables, "Energy-averaged voltage")[0].index("0.2 C")
    rows = rows_of(tables, "Energy-averaged voltage")[1:]
    slow = [float(row[column]) for row, study in zip(rows, results.nominal.rows, strict=True) if study.layered]
    lede = re.search(r'<p class="lede answer">(.*?)</p>', page).group(1)
    assert f"average {min(slow):.2f} to {max(slow):.2f} V at 0.2 C" in lede
    assert f"the slow average of {sum(round(v, 1) == 3.7 for v in slow)} of them" in lede
    assert lede.count(". ") + 1 == 3  # three sentences


def test_every_printed_figure_has_its_tag(page):
    for id in ("nmc.nominal-voltage.lg-m50t-spec", "nmc.nominal-voltage.lg-m50lt-spec", "lithium-ion.remark.nominal-is-approximate"):
        assert f'data-id="{id}"' in page
    assert "3.63" in page and "3.69" in page


# Pages of curves -------------------------------------------------------------------------------------------------


@pytest.fixture(scope="module")
def curve_pages(library, results):
    return curves.pages(library, results)


def test_every_published_cell_has_a_page(library, curve_pages):
    assert set(curve_pages) == {"curves/index.md", *(f"curves/{id}/index.md" for id in library.cells)}


def test_numbers_of_a_page_are_those_of_its_curves(results, curve_pages):
    head, *rows = rows_of(Tables(curve_pages["curves/chen-2020/index.md"]).found, "Volts per cell at 25")
    column = head.index("1 C")
    curve, whole = results.curves["chen-2020"].curve(1.0), results.curves["chen-2020"].reference_ah
    for row in rows[:-2]:
        charge = float(row[0].removesuffix("%").strip()) / 100 * whole
        if row[column] == "\u2013":
            assert charge > curve.capacity_ah[-1]
        else:
            assert float(row[column]) == pytest.approx(np.interp(charge, curve.capacity_ah, curve.voltage_v), abs=6e-4)


def test_pages_say_what_is_weak_where_it_holds_and_who_published(library, results, curve_pages):
    from markupsafe import escape

    for id, cell in library.cells.items():
        text = curve_pages[f"curves/{id}/index.md"]
        assert str(escape(cell.weakness)) in text
        assert f"sources/{cell.source}/" in text
        if id in results.curves:
            assert f"Shown up to {max(c.c_rate for c in results.curves[id].curves):g} C" in text
            assert f"data/v1/curves/{id}.csv" in text


def test_a_half_cell_is_never_called_a_cell_voltage(curve_pages):
    for id in ("lmo-open-circuit", "lto-open-circuit", "nimh-open-circuit"):
        assert "not the voltage of a cell" in curve_pages[f"curves/{id}/index.md"]


def test_stops_are_told(results, curve_pages):
    told = 0
    for id, found in results.curves.items():
        for curve in found.curves:
            share = 100 * curve.capacity_ah[-1] / found.reference_ah
            where = f"{curve.c_rate:g} C at {curve.temperature_c:g} \u00b0C (at {share:.0f} % and {curve.voltage_v[-1]:.2f} V)".replace("-", MINUS)
            early = curve.stopped_because != "cutoff-voltage"
            assert (where in curve_pages[f"curves/{id}/index.md"]) == early
            told += early
    assert told >= 5


@pytest.mark.parametrize(
    ("value", "shown"),
    [(3.3e-14, "3.3 \u00d7 10\u207b\u00b9\u2074"), (0.25, "0.25"), (63104.0, "63\u202f104"), (0.0, "0"), (-1e-4, f"{MINUS}1 \u00d7 10\u207b\u2074")],
)
def test_parameters_are_printed_as_readers_write_them(value, shown):
    assert cell_parameters.scientific(value) == shown


def test_parameters_carry_source_and_grade(library):
    parts = cell_parameters.parts(library.cells["chen-2020"].data)
    rows = {(part.title, row.name): row for part in parts for row in part.rows}
    thickness = rows["Negative electrode", "thickness"]
    assert (thickness.shown, thickness.source, thickness.grade) == ("85.2 \u00b5m", "chen-2020", "reported")
    assert rows["Positive electrode", "diffusivity"].shown == "4 \u00d7 10\u207b\u00b9\u2075 m\u00b2/s"
    assert rows["Electrolyte", "diffusivity"].source == "nyman-2008"


def test_a_hostile_cell_file_never_becomes_markup(library, results):
    from dataclasses import replace

    hostile = "<script>alert(1)</script> & \"q\" ]( **b** | {x}"
    cell = replace(library.cells["chen-2020"], name=hostile, description=hostile, weakness=hostile, rate_note=hostile, temperature_note=hostile)
    other = replace(library, cells={**library.cells, "chen-2020": cell})
    for path, text in curves.pages(other, results).items():
        front, body = re.match(r"(?s)---\n(.*?)\n---\n(.*)", text).groups()
        assert "<script>alert" not in body, path
        if path == "curves/chen-2020/index.md":
            assert "&lt;script&gt;alert(1)&lt;/script&gt;" in body
