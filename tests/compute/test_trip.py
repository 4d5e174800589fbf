"""Trip currents against a detector's own data sheet arithmetic."""

from __future__ import annotations

import pytest

from generator.compute.interval import Interval, around
from generator.compute.trip import switch_path_mohm, trip_current_a


def test_a_detector_across_a_pair_of_switches():
    """150 mV across 50 mOhm is 3 A: the arithmetic of a one-cell detector's sheet (H&M DW01A: 150 mV +-30 mV)."""
    pair = switch_path_mohm(Interval(25, 25, 25), heat_factor=1.0)
    amps = trip_current_a(Interval(120, 150, 180), pair)
    assert (amps.low, amps.typical, amps.high) == (2.4, 3.0, 3.6)


def test_pairs_side_by_side_share_and_hot_ones_trip_earlier():
    cold, hot = switch_path_mohm(around(10, 0), 2, heat_factor=1.0), switch_path_mohm(around(10, 0), 2, heat_factor=1.5)
    assert cold.typical == 10
    assert trip_current_a(around(100, 0), hot).low == pytest.approx(trip_current_a(around(100, 0), cold).low / 1.5)


@pytest.mark.parametrize(("mv", "mohm"), [(around(10, 100), around(5, 0)), (around(100, 0), around(0, 0)), (around(100, 0), around(5, 100))])
def test_nothing_divides_by_zero(mv, mohm):
    with pytest.raises(ValueError, match="above 0"):
        trip_current_a(mv, mohm)


def test_bounds_out_of_order_are_refused():
    with pytest.raises(ValueError, match="rise"):
        Interval(2, 1, 3)
