"""Lead-acid tables against makers' own figures and a measured battery."""

from __future__ import annotations

import pytest

from generator.compute import lead_acid_tables as lead
from generator.compute.span import Span, hull


# Narada, operation manual for Acme series V4.2, p. 19, table 3-2: float of a 12 V block by temperature, -18 mV/K for six cells.
NARADA = {5: 13.86, 10: 13.77, 15: 13.68, 20: 13.59, 25: 13.50, 30: 13.41, 35: 13.32, 40: 13.23}


@pytest.mark.parametrize(("temperature_c", "block_v"), NARADA.items())
def test_float_voltages_of_a_makers_table(temperature_c, block_v):
    assert 6 * lead.at_temperature(13.5 / 6, 25.0, -3.0, temperature_c) == pytest.approx(block_v, abs=0.005)


def test_worked_example_of_a_controllers_manual():
    # Midnite Solar, DIY manual 10-543-1, p. 50: 24 V battery (12 cells) at 10 degC with -5 mV a cell: 0.9 V above the set 14.8 V.
    assert 14.8 + 12 * (lead.at_temperature(2.0, 25.0, -5.0, 10.0) - 2.0) == pytest.approx(15.7)


def test_worked_example_of_a_battery_maker():
    # Trojan Battery, answers on temperature: 14.60 V at 80 degF becomes 14.60 + 6 * 0.028 = 14.77 V at 70 degF (5.04 mV/K).
    kelvin = 10 / 1.8
    assert 6 * lead.at_temperature(14.60 / 6, 0.0, -28.0 / kelvin, -kelvin) == pytest.approx(14.77, abs=0.005)


def test_no_change_at_the_reference():
    assert lead.at_temperature(2.4, 25.0, -5.0, 25.0) == 2.4


def test_compensated_spans_err_on_neither_side(library):
    agm = library.chemistries["lead-acid-agm"]
    absorption = next(c for c in lead.compensated(agm) if c.stated.quantity.id == "absorption-voltage")
    weak, strong = absorption.coefficient.max, absorption.coefficient.min
    cold = absorption.at(absorption.reference_c - 10)
    middle = absorption.stated.typical
    assert cold == Span(round(middle - weak / 100, 3), round(middle - strong / 100, 3))
    assert absorption.at(absorption.reference_c) == Span(middle, middle)


@pytest.mark.parametrize("id", ["lead-acid-flooded", "lead-acid-agm", "lead-acid-gel"])
def test_tables_of_every_kind(library, id):
    subject = library.chemistries[id]
    packs = lead.block_table(subject)
    assert {3, 6, 12, 24} <= {line.cells for line in packs.lines}
    nominal = [column.name for column in packs.columns].index("Nominal")
    assert {line.cells: line.volts[nominal].low for line in packs.lines if line.cells in (3, 6, 12, 24)} == {3: 6.0, 6: 12.0, 12: 24.0, 24: 48.0}
    lines = lead.temperature_table(subject)
    assert [lines[0].temperature_c, lines[-1].temperature_c] == [-20, 50]
    for before, after in zip(lines, lines[1:], strict=False):
        assert all(a.high < b.high and a.low < b.low for a, b in zip(after.volts, before.volts, strict=True)), "warmer means lower"


def test_lines_outside_the_charging_temperatures_are_marked(library):
    subject = library.chemistries["lead-acid-agm"]
    window = subject.figure("charge-temperature")
    for line in lead.temperature_table(subject):
        assert line.outside == (line.temperature_c < window.min or line.temperature_c > window.max)


def test_gravity_rule_against_the_handbook_example():
    # DOE-HDBK-1084-95, p. 18: a cell that is full at 1.285 rests at 2.13 V.
    assert lead.resting_voltage_v(1.285) == pytest.approx(2.13, abs=0.001)


# BCI state-of-charge table: gravity and resting voltage of the same battery at 27 degC.
BCI = {100: (1.265, 12.65), 75: (1.225, 12.45), 50: (1.190, 12.24), 25: (1.155, 12.06), 0: (1.120, 11.89)}


@pytest.mark.parametrize(("soc", "pair"), BCI.items())
def test_gravity_rule_against_the_bci_table(soc, pair):
    gravity, block_v = pair
    assert 6 * lead.resting_voltage_v(gravity) == pytest.approx(block_v, abs=0.12)


@pytest.mark.parametrize(("soc", "pair"), BCI.items())
def test_stated_series_is_the_bci_table(library, soc, pair):
    series = {s.source: s for s in lead.charge_series(library.chemistries["lead-acid-flooded"], "open-circuit-voltage")}
    assert series["bci-soc-table"].block_v(soc) == pytest.approx(pair[1], abs=0.005)


def test_measured_resting_voltages_agree_with_the_data_file(library):
    # NREL ADVISOR, ESS_PB25.m, tests at Virginia Tech: a 26 Ah sealed block at 0, 50 and 100 % charge.
    series = {s.source: s for s in lead.charge_series(library.chemistries["lead-acid-agm"], "open-circuit-voltage")}
    measured = series["nrel-advisor-ess"]
    for soc, block_v in ((0, 11.70), (50, 12.37), (100, 12.89)):
        assert measured.block_v(soc) == pytest.approx(block_v, abs=0.01)


def test_resting_voltage_rises_with_charge(library):
    for id in ("lead-acid-agm", "lead-acid-flooded"):
        for quantity in ("open-circuit-voltage", "specific-gravity"):
            for series in lead.charge_series(library.chemistries[id], quantity):
                volts = [series.by_charge[soc].typical for soc in sorted(series.by_charge)]
                assert volts == sorted(volts)


def test_frost_starts_with_the_weakest_acid(library):
    found = list(lead.frost(library.practices["lead-acid"].values))
    assert found[0].typical > -5 and found[-1].typical < -60
    # Freezing points of sulphuric acid (Linden, Handbook of Batteries, table of electrolyte; recalled): 1.100 -7, 1.200 -27 degC.
    at = {v.condition.note: v.typical for v in found}
    assert at["specific gravity 1.200"] == pytest.approx(-27, abs=1)
    assert at["specific gravity 1.100"] == pytest.approx(-7, abs=1)


def test_hull():
    assert hull([None, 2.0, 1.0]) == Span(1.0, 2.0)
    assert hull([None]) is None
