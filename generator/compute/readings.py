"""Readings off a discharge curve: volts at a share of charge, and the resistance two curves show."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from generator.compute.curves import CellCurves

LOW_C, HIGH_C = 0.2, 1.0
HALF_PERCENT = 50.0


def volts_at(percent: float, capacity_ah: Sequence[float], voltage_v: Sequence[float], whole_ah: float) -> float | None:
    """Return the voltage [V] when ``percent`` of ``whole_ah`` has been taken out; None after the curve stopped."""
    charge_ah = percent / 100.0 * whole_ah
    slack = 1e-9 * whole_ah
    if not capacity_ah[0] - slack <= charge_ah <= capacity_ah[-1] + slack:
        return None
    return float(np.interp(charge_ah, capacity_ah, voltage_v))


def whole_percents(capacity_ah: Sequence[float], voltage_v: Sequence[float], whole_ah: float) -> tuple[float | None, ...]:
    """Return the voltages [V] at 0, 1, 2 ... percent of ``whole_ah`` taken out, to 0.1 mV, as far as the curve goes.

    None where the curve has not begun yet: a measured table may start below full.
    """
    last = math.floor(100.0 * capacity_ah[-1] / whole_ah + 1e-9)
    found = (volts_at(percent, capacity_ah, voltage_v, whole_ah) for percent in range(last + 1))
    return tuple(None if volts is None else round(volts, 4) for volts in found)


@dataclass(frozen=True, slots=True)
class CurveResistance:
    """What two curves of one cell differ by at half charge: volts per C of rate, and milliohms for the set's capacity."""

    low_c: float
    high_c: float
    volts_per_c: float
    mohm: float


def curve_resistance(curves: CellCurves, nominal_ah: float) -> CurveResistance | None:
    """Return the resistance seen between 0.2C and 1C when half of the C/20 charge is out, at 25 degrees Celsius.

    R = (U(0.2C) - U(1C)) / (0.8 C times the nominal capacity). It holds ohmic, reaction and diffusion losses of a steady
    discharge, so it is larger than what a 1 kHz meter shows. None where one of the curves is missing or has stopped.
    """
    found = [_half(curves, rate) for rate in (LOW_C, HIGH_C)]
    if None in found:
        return None
    volts_per_c = (found[0] - found[1]) / (HIGH_C - LOW_C)
    return CurveResistance(LOW_C, HIGH_C, round(volts_per_c, 5), round(1000.0 * volts_per_c / nominal_ah, 3))


def _half(curves: CellCurves, rate: float) -> float | None:
    curve = curves.curve(rate)
    return curve and volts_at(HALF_PERCENT, curve.capacity_ah, curve.voltage_v, curves.reference_ah)
