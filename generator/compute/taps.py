"""Voltages read at the taps of an opened pack: how many cells, which chemistry they fit, which tap is odd.

Kirchhoff's voltage law does the work: the difference of neighbouring taps is one cell, or several where a tap was
skipped. What fits is said, never what is: voltage alone does not tell a chemistry.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

MAX_TAPS = 64
MAX_VOLTS = 1_000.0
MOST_CELLS_A_STEP = 24
# The same node, within a meter's last digits.
SAME_V = 0.02
# A board maker's default difference at which balancing starts, and three times that.
DRIFTED_V = 0.03
ODD_V = 0.10
# Up to this multiple of the full voltage a reading may be one over-charged cell.
OVER_CHARGED = 1.1


class ImpossibleReadings(ValueError):
    """The readings cannot be voltages of taps; the message says which and why."""


@dataclass(frozen=True, slots=True)
class CellVoltages:
    """A chemistry's voltages of one cell [V]: empty, full and, below which a found cell is refused, floor (None: not stated)."""

    id: str
    name: str
    empty_v: float
    full_v: float
    floor_v: float | None


@dataclass(frozen=True, slots=True)
class Step:
    """What lies between two taps: ``volts`` and what is odd about it.

    ``odd``: none, drifted, low, high, same-node, negative, skipped-tap, tap-between.
    """

    volts: float
    odd: str


@dataclass(frozen=True, slots=True)
class Fit:
    """``cells`` in series of the chemistry explain the readings; ``cell_v`` is one cell's voltage, ``share`` its place in
    the window from empty 0 to full 1. ``state``: within, below-floor, over-charged, over-discharged."""

    id: str
    name: str
    cells: int
    cell_v: float
    share: float
    state: str


@dataclass(frozen=True, slots=True)
class TapReading:
    """``steps`` in the order of the taps, the middle step [V], and the fits: within a window first."""

    steps: tuple[Step, ...]
    middle_v: float
    fits: tuple[Fit, ...]


def read_taps(readings_v: Sequence[float], chemistries: Sequence[CellVoltages]) -> TapReading:
    """Return what tap voltages, measured from the pack's negative end in order, say. Raises ImpossibleReadings."""
    _check(readings_v)
    taps = list(readings_v) if abs(readings_v[0]) <= SAME_V and len(readings_v) > 1 else [0.0, *readings_v]
    volts = [round(b - a, 6) for a, b in zip(taps, taps[1:], strict=False)]
    rising = sorted(v for v in volts if v > SAME_V)
    if not rising:
        raise ImpossibleReadings("No reading is above 0 V: measure from the pack's negative end, positive side up.")
    middle = rising[(len(rising) - 1) // 2]
    steps = tuple(Step(v, odd) for v, odd in zip(volts, _oddities(volts, middle), strict=True))
    return TapReading(steps, middle, tuple(_fits(rising, middle, chemistries)))


def _check(readings: Sequence[float]) -> None:
    if not readings:
        raise ImpossibleReadings("Type at least one reading in volts.")
    if len(readings) > MAX_TAPS:
        raise ImpossibleReadings(f"More than {MAX_TAPS} taps: type them in parts.")
    for number, volts in enumerate(readings, 1):
        if not math.isfinite(volts) or abs(volts) > MAX_VOLTS:
            raise ImpossibleReadings(f"Reading {number} is not a voltage between -{MAX_VOLTS:g} and {MAX_VOLTS:g} V.")


def _oddities(volts: Sequence[float], middle: float) -> list[str]:
    odd = [_oddity(v, middle) for v in volts]
    for k in range(len(volts) - 1):
        # One step too low and its neighbour too high by the same: the tap between them is wrong, not the cells.
        pair = {odd[k], odd[k + 1]}
        if pair == {"low", "high"} and abs(volts[k] + volts[k + 1] - 2 * middle) <= ODD_V:
            odd[k] = odd[k + 1] = "tap-between"
    return odd


def _oddity(volts: float, middle: float) -> str:
    if volts < -SAME_V:
        return "negative"
    if volts <= SAME_V:
        return "same-node"
    if volts >= 1.7 * middle:
        return "skipped-tap"
    distance = volts - middle
    if abs(distance) > ODD_V:
        return "low" if distance < 0 else "high"
    return "drifted" if abs(distance) > DRIFTED_V else "none"


def _fits(rising: Sequence[float], middle: float, chemistries: Sequence[CellVoltages]) -> list[Fit]:
    """Fits within a window, then what the same voltage would mean as a cell driven beyond either end: that is never hidden."""
    counts = range(1, MOST_CELLS_A_STEP + 1)
    within = [_fit(rising, middle, n, c, "within") for c in chemistries for n in counts if c.empty_v <= middle / n <= c.full_v]
    beyond = [_fit(rising, middle, 1, c, state) for c in chemistries if (state := _beyond(middle, c))]
    return sorted(within, key=lambda fit: (fit.cells, fit.id)) + sorted(beyond, key=lambda fit: (fit.state, fit.id))


def _beyond(volts: float, chemistry: CellVoltages) -> str | None:
    if volts < chemistry.empty_v:
        return "below-floor" if chemistry.floor_v is not None and volts < chemistry.floor_v else "over-discharged"
    return "over-charged" if chemistry.full_v < volts <= OVER_CHARGED * chemistry.full_v else None


def _fit(rising: Sequence[float], middle: float, cells_a_step: int, chemistry: CellVoltages, state: str) -> Fit:
    cells = sum(max(1, math.floor(cells_a_step * v / middle + 0.5)) for v in rising)
    cell_v = middle / cells_a_step
    share = (cell_v - chemistry.empty_v) / (chemistry.full_v - chemistry.empty_v)
    return Fit(chemistry.id, chemistry.name, cells, cell_v, share, state)


def parallel_counts(pack_ah: float, cell_least_ah: float, cell_most_ah: float) -> tuple[int, ...]:
    """Return how many cells in parallel explain a pack's capacity when one cell has between the two capacities."""
    if not 0 < cell_least_ah <= cell_most_ah or not 0 < pack_ah < math.inf:
        raise ValueError("capacities must be above 0 and the greater one not below the lesser")
    return tuple(n for n in range(max(1, math.ceil(pack_ah / cell_most_ah - 1e-9)), math.floor(pack_ah / cell_least_ah + 1e-9) + 1))
