"""Averages of curves whose answers can be worked by hand."""

from __future__ import annotations

from types import SimpleNamespace

import numpy as np
import pytest

from generator.compute.averages import (
    averages,
    energy_averaged_v,
    energy_averaged_voltage,
    energy_wh,
    midpoint_v,
    recut,
)

CAPACITY = np.linspace(0.0, 2.0, 21)
FALLING = 4.0 - 0.5 * CAPACITY  # 4.0 V to 3.0 V
LINE = SimpleNamespace(capacity_ah=CAPACITY, voltage_v=FALLING)


def test_straight_line_by_hand():
    assert energy_wh(CAPACITY, FALLING) == pytest.approx(7.0)
    assert energy_averaged_v(CAPACITY, FALLING) == pytest.approx(3.5)
    assert energy_averaged_voltage(LINE) == pytest.approx(3.5)
    assert midpoint_v(CAPACITY, FALLING) == pytest.approx(3.5)


def test_higher_cutoff_by_hand():
    found = averages(LINE, 3.43)
    assert found.capacity_ah == pytest.approx(1.14)
    assert found.energy_averaged_v == pytest.approx((4.0 + 3.43) / 2.0)
    assert found.midpoint_v == pytest.approx(4.0 - 0.57 / 2.0)
    assert found.energy_wh == pytest.approx(1.14 * (4.0 + 3.43) / 2.0)


def test_first_fall_ends_the_discharge_though_the_voltage_recovers():
    voltage = np.array([4.0, 3.2, 3.6, 3.5, 2.9])
    capacity, cut = recut(np.arange(5.0), voltage, 3.4)
    assert capacity[-1] == pytest.approx(0.75)
    assert cut.tolist() == pytest.approx([4.0, 3.4])


def test_a_curve_that_ends_at_the_cutoff_is_kept_whole():
    assert recut(CAPACITY, FALLING + 1e-5, 3.0)[0] is CAPACITY


def test_no_average_to_a_cutoff_never_reached():
    with pytest.raises(ValueError, match="above 2.5 V"):
        averages(LINE, 2.5)
    with pytest.raises(ValueError, match="begins"):
        averages(LINE, 4.1)
    with pytest.raises(ValueError, match="no capacity"):
        energy_averaged_v(np.zeros(2), np.ones(2))
