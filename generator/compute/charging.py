"""Constant current, then constant voltage: time, charge and energy by integration over the rest curve.

The cell is its voltage at rest U0(q) and one resistance R. The current is the smaller of the set current and
(Vmax - U0(q))/R, what still flows at the constant voltage; the charge ends when it has fallen to the end current. The
time is the integral of dq/i, each step of the rest curve taken as straight, for which the integral is exact.
Heating, ageing and the slow processes of a real cell are left out: a real charge takes longer at its end.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Charge:
    """One charge from empty: hours at constant current, at constant voltage, charge taken up [Ah], energy put in [Wh]."""

    constant_current_h: float
    constant_voltage_h: float
    charge_ah: float
    energy_wh: float
    share_at_change: float

    @property
    def hours(self) -> float:
        return self.constant_current_h + self.constant_voltage_h


def cccv(charge_ah: Sequence[float], rest_v: Sequence[float], ohm: float, ampere: float, full_v: float, end_a: float) -> Charge:
    """Return the charge of one cell. ``charge_ah`` rises from 0 (empty) and ``rest_v`` with it.

    Raises ValueError for currents or a resistance that are not positive, or an end current not below the set one.
    """
    if not (ohm > 0.0 and ampere > 0.0 and 0.0 < end_a < ampere):
        raise ValueError("currents and resistance must be positive, the end current below the set current")
    change_v, end_v = full_v - ampere * ohm, full_v - end_a * ohm
    current = voltage = energy = changed = 0.0
    last = 0.0
    for q0, q1, v0, v1 in zip(charge_ah, charge_ah[1:], rest_v, rest_v[1:], strict=False):
        for a, b, low, high in _pieces(q0, q1, v0, v1, (change_v, end_v)):
            middle = (low + high) / 2.0
            if middle >= end_v:
                return _charge(current, voltage, last, energy, changed)
            if middle < change_v:
                current += (b - a) / ampere
                energy += (b - a) * (middle + ampere * ohm)
                changed = b
            else:
                voltage += _tail_h(b - a, (full_v - low) / ohm, (full_v - high) / ohm)
                energy += (b - a) * full_v
            last = b
    return _charge(current, voltage, last, energy, changed)


def _charge(current: float, voltage: float, last: float, energy: float, changed: float) -> Charge:
    return Charge(current, voltage, last, energy, changed / last if last else 0.0)


def _pieces(q0: float, q1: float, v0: float, v1: float, cuts: tuple[float, ...]):
    """The straight step split where its voltage crosses a cut."""
    ends = [q0, *(q0 + (cut - v0) / (v1 - v0) * (q1 - q0) for cut in cuts if v0 < cut < v1), q1]
    for a, b in zip(ends, ends[1:], strict=False):
        if b > a:
            yield a, b, v0 + (v1 - v0) * (a - q0) / (q1 - q0), v0 + (v1 - v0) * (b - q0) / (q1 - q0)


def _tail_h(charge_ah: float, from_a: float, to_a: float) -> float:
    """Hours of a straight piece at constant voltage: the current falls in proportion to the charge still missing."""
    if abs(from_a - to_a) < 1e-9 * from_a:
        return charge_ah / from_a
    return charge_ah * math.log(from_a / to_a) / (from_a - to_a)


def resistance_from_curves(rest_v: Sequence[float], loaded_v: Sequence[float], ampere: float) -> float:
    """Return one resistance [ohm] from rest and loaded voltages at equal shares: the median drop over the middle half."""
    drops = sorted((r - v) / ampere for r, v in list(zip(rest_v, loaded_v, strict=True))[len(rest_v) // 4 : 3 * len(rest_v) // 4])
    return drops[len(drops) // 2]


def timed_hours(charge_factor_percent: float, c_rate: float) -> float:
    """Return the hours of a timed charge at constant current from empty: charge factor over rate (nickel)."""
    return charge_factor_percent / 100.0 / c_rate
