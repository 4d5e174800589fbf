"""The worksheet: the shared vectors, charger makers' voltages, refusals, and every limit in words."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from generator.build import CACHE
from generator.compute.cell_table import cell_tables, default_cell
from generator.compute.curves import curves_of
from generator.compute.pack_figures import pack_figures
from generator.compute.worksheet import sheet
from generator.compute.worksheet_inputs import read
from generator.compute.worksheet_limits import transport_class
from generator.compute.worksheet_rules import worksheet_rules
from generator.compute.worksheet_words import EXCEEDED, STOPS
from tests.vectors.worksheet_vectors import answer

VECTORS = Path(__file__).parents[1] / "vectors" / "worksheet.json"


@pytest.fixture(scope="module")
def made(library):
    curves = {id: curves_of(library.cells[id], CACHE) for id in ("about-energy-2022-lfp", "about-energy-2022-nmc")}
    tables = cell_tables(library, curves, {})
    defaults = {id: default_cell(library, tables, id) for id in library.chemistries}

    def make(chemistry, series, parallel=1, **texts):
        raw = {"chemistry": chemistry, "series": str(series), "parallel": str(parallel), **texts}
        inputs, refusals = read(raw, tables, defaults)
        if inputs is None:
            return refusals
        return sheet(inputs, tables[inputs.cell], pack_figures(library, chemistry), worksheet_rules(library, chemistry), bool(library.chemistries[chemistry].rechargeable))

    return make


def test_python_still_gives_the_shared_vectors():
    file = json.loads(VECTORS.read_text("utf-8"))
    assert len(file["packs"]) == 1000
    ran = 0
    for raw, refused, numbers, model, stop, exceeded in file["packs"]:
        again = answer(raw, file)
        assert again[0] == refused and again[2:4] == (model, stop), raw
        assert all(a is b is None or a == pytest.approx(b, rel=1e-9) for a, b in zip(again[1], numbers, strict=True)), raw
        assert [e[0] for e in again[4]] == [e[0] for e in exceeded], raw
        ran += stop in ("cutoff", "charge", "current")
    assert ran > 300, "most packs of the vectors should run"


# Charger makers' and pack makers' pages: hobby chargers 8.4, 12.6, 16.8, 25.2 V; a 7S e-bike charger 29.4 V, 10S 42.0 V,
# 13S 54.6 V, 14S 58.8 V; iron phosphate 4S 14.6, 6S 21.9, 8S 29.2, 16S 58.4 V; lead-acid 12 V cyclic 14.4 V at 2.40 V a cell.
CHARGERS = (
    *(("nmc", series, volts) for series, volts in ((2, 8.4), (3, 12.6), (4, 16.8), (6, 25.2), (7, 29.4), (10, 42.0), (13, 54.6), (14, 58.8))),
    *(("lfp", series, volts) for series, volts in ((4, 14.6), (6, 21.9), (8, 29.2), (16, 58.4))),
    ("lead-acid-agm", 6, 14.4),
)


@pytest.mark.parametrize(("chemistry", "series", "volts"), CHARGERS)
def test_charger_voltage_is_the_makers(made, chemistry, series, volts):
    assert made(chemistry, series).numbers["full_v"] == pytest.approx(volts)


@pytest.mark.parametrize(
    ("texts", "words"),
    [
        ({"series": "0"}, "Cells in series: 0 is outside 1 to 200"),
        ({"series": "-4"}, "Cells in series: -4 is outside"),
        ({"series": "2.5"}, "'2.5' is not a whole number"),
        ({"parallel": "1000000"}, "Cells in parallel: 1000000 is outside 1 to 200"),
        ({"capacity_ah": "two"}, "Capacity of one cell: 'two' is not a number"),
        ({"capacity_ah": "1e9"}, "'1e9' is not a number"),
        ({"load_kind": "w", "load": ""}, "Load of the whole pack is empty"),
        ({"load_kind": "hp"}, "'hp' is none of a, w, ohm"),
        ({"cell": "no-such"}, "'no-such' is no published cell"),
        ({"chemistry": "<b>"}, "'<b>' is not one of the almanac's"),
        ({"ambient_c": "9" * 300}, "..."),
    ],
)
def test_bad_input_is_answered_with_what_and_where(made, texts, words):
    raw = {"chemistry": "lfp", "series": "4"} | texts
    refusals = made(raw.pop("chemistry"), raw.pop("series"), **raw)
    assert isinstance(refusals, list) and len(refusals) == 1
    assert words in refusals[0].sentence and len(refusals[0].sentence) < 160


def test_every_limit_can_be_met_and_has_words(made):
    codes = set()
    for chemistry, series, parallel, texts in (
        ("lfp", 4, 2, {"load_kind": "w", "load": "60", "ambient_c": "-30"}),
        ("lfp", 4, 2, {"load_kind": "a", "load": "60", "current_max_a": "5"}),
        ("lfp", 20, 10, {"load_kind": "w", "load": "50000", "ambient_c": "50"}),
        ("lfp", 1, 1, {"load_kind": "w", "load": "900", "ambient_c": "25", "capacity_ah": "2"}),
        ("lfp", 4, 4, {"capacity_ah": "2.5", "ambient_c": "70"}),
        ("lfp", 4, 4, {"capacity_ah": "1.96", "ambient_c": "-5"}),
        ("alkaline", 4, 1, {"load_kind": "a", "load": "0.1", "capacity_ah": "2"}),
        ("nmc", 10, 4, {"load_kind": "a", "load": "1", "capacity_ah": "2"}),
        ("nimh", 10, 1, {"capacity_ah": "2"}),
    ):
        codes |= {limit.code for limit in made(chemistry, series, parallel, **texts).exceeded}
    assert codes == set(EXCEEDED), set(EXCEEDED) - codes
    assert set(STOPS) == {"cutoff", "charge", "current", "at-once"}


def test_limits_name_the_figure_they_rest_on(made, library):
    ids = {s.id for s in library.stated()} | {r.id for r in library.remarks()}
    found = made("nmc", 16, 10, load_kind="a", load="1000", ambient_c="-12", capacity_ah="3").exceeded
    assert {limit.id for limit in found if limit.id} <= ids and any(limit.id for limit in found)


def test_transport_limits_are_for_lithium_and_sodium_only(made):
    assert not {"small", "passenger-approval"} & {limit.code for limit in made("nimh", 10, 4, capacity_ah="10").exceeded}
    assert {"small", "passenger-approval"} <= {limit.code for limit in made("nmc", 10, 4, capacity_ah="10").exceeded}


def test_watt_hours_give_the_class(made, library):
    """49 CFR 173.185 and the FAA's limits: 96 Wh is free, 115 Wh needs approval, 360 Wh is barred and regulated."""
    rules = worksheet_rules(library, "lfp")
    for parallel, want in ((3, ("free", "small")), (4, ("approval", "regulated")), (12, ("barred", "regulated"))):
        assert transport_class(made("lfp", 4, parallel, capacity_ah="2.5").exceeded, rules)[:2] == want
    assert transport_class((), worksheet_rules(library, "nimh")) == ("other",)


def test_own_limit_governs_the_fuse(made):
    tight = made("lfp", 4, 1, capacity_ah="2", load_kind="a", load="1.8", current_max_a="2").numbers
    assert tight["fuse_a"] is None, "2.4 A of fuse would be above what the cell may give"
    assert made("lfp", 4, 1, capacity_ah="2", load_kind="a", load="1.4", current_max_a="5").numbers["fuse_a"] == 2
