"""Test currents and times for a cell, and what a capacity measured otherwise would have been in the standard test.

The standard capacity test discharges at 0.2 It at 20 +-5 degC, its DC resistance test takes two currents, 0.2 It and
1.0 It (IEC 61960-3, clauses 7.3.1 and 7.7.3): It is the rated capacity divided by one hour. From a test at another rate or
cut-off only an estimate follows; here from the computed discharge curves of published cells, with their spread.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from generator.compute.curves import REFERENCE_C, CellCurves

STANDARD_RATE_C = 0.2
HIGH_RATE_C = 1.0
# Slow and gentle; the data sheet's own current goes first.
PRECHARGE_RATE_C = 0.1


@dataclass(frozen=True, slots=True)
class TestPlan:
    """Currents [A] and times for one rated capacity [Ah]."""

    rated_ah: float
    discharge_a: float
    discharge_h: float
    resistance_low_a: float
    resistance_high_a: float
    precharge_most_a: float


@dataclass(frozen=True, slots=True)
class Factor:
    """Standard capacity divided by capacity at ``c_rate`` down to ``cutoff_v``, over ``cells`` published cells of a chemistry."""

    chemistry: str
    c_rate: float
    cutoff_v: float
    least: float
    middle: float
    most: float
    cells: int


def test_plan(rated_ah: float) -> TestPlan:
    """Return the plan for a cell; raises ValueError unless its rated capacity is above 0."""
    if not rated_ah > 0:
        raise ValueError("the rated capacity must be above 0 Ah")
    low, high = STANDARD_RATE_C * rated_ah, HIGH_RATE_C * rated_ah
    return TestPlan(rated_ah, low, 1.0 / STANDARD_RATE_C, low, high, PRECHARGE_RATE_C * rated_ah)


def dc_resistance_mohm(low_a: float, low_v: float, high_a: float, high_v: float) -> float:
    """Return the DC resistance [mOhm] from two loads: (U1 - U2) / (I2 - I1), IEC 61960-3 clause 7.7.3.

    Raises ValueError unless the second current is the larger and the voltage falls.
    """
    if not 0 <= low_a < high_a:
        raise ValueError("the second current must be larger than the first, and neither below 0 A")
    if not high_v < low_v:
        raise ValueError("the voltage must fall from the first load to the second")
    return 1000.0 * (low_v - high_v) / (high_a - low_a)


def factors(curves: Iterable[CellCurves]) -> tuple[Factor, ...]:
    """Return the factors by chemistry, rate and cut-off, at 25 degC; the standard test ends at the set's own cut-off.

    Multiply a measured capacity by ``middle`` for the standard one; ``least`` and ``most`` are the published cells' span.
    """
    found: dict[tuple[str, float, float], list[float]] = {}
    for cell in curves:
        at = {(a.c_rate, a.cutoff_v): a.capacity_ah for a in cell.averages if a.temperature_c == REFERENCE_C}
        own_cutoff = min((cutoff for _, cutoff in at), default=None)
        standard = at.get((STANDARD_RATE_C, own_cutoff))
        for (rate, cutoff), capacity in at.items():
            if standard and capacity > 0:
                found.setdefault((cell.chemistry, rate, cutoff), []).append(standard / capacity)
    return tuple(_factor(*key, sorted(ratios)) for key, ratios in sorted(found.items()))


def _factor(chemistry: str, rate: float, cutoff: float, ratios: list[float]) -> Factor:
    return Factor(chemistry, rate, cutoff, ratios[0], ratios[(len(ratios) - 1) // 2], ratios[-1], len(ratios))
