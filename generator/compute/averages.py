"""Averages of a discharge curve: capacity, energy, mean and mid-point voltage."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

STOP_V = 5.0e-4  # a curve that ends this near a cut-off has reached it


@dataclass(frozen=True, slots=True)
class Averages:
    """Figures of one discharge down to `cutoff_v`."""

    cutoff_v: float
    capacity_ah: float
    energy_wh: float
    energy_averaged_v: float
    midpoint_v: float


def averages(curve, cutoff_v: float) -> Averages:
    """Averages of a curve (`capacity_ah`, `voltage_v` arrays) down to `cutoff_v`.

    Raises ValueError where the curve ends above the cut-off, as one does that the
    electrolyte stopped: it has no average to that cut-off.
    """
    capacity, voltage = recut(curve.capacity_ah, curve.voltage_v, cutoff_v)
    return Averages(
        cutoff_v=cutoff_v,
        capacity_ah=float(capacity[-1]),
        energy_wh=energy_wh(capacity, voltage),
        energy_averaged_v=energy_averaged_v(capacity, voltage),
        midpoint_v=midpoint_v(capacity, voltage),
    )


def energy_averaged_voltage(curve) -> float:
    """Wh / Ah of a whole curve, V."""
    return energy_averaged_v(curve.capacity_ah, curve.voltage_v)


def energy_wh(capacity_ah: np.ndarray, voltage_v: np.ndarray) -> float:
    """Integral of voltage over capacity by the trapezium rule, Wh."""
    return float((np.diff(capacity_ah) * (voltage_v[1:] + voltage_v[:-1])).sum() / 2.0)


def energy_averaged_v(capacity_ah: np.ndarray, voltage_v: np.ndarray) -> float:
    """Energy over capacity, V. Raises ValueError where no capacity was delivered."""
    delivered = float(capacity_ah[-1] - capacity_ah[0])
    if not delivered > 0.0:
        raise ValueError("a curve that delivers no capacity has no average voltage")
    return energy_wh(capacity_ah, voltage_v) / delivered


def midpoint_v(capacity_ah: np.ndarray, voltage_v: np.ndarray) -> float:
    """Voltage when half of the delivered capacity has been delivered, V."""
    half = (capacity_ah[0] + capacity_ah[-1]) / 2.0
    return float(np.interp(half, capacity_ah, voltage_v))


def recut(capacity_ah: np.ndarray, voltage_v: np.ndarray, cutoff_v: float):
    """(capacity, voltage) up to where the voltage first falls to `cutoff_v`.

    Raises ValueError where the curve begins below the cut-off or ends above it.
    """
    below = np.flatnonzero(voltage_v <= cutoff_v)
    if not len(below):
        if voltage_v[-1] <= cutoff_v + STOP_V:
            return capacity_ah, voltage_v
        raise ValueError(f"the curve ends at {voltage_v[-1]:.4f} V, above {cutoff_v} V")
    last = int(below[0])
    if last == 0:
        raise ValueError(f"the curve begins at {voltage_v[0]:.4f} V, not above {cutoff_v} V")
    low, high = voltage_v[last], voltage_v[last - 1]
    share = (high - cutoff_v) / (high - low)
    end = capacity_ah[last - 1] + share * (capacity_ah[last] - capacity_ah[last - 1])
    return np.append(capacity_ah[:last], end), np.append(voltage_v[:last], cutoff_v)
