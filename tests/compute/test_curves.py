"""Curves, averages and readings against the reference library, hand arithmetic and each other."""

from __future__ import annotations

import json
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from generator.build import CACHE
from generator.cache import Cache
from generator.compute import curves as curves_module
from generator.compute.curves import Average, CellCurves, Curve, curves_of, is_computed
from generator.compute.lead_acid import discharge_lead_acid, rest_voltage
from generator.compute.lead_acid_rest import acid_after, rest_after
from generator.compute.nominal import label_packs, nominal_study
from generator.compute.open_circuit import function_curves
from generator.compute.readings import curve_resistance, volts_at, whole_percents
from generator.compute.table_cell import table_curves
from generator.model.lead_acid import lead_acid_from_data

REFERENCE = json.loads((Path(__file__).parents[1] / "reference" / "averages.json").read_text())
BAR_V = 0.003
CAPACITY_BAR = 0.005
# The library's default mesh is itself off for this set above C/5 (3 to 10 mV against its own fine mesh); the fine-mesh
# figures of the cell file are tested below at every rate they have.
COARSE = {("chayambuka-2022", 0.5), ("chayambuka-2022", 1.0)}
# Even 60 shells a particle leave the library 3 mV from its own limit here; test_porous.py has the curve at 240 shells.
UNSETTLED_V = {("chayambuka-2022", 1.0): 0.005}


@pytest.fixture(scope="module")
def computed(library):
    return {cell.id: curves_of(cell, CACHE) for cell in library.cells.values() if is_computed(cell)}


def reference_rows():
    for cell, rows in REFERENCE["cells"].items():
        for row in rows:
            if row["c_rate"] <= 1.0 and (cell, row["c_rate"]) not in COARSE:
                yield pytest.param(cell, row, id=f"{cell} {row['c_rate']:g}C")


@pytest.mark.parametrize(("cell", "row"), list(reference_rows()))
def test_averages_against_the_reference_library(library, computed, cell, row):
    curves, published = computed[cell], library.cells[cell]
    if row["c_rate"] > published.rate_max_c:
        assert curves.curve(row["c_rate"]) is None
        return
    found = curves.average(row["c_rate"], published.voltage_min_v)
    assert found.energy_averaged_v == pytest.approx(row["energy_averaged_v"], abs=BAR_V)
    assert found.midpoint_v == pytest.approx(row["midpoint_v"], abs=BAR_V + 0.002)  # on a sloping curve 0.3 % of charge is 2 mV
    assert found.capacity_ah == pytest.approx(row["capacity_ah"], rel=CAPACITY_BAR)


def test_averages_against_the_fine_mesh_figures_of_the_cell_files(library, computed):
    checked = 0
    for id, curves in computed.items():
        for row in library.cells[id].data["check_values"].get("discharges", ()):
            found = curves.average(float(row["c_rate"]), library.cells[id].voltage_min_v)
            if found is None:
                assert row["c_rate"] > library.cells[id].rate_max_c
                continue
            bar = UNSETTLED_V.get((id, found.c_rate), BAR_V)
            assert found.energy_averaged_v == pytest.approx(row["energy_averaged_v"], abs=bar), id
            assert found.capacity_ah == pytest.approx(row["capacity_ah"], rel=CAPACITY_BAR), id
            checked += 1
    assert checked >= 20


def test_nothing_is_computed_outside_what_a_set_can_speak_for(library, computed):
    for id, curves in computed.items():
        cell = library.cells[id]
        assert max(curve.c_rate for curve in curves.curves) <= cell.rate_max_c
        assert set(curves.temperatures_c()) == set(cell.temperatures_valid_c)


def test_every_curve_starts_full_and_falls_to_its_end(library, computed):
    for id, curves in computed.items():
        for curve in curves.curves:
            assert curve.capacity_ah[0] == 0.0 and all(np.diff(curve.capacity_ah) > 0), id
            assert curve.voltage_v[-1] == min(curve.voltage_v)
            if curve.stopped_because == "cutoff-voltage":
                assert curve.voltage_v[-1] == pytest.approx(library.cells[id].voltage_min_v, abs=1e-3)
            else:
                assert curve.voltage_v[-1] > library.cells[id].voltage_min_v


def test_a_higher_rate_never_averages_more(computed):
    for curves in computed.values():
        cutoff = min(a.cutoff_v for a in curves.averages)
        row = [a.energy_averaged_v for a in curves.averages if a.temperature_c == 25.0 and a.cutoff_v == cutoff]
        assert row == sorted(row, reverse=True), curves.cell


# Cache -----------------------------------------------------------------------------------------------------------


class _Counting:
    """Stands in for the slow computation and counts how often it was asked."""

    def __init__(self, result: CellCurves) -> None:
        self.count, self.result = 0, result

    def __call__(self, cell) -> CellCurves:
        self.count += 1
        return self.result


@pytest.fixture
def counted(library, computed, monkeypatch):
    counting = _Counting(computed["chen-2020"])
    monkeypatch.setattr(curves_module, "_compute", counting)
    return library.cells["chen-2020"], counting


def test_a_kept_result_is_used_and_is_the_same(counted, tmp_path):
    cell, counting = counted
    first, second = (curves_of(cell, Cache(tmp_path)) for _ in range(2))
    assert counting.count == 1
    assert first == second == counting.result


@pytest.mark.parametrize("damage", [lambda raw: raw[:-5], lambda raw: raw.replace(b"3", b"4"), lambda raw: b"", lambda raw: b"\0" * len(raw)])
def test_a_damaged_entry_is_computed_again(counted, tmp_path, damage):
    cell, counting = counted
    curves_of(cell, Cache(tmp_path))
    (entry,) = tmp_path.iterdir()
    entry.write_bytes(damage(entry.read_bytes()))
    assert curves_of(cell, Cache(tmp_path)) == counting.result
    assert counting.count == 2
    assert curves_of(cell, Cache(tmp_path)) == counting.result
    assert counting.count == 2


def test_a_stale_entry_is_computed_again(counted, tmp_path, monkeypatch):
    cell, counting = counted
    curves_of(cell, Cache(tmp_path))
    curves_of(replace(cell, data={**cell.data, "nominal_capacity_ah": 4.9}), Cache(tmp_path))
    assert counting.count == 2
    monkeypatch.setattr(curves_module, "code_digest", lambda places: "other code")
    curves_of(cell, Cache(tmp_path))
    assert counting.count == 3


# Lead-acid at rest -----------------------------------------------------------------------------------------------


@pytest.fixture(scope="module")
def lead(library):
    return lead_acid_from_data(library.cells["sulzer-2019"].data)


def test_acid_after_a_charge_by_hand(lead):
    """Volumes from molar mass over density: Pb 207.2 / 11.35, PbO2 239.2 / 9.39, PbSO4 303.3 / 6.3 g over g/cm3.

    8 pairs of 114 x 65 mm; layers 0.9, 1.5 and 1.25 mm thick with pores of 0.53, 0.92 and 0.57; one mole of acid an electron.
    """
    area = 8 * 0.114 * 0.065
    pores = 0.9e-3 * 0.53 + 1.5e-3 * 0.92 + 1.25e-3 * 0.57
    moles = 10.0 * 3600.0 / 96485.332 / area
    solids = 2 * 303.3 / 6.3 - 207.2 / 11.35 - 239.2 / 9.39  # cm3 gained for two electrons
    expected = (pores * 5650.0 - moles) / (pores - moles * solids * 1e-6 / 2)
    assert float(acid_after(lead, 10.0)) == pytest.approx(expected, rel=2e-3)


def test_rest_is_where_a_very_slow_discharge_goes(lead):
    slow = discharge_lead_acid(lead, (0.002,), 25.0)[0]
    at = np.array([2.0, 8.0, 14.0, 20.0])
    running = np.interp(at, slow.capacity_ah, slow.voltage_v)
    rest = rest_after(lead, at)
    assert (rest > running).all()
    assert (rest - running).max() < 0.012
    assert float(rest_after(lead, 0.0)) == pytest.approx(float(rest_voltage(lead, 5650.0)))


def test_more_charge_than_acid_is_refused(lead):
    with pytest.raises(ValueError, match="no acid is left"):
        rest_after(lead, 60.0)


# Tables and functions --------------------------------------------------------------------------------------------


def test_table_is_the_source_divided_by_its_cells(library):
    """ESS_PB25.m: at half charge 12.37 V and 0.0151 ohm for six cells; 0.2 C is 5 A."""
    (table,) = table_curves(library.cells["advisor-lead-26"])
    half = table.state_of_charge.index(0.5)
    assert table.open_circuit_v[half] == pytest.approx(12.37 / 6, abs=1e-6)
    assert table.loaded_v[half] == pytest.approx((12.37 - 5.0 * 0.0151) / 6, abs=1e-6)
    assert table.capacity_ah[half] == pytest.approx(12.5)
    assert table.resistance_mohm[half] == pytest.approx(15.1 / 6, abs=1e-3)


def test_spinel_function_averages_what_its_formula_does(library):
    """LiMn2O4 of Doyle et al. 1996, as published in the dualfoil program, written out once more here."""
    (curve,) = function_curves(library.cells["lmo-open-circuit"])
    y = np.array(curve.x)
    u = (
        4.19829 + 0.0565661 * np.tanh(-14.5546 * y + 8.60942) - 0.0275479 * ((0.998432 - y) ** -0.492465 - 1.90111)
        - 0.157123 * np.exp(-0.04738 * y**8) + 0.810239 * np.exp(-40.0 * (y - 0.133875))
    )  # fmt: skip
    assert curve.voltage_v == pytest.approx(u, abs=2e-6)


def test_titanate_plateau(library):
    """1.614 V inside the two-phase gap, as Yao and Viswanathan 2024 fit it."""
    (curve,) = function_curves(library.cells["lto-open-circuit"])
    flat = [v for x, v in zip(curve.x, curve.voltage_v, strict=True) if 0.15 <= x <= 0.8]
    assert len(flat) > 50
    assert flat == pytest.approx([1.6144] * len(flat), abs=5e-4)


# Readings --------------------------------------------------------------------------------------------------------

_LINE = ((0.0, 1.0, 2.0), (4.0, 3.5, 3.0))


def test_volts_at_a_share_of_charge():
    assert volts_at(50, *_LINE, 2.0) == pytest.approx(3.5)
    assert volts_at(25, *_LINE, 2.0) == pytest.approx(3.75)
    assert volts_at(100, *_LINE, 2.0) == pytest.approx(3.0)
    assert volts_at(101, *_LINE, 2.0) is None


def test_whole_percents_go_as_far_as_the_curve():
    volts = whole_percents(*_LINE, 4.0)
    assert len(volts) == 51 and volts[0] == 4.0 and volts[50] == 3.0 and volts[10] == pytest.approx(3.8)


def test_whole_percents_are_unknown_before_a_table_begins():
    volts = whole_percents((1.0, 2.0), (3.5, 3.0), 4.0)
    assert volts[24] is None and volts[25] == 3.5


def made_up(cell: str = "made-up", drop: float = 0.1) -> CellCurves:
    """Straight discharges that lose ``drop`` volts a C; invented."""
    curves = tuple(Curve(rate, 25.0, (0.0, 2.0), (4.0 - drop * rate, 3.0 - drop * rate), "cutoff-voltage", "DFN") for rate in (0.05, 0.2, 1.0))
    rows = tuple(Average(c.c_rate, 25.0, 2.5, sum(c.voltage_v) / 2, sum(c.voltage_v) / 2, 2.0) for c in curves)
    return CellCurves(cell, "nmc", 2.0, (0.0, 1.0), (4.0, 3.0), curves, rows)


def test_resistance_of_two_curves_by_hand():
    found = curve_resistance(made_up(), nominal_ah=2.0)
    assert found.volts_per_c == pytest.approx(0.1)
    assert found.mohm == pytest.approx(50.0)


def test_no_resistance_without_both_curves():
    curves = made_up()
    assert curve_resistance(replace(curves, curves=curves.curves[:2]), 2.0) is None


# 3.6 or 3.7 ------------------------------------------------------------------------------------------------------


def test_label_voltages_are_common_practice():
    """Common practice of the trade, no published source: 10.8, 11.1 and 12 V name three cells; 18 and 20 V five; 36 V ten."""
    packs = {pack.series: pack for pack in label_packs(4.2)}
    assert (packs[3].low_v, packs[3].high_v, packs[3].sold_v, packs[3].full_v) == (10.8, 11.1, 12.0, 12.6)
    assert (packs[5].low_v, packs[5].sold_v, packs[5].full_v) == (18.0, 20.0, 21.0)
    assert (packs[4].low_v, packs[4].high_v) == (14.4, 14.8)
    assert (packs[10].low_v, packs[10].high_v, packs[10].full_v) == (36.0, 37.0, 42.0)


def test_the_rate_that_meets_3_6_is_read_between_two_computed_ones(library):
    """Averages 3.7, 3.62 and 3.5 V at 0.05, 0.2 and 1 C cross 3.6 V a sixth of the way from 0.2 to 1 C."""
    cell = library.cells["chen-2020"]
    rows = tuple(Average(rate, 25.0, cell.voltage_min_v, volts, volts, 2.0) for rate, volts in ((0.05, 3.7), (0.2, 3.62), (1.0, 3.5)))
    study = nominal_study(library, {"chen-2020": replace(made_up("chen-2020"), averages=rows)})
    (row,) = study.rows
    assert row.meets_c == pytest.approx(0.2 + 0.8 / 6, abs=1e-3)
    for volts, meets in ((3.5996, 1.0), (3.6004, 1.0), (3.606, None)):  # the last rate is read to 10 mV: not by a hair either way
        end = (*rows[:2], replace(rows[2], energy_averaged_v=volts))
        (ended,) = nominal_study(library, {"chen-2020": replace(made_up("chen-2020"), averages=end)}).rows
        assert ended.meets_c == (pytest.approx(meets, abs=0.02) if meets else None)
    assert study.spread[0.2] == (3.62, 3.62)
    assert study.rounding_to(3.6, 0.2) == 1


def test_printed_figures_are_counted_as_they_stand(library):
    study = nominal_study(library, {})
    subjects = [s for s in library.subjects() if s.id in ("lco", "nca", "nmc", "lmo", "lmo-nmc", "lithium-ion")]
    values = [v for s in subjects for v in s.values if v.quantity.id == "nominal-voltage" and v.variant == "standard"]
    figures = {(v.min if v.typical is None else v.typical, v.max if v.typical is None else v.typical, v.source or v.id) for v in values}
    assert sum(len(group.values) for group in study.printed) == len(figures)


def test_every_published_cell_has_something_to_show(library):
    for cell in library.cells.values():
        assert is_computed(cell) or cell.tables or cell.functions, cell.id
