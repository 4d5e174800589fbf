"""A measured resting voltage -> the state of charge it means, from open-circuit curves of published cells.

It tells charge, not health: a worn-out or damaged cell rests at the same voltage as a new one.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from generator.compute.porous.discharge import open_circuit
from generator.model.library import Library

PERCENT = tuple(range(0, 101, 2))


@dataclass(frozen=True, slots=True)
class OpenCircuit:
    """Open-circuit voltage of one published cell: ``volts`` per cell at each ``percent`` of charge, both ascending."""

    cell: str
    percent: tuple[float, ...]
    volts: tuple[float, ...]

    def at(self, percent: float) -> float:
        """Return the voltage per cell at a state of charge of 0 to 100 percent [V]."""
        return float(np.interp(percent, self.percent, self.volts))

    def charge(self, volts: float) -> float | None:
        """Return the state of charge at a voltage per cell [percent], None outside the curve."""
        if not self.volts[0] <= volts <= self.volts[-1]:
            return None
        return float(np.interp(volts, self.volts, self.percent))


def open_circuit_curves(library: Library) -> Mapping[str, tuple[OpenCircuit, ...]]:
    """Return the open-circuit curves by chemistry, of every published cell that gives the voltage of a whole cell."""
    found: dict[str, list[OpenCircuit]] = {}
    for cell in library.cells.values():
        if cell.porous is not None:
            volts = open_circuit(cell.porous, np.array(PERCENT) / 100.0)
            found.setdefault(cell.chemistry, []).append(curve(cell.id, PERCENT, volts))
        for table in cell.tables[:1]:
            percent = [100.0 * s for s in table.state_of_charge]
            volts = [v / cell.cells_in_series for v in table.open_circuit_v]
            found.setdefault(cell.chemistry, []).append(curve(cell.id, percent, volts))
    return {chemistry: tuple(curves) for chemistry, curves in found.items()}


def curve(cell: str, percent, volts) -> OpenCircuit:
    """Return an OpenCircuit from points in any order; a voltage that does not rise with charge raises ValueError."""
    points = sorted(zip(map(float, percent), map(float, volts), strict=True))
    rising = tuple(v for _, v in points)
    if any(after < before - 1e-6 for before, after in zip(rising, rising[1:])):
        raise ValueError(f"{cell}: the open-circuit voltage falls with charge")
    return OpenCircuit(cell, tuple(p for p, _ in points), rising)


def charge_span(volts: float, curves: tuple[OpenCircuit, ...]) -> tuple[float, float] | None:
    """Return the lowest and highest state of charge [percent] that the curves give for a voltage per cell.

    None when it lies outside every curve.
    """
    found = [charge for c in curves if (charge := c.charge(volts)) is not None]
    return (min(found), max(found)) if found else None


@dataclass(frozen=True, slots=True)
class RestTable:
    """Resting voltages of a pack: (lowest, highest) over the published ``cells`` for each percent of PERCENT_SHOWN [V]."""

    cells: tuple[str, ...]
    spans: tuple[tuple[float, float], ...]


PERCENT_SHOWN = (100, 90, 80, 70, 60, 50, 40, 30, 20, 10, 0)


def rest_table(curves: tuple[OpenCircuit, ...], series: int) -> RestTable:
    """Return the resting voltages of ``series`` cells."""
    return RestTable(tuple(c.cell for c in curves), tuple(rest_span(percent, curves, series) for percent in PERCENT_SHOWN))


def rest_span(percent: float, curves: tuple[OpenCircuit, ...], series: int) -> tuple[float, float]:
    """Return the lowest and highest resting voltage of ``series`` cells at a state of charge [V]."""
    volts = [series * c.at(percent) for c in curves]
    return min(volts), max(volts)
