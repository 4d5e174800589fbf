"""Peukert's law against makers' capacity tables, and where it must refuse."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from generator.compute import peukert


def test_the_rated_current_gives_the_rated_time():
    for exponent in (1.0, 1.1, 1.3, 1.6):
        assert peukert.run_time_h(0.05, exponent) == pytest.approx(20.0)


def test_textbook_example():
    # Common worked example (no one source): 100 Ah at the 20-hour rate, exponent 1.2, load of 10 A = 0.1 C: 20 * (5/10)**1.2 = 8.7 h.
    assert peukert.run_time_h(0.1, 1.2) == pytest.approx(8.7, abs=0.05)


@pytest.mark.parametrize(
    ("hours", "share", "expected"),
    [
        # Maker's sheet of a 12 V 40 Ah block (tiasang-12v40): 85 % at the 5-hour and 60 % at the 1-hour rate of the 20-hour capacity.
        (5, 0.85, 1.13),
        (1, 0.60, 1.21),
        # Panasonic LC-R061R3: 65 % at the 1-hour rate.
        (1, 0.65, 1.17),
    ],
)
def test_exponent_from_a_makers_capacity_table(library, hours, share, expected):
    found = peukert.exponent_between((20, 1.0), (hours, share))
    assert found == pytest.approx(expected, abs=0.005)
    stated = [value.typical for value in library.chemistries["lead-acid-agm"].values_of("peukert-exponent")]
    assert round(found, 2) in stated


def test_law_gives_back_the_table_it_came_from():
    exponent = peukert.exponent_between((20, 1.0), (5, 0.85))
    assert peukert.run_time_h(0.85 / 5, exponent) == pytest.approx(5.0)


@settings(deadline=None)
@given(st.floats(1.0, 2.0), st.floats(0.05, 3.0), st.floats(1.01, 3.0))
def test_more_current_gives_less_charge(exponent, rate, factor):
    more, less = (peukert.run_time_h(r, exponent) * r for r in (rate, rate * factor))
    assert less <= more * (1 + 1e-9)


@pytest.mark.parametrize(("rate", "exponent", "rated"), [(0, 1.2, 20), (-1, 1.2, 20), (0.1, 0.9, 20), (0.1, 1.2, 0)])
def test_refuses_outside_the_law(rate, exponent, rated):
    with pytest.raises(ValueError, match="Peukert"):
        peukert.run_time_h(rate, exponent, rated)


def test_two_equal_currents_have_no_exponent():
    with pytest.raises(ValueError, match="different"):
        peukert.exponent_between((20, 1.0), (10, 0.5))


def test_table_spans_the_stated_exponent(library):
    subject = library.chemistries["lead-acid-flooded"]
    stated = subject.figure("peukert-exponent")
    line = next(line for line in peukert.peukert_table(subject) if line.c_rate == 0.2)
    assert line.hours.low == pytest.approx(20 * 0.25**stated.max, abs=0.01)
    assert line.hours.high == pytest.approx(20 * 0.25**stated.min, abs=0.01)
    assert peukert.peukert_table(library.chemistries["nmc"]) == ()
