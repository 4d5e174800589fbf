"""The scale of a voltage ruler, and how volts are written on it."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Axis:
    """A linear scale from ``low_v`` to ``high_v``, numbered every ``major_v``, ticked every ``minor_v``."""

    low_v: float
    high_v: float
    major_v: float
    minor_v: float

    def place(self, volts: float) -> float:
        """Return where a voltage stands, in percent of the width, rounded to 0.01; held inside the axis."""
        share = (volts - self.low_v) / (self.high_v - self.low_v)
        return round(100 * min(max(share, 0.0), 1.0), 2)

    def ticks(self, step_v: float) -> list[float]:
        """Return the multiples of ``step_v`` on the axis, ends included."""
        first, last = math.ceil(self.low_v / step_v - 1e-9), math.floor(self.high_v / step_v + 1e-9)
        return [round(n * step_v, 6) for n in range(first, last + 1)]


# From below the cut-off of zinc-carbon to above the fullest lithium-ion cell, with room for what lies beyond.
CELL_AXIS = Axis(0.5, 5.0, 1.0, 0.1)


def axis_for(volts: Iterable[float]) -> Axis:
    """Return an axis with room on either side of all ``volts``, numbered in steps of 1, 2 or 5 times a power of ten.

    Raises ValueError when there are none or one is not above zero.
    """
    volts = list(volts)
    if not volts or min(volts) <= 0:
        raise ValueError("an axis needs voltages above zero")
    low, high = min(volts), max(volts)
    margin = max(high - low, 0.1 * high) * 0.4
    rough = (high - low + 2 * margin) / 5
    decade = 10.0 ** math.floor(math.log10(rough))
    major = next(m * decade for m in (1, 2, 5, 10) if m * decade >= rough)
    minor = major / 5
    start = max(math.floor((low - margin) / minor), 0) * minor
    return Axis(round(start, 6), round(math.ceil((high + margin) / minor) * minor, 6), major, minor)


def volts_text(volts: float) -> str:
    """Return volts with two decimals below 10 V and one above, and more only where the figure has more."""
    least = 2 if volts < 10 else 1
    exact = f"{volts:.3f}".rstrip("0")
    return exact if len(exact.partition(".")[2]) > least else f"{volts:.{least}f}"
