"""Packs whose voltages come near what an equipment takes, and whether they stay inside."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from generator.compute.pack import SERIES, PackRow, pack_row
from generator.model.subject import Subject


@dataclass(frozen=True, slots=True)
class Window:
    """Lowest, nominal and highest volts an equipment takes."""

    least_v: float
    nominal_v: float
    most_v: float


@dataclass(frozen=True, slots=True)
class Candidate:
    """A pack and its verdict: fits, low (the equipment stops before the pack is empty) or high (above it when full)."""

    chemistry: str
    name: str
    row: PackRow
    verdict: str


def verdict(window: Window, empty_v: float, full_v: float) -> str:
    """Return fits, low or high; high, which destroys, goes before low."""
    if full_v > window.most_v:
        return "high"
    return "low" if empty_v < window.least_v else "fits"


def candidates(window: Window, subjects: Iterable[Subject]) -> tuple[Candidate, ...]:
    """Return, for each rechargeable chemistry with all three voltages, the pack whose nominal voltage is nearest."""
    found = []
    for subject in subjects:
        nominal, full, empty = (subject.volts(q) for q in ("nominal-voltage", "charge-voltage-max", "discharge-cutoff-voltage"))
        if subject.rechargeable and None not in (nominal, full, empty):
            series = min(SERIES, key=lambda n: (abs(n * nominal - window.nominal_v), n))
            row = pack_row(subject, series)
            found.append(Candidate(subject.id, subject.abbreviation, row, verdict(window, row.empty_v, row.full_v)))
    return tuple(found)
