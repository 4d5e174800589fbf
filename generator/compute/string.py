"""Cells in series without balancing: what the string can give, and how that changes while cells leak unequally.

Model: cell k holds the charge q_k of its capacity Q_k, leaks s_k all the time and has the resistance R_k; its voltage at
rest is the open-circuit curve at q_k / Q_k. At a constant current I each cell has two explicit marks,
    up_k = Q_k z(V_max - I R_k)  where it stops the charge,      dn_k = Q_k z(V_min + I R_k)  where it stops the discharge,
z being the inverse of the open-circuit curve. Charging puts the same charge into every cell, so with
o_k(t) = q_k(0) - s_k t the string gives U(t) = min_k(up_k - o_k) + min_k(o_k - dn_k): no time stepping. The sum does not
depend on the charge the cells have in common. Equal leakage costs nothing; only its spread grows.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Sequence
from dataclasses import dataclass

HOURS_A_YEAR = 8760.0
# Voltages this close are the same.
_EQUAL_V = 1e-9


@dataclass(frozen=True, slots=True)
class OpenCircuit:
    """Open-circuit voltage over the state of charge; both rise, ``charge`` from 0 to 1."""

    charge: tuple[float, ...]
    voltage_v: tuple[float, ...]

    def volts(self, charge: float) -> float:
        """Return the voltage [V] at a state of charge, linear between points; the end values beyond them."""
        return _interpolate(charge, self.charge, self.voltage_v)

    def at(self, volts: float) -> float:
        """Return the state of charge at a voltage, 0 below the curve and 1 above it."""
        return _interpolate(volts, self.voltage_v, self.charge)


@dataclass(frozen=True, slots=True)
class StringCell:
    """``charge_ah``: charge held at the start. ``leakage_ma``: constant, always on."""

    capacity_ah: float
    charge_ah: float
    leakage_ma: float
    resistance_mohm: float


@dataclass(frozen=True, slots=True)
class Window:
    """Voltage of a single cell at which charging [V] and discharging stop, and the current of both [A]."""

    voltage_min_v: float
    voltage_max_v: float
    current_a: float


@dataclass(frozen=True, slots=True)
class Usable:
    """What one charge and discharge of the string give [Ah] and the cells (from 0) that stop them."""

    capacity_ah: float
    full_first: int
    empty_first: int


@dataclass(frozen=True, slots=True)
class StringStop:
    """A discharge that only the string's voltage ends.

    ``weakest``: the cell (from 0) that reaches its own limit first. ``string_v_then``: the string's voltage at that
    moment, ``others_v``: mean voltage of the other cells [V]. ``driven_to_v``: the voltage to which the string must still
    press that cell before it stops, None when it stops in time; below 0 the cell is reversed.
    """

    weakest: int
    string_v_then: float
    others_v: float
    driven_to_v: float | None


def marks_ah(cell: StringCell, curve: OpenCircuit, window: Window) -> tuple[float, float]:
    """Return the charges [Ah] at which the cell stops discharge and charge."""
    drop_v = window.current_a * cell.resistance_mohm / 1000.0
    down = cell.capacity_ah * curve.at(window.voltage_min_v + drop_v)
    return down, cell.capacity_ah * curve.at(window.voltage_max_v - drop_v)


def usable(cells: Sequence[StringCell], curve: OpenCircuit, window: Window, hours: float = 0.0) -> Usable:
    """Return what the string gives after ``hours``, by the closed form; never below 0."""
    room, store = [], []
    for cell in cells:
        down, up = marks_ah(cell, curve, window)
        held = cell.charge_ah - cell.leakage_ma * hours / 1000.0
        room.append(up - held)
        store.append(held - down)
    return Usable(max(0.0, min(room) + min(store)), room.index(min(room)), store.index(min(store)))


def cycles(cells: Sequence[StringCell], curve: OpenCircuit, window: Window, rest_h: float, count: int) -> list[tuple[float, float]]:
    """Return (hours, usable Ah) of ``count`` cycles of charge, discharge and ``rest_h``, marched from stop to stop.

    Exact for the model: the time to a stop is a division. The usable capacity is the charge taken out of the string.
    Ends early when a charge or discharge has no time left.
    """
    marks = [marks_ah(cell, curve, window) for cell in cells]
    leaks = [cell.leakage_ma / 1000.0 for cell in cells]
    held, hours, history = [cell.charge_ah for cell in cells], 0.0, []
    for _ in range(count):
        charge_h = min((up - q) / (window.current_a - s) for (_, up), q, s in zip(marks, held, leaks, strict=True))
        held = [q + max(charge_h, 0.0) * (window.current_a - s) for q, s in zip(held, leaks, strict=True)]
        discharge_h = min((q - down) / (window.current_a + s) for (down, _), q, s in zip(marks, held, leaks, strict=True))
        discharge_h = max(discharge_h, 0.0)
        held = [q - discharge_h * (window.current_a + s) - rest_h * s for q, s in zip(held, leaks, strict=True)]
        hours += max(charge_h, 0.0) + discharge_h
        history.append((hours, discharge_h * window.current_a))
        hours += rest_h
    return history


def ah_lost_a_year(leakage_spread_ma: float) -> float:
    """Return the charge [Ah] by which two cells drift apart in a year: 8.76 Ah for each mA of spread."""
    return leakage_spread_ma * HOURS_A_YEAR / 1000.0


def balancing_current_ma(leakage_spread_ma: float, duty: float) -> float:
    """Return the current [mA] a balancer needs that works for the share ``duty`` (0 to 1] of the time."""
    if not 0.0 < duty <= 1.0:
        raise ValueError("a balancer works for more than none and at most all of the time")
    return leakage_spread_ma / duty


def string_cutoff(cells: Sequence[StringCell], curve: OpenCircuit, window: Window, cutoff_v: float) -> StringStop:
    """Return what happens to the weakest cell when only ``cutoff_v``, a voltage of the whole string, ends a discharge.

    The discharge starts when the first cell is full. Below its limit a cell holds almost nothing, so its voltage falls
    while the others stay where they are: ``driven_to_v`` is the cut-off less what the others give. How a real cell behaves
    down there is not modelled.
    """
    marks = [marks_ah(cell, curve, window) for cell in cells]
    charge = min(up - cell.charge_ah for (_, up), cell in zip(marks, cells, strict=True))
    full = [cell.charge_ah + charge for cell in cells]
    weakest = min(range(len(cells)), key=lambda k: full[k] - marks[k][0])
    taken = full[weakest] - marks[weakest][0]
    volts = [_loaded_v(cell, q - taken, curve, window) for cell, q in zip(cells, full, strict=True)]
    others = sum(volts) - volts[weakest]
    driven = cutoff_v - others if sum(volts) > cutoff_v + _EQUAL_V else None
    return StringStop(weakest, sum(volts), others / max(len(cells) - 1, 1), driven)


def _loaded_v(cell: StringCell, held_ah: float, curve: OpenCircuit, window: Window) -> float:
    return curve.volts(held_ah / cell.capacity_ah) - window.current_a * cell.resistance_mohm / 1000.0


def _interpolate(x: float, xs: Sequence[float], ys: Sequence[float]) -> float:
    if x <= xs[0]:
        return ys[0]
    if x >= xs[-1]:
        return ys[-1]
    right = bisect_left(xs, x)
    share = (x - xs[right - 1]) / (xs[right] - xs[right - 1])
    return ys[right - 1] + share * (ys[right] - ys[right - 1])
