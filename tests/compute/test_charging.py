"""Charging against a general ODE solver and the closed form of the tail."""

from __future__ import annotations

import math

import pytest
from scipy.integrate import solve_ivp

from generator.compute.charging import cccv, resistance_from_curves, timed_hours

Q = [0.0, 0.1, 0.5, 1.0, 1.6, 1.95, 2.0]
U0 = [2.8, 3.3, 3.5, 3.65, 3.9, 4.15, 4.2]


def test_agrees_with_a_general_ode_solver():
    """dq/dt = min(I, (Vmax - U0(q))/R) by scipy's adaptive Runge-Kutta until the current falls to the end current."""
    import numpy as np

    made = cccv(Q, U0, 0.05, 1.0, 4.2, 0.1)

    def flow(q):
        return min(1.0, (4.2 - float(np.interp(q, Q, U0))) / 0.05)

    def ended(_, y):
        return flow(y[0]) - 0.1

    ended.terminal = True
    solved = solve_ivp(lambda _, y: [flow(y[0])], (0.0, 20.0), [0.0], events=ended, max_step=0.002, rtol=1e-8)
    assert made.hours == pytest.approx(float(solved.t[-1]), rel=2e-3)
    assert made.charge_ah == pytest.approx(float(solved.y[0][-1]), rel=1e-3)


def test_tail_of_a_straight_cell_is_exponential():
    """With U0 = a + b q the current at constant voltage falls with time constant R/b: t = (R/b) ln(I/Iend)."""
    made = cccv([0.0, 2.0], [3.0, 4.2], 0.3, 1.0, 4.2, 0.05)
    assert made.constant_voltage_h == pytest.approx(0.3 / 0.6 * math.log(1.0 / 0.05))
    assert made.constant_current_h == pytest.approx((3.9 - 3.0) / 0.6)


def test_energy_in_is_more_than_energy_stored():
    made = cccv(Q, U0, 0.05, 1.0, 4.2, 0.1)
    stored = sum((b - a) * (v + w) / 2 for a, b, v, w in zip(Q, Q[1:], U0, U0[1:], strict=False))
    assert stored * 0.98 < made.energy_wh < 2.0 * 4.2


@pytest.mark.parametrize("bad", [(0.0, 1.0, 0.1), (0.05, 0.0, 0.1), (0.05, 1.0, 1.0), (0.05, 1.0, 0.0)])
def test_senseless_numbers_are_refused(bad):
    ohm, ampere, end = bad
    with pytest.raises(ValueError, match="positive"):
        cccv(Q, U0, ohm, ampere, 4.2, end)


def test_resistance_is_the_median_drop():
    assert resistance_from_curves([4.0] * 9, [3.9] * 9, 2.0) == pytest.approx(0.05)


def test_nickel_timed_charge():
    """140 % at a tenth is the classic 14 hours (the trade's rule, also the IEC charge of 14 to 16 h at 0.1 It)."""
    assert timed_hours(140.0, 0.1) == pytest.approx(14.0)
