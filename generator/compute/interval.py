"""A figure between two bounds: tolerances carried through by their worst cases."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Interval:
    """``low`` <= ``typical`` <= ``high``, all in one unit."""

    low: float
    typical: float
    high: float

    def __post_init__(self) -> None:
        if not self.low <= self.typical <= self.high:
            raise ValueError(f"{self.low:g}, {self.typical:g}, {self.high:g} do not rise from lowest to highest")


def around(typical: float, percent: float) -> Interval:
    """Return ``typical`` plus or minus ``percent`` of it."""
    part = abs(typical) * percent / 100.0
    return Interval(typical - part, typical, typical + part)
