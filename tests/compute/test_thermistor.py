"""Thermistors against a maker's table and a least-squares-free closed form."""

from __future__ import annotations

import math

import pytest

from generator.compute.interval import Interval, around
from generator.compute.thermistor import Divider, b_value_k, divider_ratio, resistance_ohm, steinhart_hart, temperature_c, threshold_temperature_c

# Vishay NTCLE317E4103SBA data sheet (reported): R25 10 kOhm, B25/85 3984 K, R85 1066.1 Ohm.
R25, B, R85 = 10_000.0, 3984.0, 1066.1
# Resistances of a 10 kOhm thermistor with B 3974 K as an operating system's table lists them (read): degC, ohm.
TABLE = ((-25, 146676), (-5, 44424), (5, 26075), (25, 10000), (35, 6488), (55, 2956), (75, 1474), (85, 1072), (105, 596), (125, 351))


def test_the_worked_example_of_a_data_sheet():
    assert resistance_ohm(85, R25, B) == pytest.approx(R85, abs=0.05)
    assert temperature_c(R85, R25, B) == pytest.approx(85, abs=0.001)
    assert b_value_k(R25, 25, R85, 85) == pytest.approx(B, abs=0.1)


def test_steinhart_hart_through_three_points_of_a_table_gives_the_others():
    a, b, c = steinhart_hart((TABLE[0], TABLE[3], TABLE[-1]))
    for celsius, ohm in TABLE:
        log = math.log(ohm)
        assert 1 / (a + b * log + c * log**3) - 273.15 == pytest.approx(celsius, abs=0.15)


def test_steinhart_hart_with_no_third_term_is_the_b_equation():
    points = tuple((t, resistance_ohm(t, R25, B)) for t in (0.0, 25.0, 85.0))
    _, b, c = steinhart_hart(points)
    assert b == pytest.approx(1 / B, rel=1e-9)
    assert c == pytest.approx(0, abs=1e-15)


@pytest.mark.parametrize("low", [True, False])
def test_the_divider_crosses_where_it_should(low):
    divider = Divider(around(10_000, 1), around(R25, 1), around(B, 0.5), low)
    ratio = divider_ratio(60, 10_000, R25, B, low)
    found = threshold_temperature_c(Interval(ratio, ratio, ratio), divider)
    assert found.typical == pytest.approx(60, abs=1e-9)
    assert found.low < 60 < found.high


def test_worst_cases_hold_over_samples_of_the_tolerances():
    divider = Divider(around(20_000, 2), around(R25, 3), around(3435, 1))
    found = threshold_temperature_c(Interval(0.2, 0.21, 0.22), divider)
    for k in range(200):
        share, fixed, r25, b = ((k * step % 101) / 100 for step in (7, 31, 57, 89))
        at = lambda interval, x: interval.low + x * (interval.high - interval.low)  # noqa: E731
        ratio = 0.2 + 0.02 * share
        ohm = at(divider.fixed_ohm, fixed) * ratio / (1 - ratio)
        assert found.low - 1e-9 <= temperature_c(ohm, at(divider.r25_ohm, r25), at(divider.b_k, b)) <= found.high + 1e-9


@pytest.mark.parametrize("call", [lambda: resistance_ohm(-300, R25, B), lambda: temperature_c(0, R25, B), lambda: temperature_c(1e-30, 1.0, 1.0), lambda: b_value_k(1, 25, 2, 25)])
def test_nonsense_is_refused(call):
    with pytest.raises(ValueError):
        call()
