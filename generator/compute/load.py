"""How long a pack carries a load: the discharge curve integrated under constant current, power or resistance.

The time is the integral of dq/i by the trapezoidal rule, the current found from the load at every step.
docs/assets/worksheet.js takes the same steps in the same order, so that both give the same bits;
tests/vectors/worksheet.json holds them together.
"""

from __future__ import annotations

from dataclasses import dataclass

from generator.compute.loaded_cell import LoadedCell, charge_at, rest_at, volts_at

STEPS = 100
HALVINGS = 40
ROOT_STEPS = 12
SCAN = 16


@dataclass(frozen=True, slots=True)
class Load:
    """What a pack feeds. ``kind`` is a (ampere), w (watt) or ohm; ``value`` is of the whole pack."""

    kind: str
    value: float


@dataclass(frozen=True, slots=True)
class Run:
    """One discharge of a pack under load. Times in hours under load, voltages and currents of one cell.

    ``stop`` is cutoff, charge (all of it is out), current (the cells cannot give more) or at-once (no run at all).
    ``sag_v`` and ``half_a`` are at half the charge: rest voltage less loaded voltage, and the current.
    """

    hours: float
    charge_ah: float
    energy_wh: float
    start_v: float | None
    start_a: float | None
    end_a: float | None
    half_a: float | None
    sag_v: float | None
    stop: str


def current_at(cell: LoadedCell, load: Load, series: int, parallel: int, charge_ah: float) -> float | None:
    """Return the current of one cell [A], None where the cell cannot give what the load asks."""
    if load.kind == "a":
        ampere = load.value / parallel
        return ampere if ampere <= cell.current_max_a else None
    if load.kind == "ohm":
        ohm = load.value * parallel / series
        top = cell.current_max_a
        if top * ohm < volts_at(cell, charge_ah, top):
            return None
        return _root(lambda i: i * ohm - volts_at(cell, charge_ah, i), 0.0, top)
    watt = load.value / (series * parallel)
    low = 0.0
    for step in range(1, SCAN + 1):
        high = cell.current_max_a * step / SCAN
        if high * volts_at(cell, charge_ah, high) >= watt:
            return _root(lambda i: i * volts_at(cell, charge_ah, i) - watt, low, high)
        low = high
    return None


def _root(miss, low: float, high: float) -> float:
    """Return where ``miss``, negative at ``low`` and not at ``high``, turns: false position with halving (Illinois)."""
    at_low, at_high = miss(low), miss(high)
    side = 0
    for _ in range(ROOT_STEPS):
        if at_high == at_low:
            break
        middle = high - at_high * (high - low) / (at_high - at_low)
        at_middle = miss(middle)
        if at_middle < 0.0:
            low, at_low = middle, at_middle
            if side == -1:
                at_high = at_high / 2.0
            side = -1
        else:
            high, at_high = middle, at_middle
            if side == 1:
                at_low = at_low / 2.0
            side = 1
    return high


def run(cell: LoadedCell, load: Load, series: int, parallel: int, cutoff_v: float) -> Run:
    """Return the discharge of a full pack under the load down to the cut-off [V per cell] or the end of its charge."""

    def state(charge_ah: float) -> tuple[float, float] | None:
        ampere = current_at(cell, load, series, parallel, charge_ah)
        if ampere is None or charge_ah > charge_at(cell, ampere):
            return None
        volts = volts_at(cell, charge_ah, ampere)
        return (ampere, volts) if volts > cutoff_v else None

    first = state(0.0)
    if first is None:
        return Run(0.0, 0.0, 0.0, None, None, None, None, None, "at-once")
    hours, energy, charge, (ampere, volts) = _march(cell, state, first)
    half = current_at(cell, load, series, parallel, charge / 2.0)
    sag = None if half is None else rest_at(cell, charge / 2.0) - volts_at(cell, charge / 2.0, half)
    stop = _stop(cell, charge, ampere, volts, cutoff_v)
    return Run(hours, charge, energy * series * parallel, first[1], first[0], ampere, half, sag, stop)


def _march(cell: LoadedCell, state, first: tuple[float, float]):
    """(hours, energy of one cell, charge, last state) by the trapezoidal rule over the charge."""
    hours = energy = charge = 0.0
    ampere, volts = first
    for step in range(1, STEPS + 1):
        x = step / STEPS
        whole = cell.charges_ah[0] * (x * x * (3.0 - 2.0 * x))  # steps are shorter at the two steep ends
        target, found = whole, state(whole)
        if found is None:
            target, found = _last(state, charge, target, (ampere, volts))
        hours += (target - charge) * (1.0 / ampere + 1.0 / found[0]) / 2.0
        energy += (target - charge) * (volts + found[1]) / 2.0
        charge, (ampere, volts) = target, found
        if target < whole:
            break
    return hours, energy, charge, (ampere, volts)


def _last(state, low: float, high: float, at_low: tuple[float, float]):
    """The last charge at which the pack still runs, with its current and voltage."""
    found = at_low
    for _ in range(HALVINGS):
        middle = (low + high) / 2.0
        here = state(middle)
        if here is None:
            high = middle
        else:
            low, found = middle, here
    return low, found


def _stop(cell: LoadedCell, charge_ah: float, ampere: float, volts: float, cutoff_v: float) -> str:
    if volts <= cutoff_v + 1.0e-3:
        return "cutoff"
    return "charge" if charge_ah >= charge_at(cell, ampere) * (1.0 - 1.0e-6) else "current"
