"""Strip and wire against printed tables and worked examples."""

from __future__ import annotations

import pytest

from generator.compute.conductor import (
    MM2_PER_CIRCULAR_MIL,
    adiabatic_a,
    awg_diameter_mm,
    current_for_rise_a,
    metals,
    onderdonk_a,
    preece_a,
    resistance_ohm,
    rise_k,
    wire_area_mm2,
)


@pytest.fixture(scope="module")
def metal(library):
    return metals(library.practices["conductors"])


# A published wire table (daycounter.com, American wire gauge): gauge, diameter mm, area mm2, ohm per metre of copper.
TABLE = (
    (10, 2.59, 5.26, 0.00328),
    (12, 2.05, 3.31, 0.00521),
    (14, 1.63, 2.08, 0.00829),
    (16, 1.29, 1.31, 0.0132),
    (18, 1.02, 0.823, 0.0210),
    (20, 0.812, 0.518, 0.0333),
    (22, 0.644, 0.326, 0.0530),
    (24, 0.511, 0.205, 0.0842),
    (26, 0.405, 0.129, 0.134),
    (28, 0.321, 0.0810, 0.213),
    (30, 0.255, 0.0509, 0.339),
)


@pytest.mark.parametrize(("gauge", "diameter", "area", "ohm"), TABLE)
def test_wire_gauges_are_those_of_the_table(metal, gauge, diameter, area, ohm):
    assert awg_diameter_mm(gauge) == pytest.approx(diameter, rel=4e-3)
    assert wire_area_mm2(awg_diameter_mm(gauge)) == pytest.approx(area, rel=4e-3)
    assert resistance_ohm(metal["copper"], area, 1.0) == pytest.approx(ohm, rel=6e-3)


def test_fixed_points_of_the_standard():
    """ASTM B258: 36 AWG is 0.0050 inch, 4/0 (gauge -3) is 0.4600 inch; the step is the 39th root of 92."""
    assert awg_diameter_mm(36) == pytest.approx(0.0050 * 25.4)
    assert awg_diameter_mm(-3) == pytest.approx(0.4600 * 25.4)
    assert awg_diameter_mm(20) / awg_diameter_mm(21) == pytest.approx(1.1229322)


@pytest.mark.parametrize(("inch", "ampere"), [(0.0062, 5), (0.0098, 10), (0.0156, 20), (0.0288, 50)])
def test_preece_gives_the_printed_currents(metal, inch, ampere):
    """W. H. Preece's table for copper as reprinted by Ness Engineering: diameters to four decimals of an inch."""
    assert preece_a(metal["copper"], inch * 25.4) == pytest.approx(ampere, rel=0.015)


def test_preece_gives_no_constant_for_nickel(metal):
    assert preece_a(metal["nickel"], 1.0) is None


def test_onderdonk_worked_example():
    """2581 circular mils, 5 s, 25 degC: 169 A by the form with 33 in the denominator and 234 + Ta; 0.0297 is 1/33.67."""
    assert onderdonk_a(2581 * MM2_PER_CIRCULAR_MIL, 5.0, 25.0) == pytest.approx(169.0, rel=0.015)


def test_first_principles_agree_with_onderdonk_for_copper(metal):
    for seconds in (0.1, 1.0, 5.0):
        assert adiabatic_a(metal["copper"], 1.0, seconds, 25.0) == pytest.approx(onderdonk_a(1.0, seconds, 25.0), rel=0.03)


def test_nickel_strip_example(metal):
    """6.93e-8 ohm m x 20 mm / (8 x 0.15 mm2) = 1.16 mOhm (worked by hand); the stated nickel is 0.9 % higher."""
    assert resistance_ohm(metal["nickel"], 8 * 0.15, 0.020) == pytest.approx(1.155e-3, rel=0.012)


def test_rise_and_current_are_inverse(metal):
    for m in metal.values():
        ampere = current_for_rise_a(m, 1.2, 16.3, 20.0, 25.0)
        assert rise_k(m, 1.2, 16.3, ampere, 25.0) == pytest.approx(20.0)


def test_a_strip_that_runs_away_has_no_rise(metal):
    assert rise_k(metal["nickel"], 0.5, 10.2, 200.0, 25.0) is None


def test_plated_steel_has_about_twice_nickels_resistance(metal):
    ratio = metal["nickel-plated-steel"].resistivity_ohm_m / metal["nickel"].resistivity_ohm_m
    assert 1.5 <= ratio <= 2.5
