"""How long a pack carries a load: the discharge curve integrated under constant current, power or resistance.

The voltage of a cell at a charge q taken out and a current i is interpolated between the curves of the two neighbouring
rates, each read at the same share of its own charge, and between the two neighbouring temperatures. The time is the
integral of dq/i by the trapezoidal rule. docs/assets/worksheet.js takes the same steps in the same order, so that both
give the same bits; tests/vectors/worksheet.json holds them together.
"""

from __future__ import annotations

from bisect import bisect_right
from dataclasses import dataclass

from generator.compute.cell_table import CellTable

STEPS = 100
HALVINGS = 40
ROOT_STEPS = 12
TEMPERATURE_SLACK_K = 5.0  # curves serve this far outside their temperatures
OWN_RATE_MAX_C = 10.0  # open circuit and resistance say nothing useful beyond
SCAN = 16


@dataclass(frozen=True, slots=True)
class LoadedCell:
    """A cell of given capacity at one temperature. ``rates_a``, ``charges_ah`` and ``volts`` belong together, rest first.

    With ``ohm`` the loaded voltage is the rest voltage less current times resistance instead.
    """

    share: tuple[float, ...]
    rates_a: tuple[float, ...]
    charges_ah: tuple[float, ...]
    volts: tuple[tuple[float, ...], ...]
    ohm: tuple[float, ...] | None
    current_max_a: float


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


def cell_at(table: CellTable, capacity_ah: float, ambient_c: float, own_mohm: float | None) -> LoadedCell | None:
    """Return the cell at a temperature, None where the table's temperatures are too far away.

    ``own_mohm``, a measured resistance [mOhm], takes the place of the published loaded curves.
    """
    low, high = table.temperatures_c[0], table.temperatures_c[-1]
    if ambient_c < low - TEMPERATURE_SLACK_K or ambient_c > high + TEMPERATURE_SLACK_K:
        return None
    rest_ah = table.rest_charge * capacity_ah
    if own_mohm is not None:
        ohm = tuple(own_mohm / 1000.0 for _ in table.share)
        return LoadedCell(table.share, (0.0,), (rest_ah,), (table.rest_v,), ohm, OWN_RATE_MAX_C * capacity_ah)
    top = table.rate_max_c * capacity_ah
    if not table.families:
        ohm = None if table.ohm_ah is None else tuple(r / capacity_ah for r in table.ohm_ah)
        return LoadedCell(table.share, (0.0,), (rest_ah,), (table.rest_v,), ohm or tuple(0.0 for _ in table.share), top)
    return _blended(table, capacity_ah, min(max(ambient_c, low), high), rest_ah, top)


def _blended(table: CellTable, capacity_ah: float, celsius: float, rest_ah: float, top: float) -> LoadedCell:
    place = _place(table.temperatures_c, celsius)
    cold, warm = table.families[place], table.families[min(place + 1, len(table.families) - 1)]
    span = table.temperatures_c[min(place + 1, len(table.families) - 1)] - table.temperatures_c[place]
    weight = (celsius - table.temperatures_c[place]) / span if span > 0.0 else 0.0
    rates, charges, volts = [0.0], [rest_ah], [table.rest_v]
    for a, b in zip(cold, warm):  # the shorter family ends both: no rate without a curve on either side
        rates.append(a.c_rate * capacity_ah)
        charges.append((a.charge + (b.charge - a.charge) * weight) * capacity_ah)
        volts.append(tuple(x + (y - x) * weight for x, y in zip(a.voltage_v, b.voltage_v, strict=True)))
    return LoadedCell(table.share, tuple(rates), tuple(charges), tuple(volts), None, min(top, rates[-1]))


def _place(grid: tuple[float, ...], x: float) -> int:
    """Index of the interval that holds x, the last one beyond the end."""
    return min(max(bisect_right(grid, x) - 1, 0), max(len(grid) - 2, 0))


def _between(grid: tuple[float, ...], values: tuple[float, ...], place: int, x: float) -> float:
    if x <= grid[0]:
        return values[0]
    if x >= grid[-1]:
        return values[-1]
    return values[place] + (values[place + 1] - values[place]) * ((x - grid[place]) / (grid[place + 1] - grid[place]))


def charge_at(cell: LoadedCell, ampere: float) -> float:
    """Return the whole charge [Ah] a discharge at this current gives."""
    if cell.ohm is not None:
        return cell.charges_ah[0]
    k = _place(cell.rates_a, ampere)
    weight = (ampere - cell.rates_a[k]) / (cell.rates_a[k + 1] - cell.rates_a[k])
    return cell.charges_ah[k] + (cell.charges_ah[k + 1] - cell.charges_ah[k]) * weight


def volts_at(cell: LoadedCell, charge_ah: float, ampere: float) -> float:
    """Return the voltage [V] with this charge taken out and this current flowing."""
    u = charge_ah / charge_at(cell, ampere)
    place = _place(cell.share, u)
    if cell.ohm is not None:
        return _between(cell.share, cell.volts[0], place, u) - ampere * _between(cell.share, cell.ohm, place, u)
    k = _place(cell.rates_a, ampere)
    weight = (ampere - cell.rates_a[k]) / (cell.rates_a[k + 1] - cell.rates_a[k])
    slow = _between(cell.share, cell.volts[k], place, u)
    fast = _between(cell.share, cell.volts[k + 1], place, u)
    return slow + (fast - slow) * weight


def rest_at(cell: LoadedCell, charge_ah: float) -> float:
    """Return the voltage at rest [V] with this charge taken out."""
    u = charge_ah / cell.charges_ah[0]
    return _between(cell.share, cell.volts[0], _place(cell.share, u), u)


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
    hours = energy = charge = 0.0
    ampere, volts = first
    for step in range(1, STEPS + 1):
        x = step / STEPS
        target = cell.charges_ah[0] * (x * x * (3.0 - 2.0 * x))  # steps are shorter at the two steep ends
        found = state(target)
        if found is None:
            target, found = _last(state, charge, target, (ampere, volts))
        hours += (target - charge) * (1.0 / ampere + 1.0 / found[0]) / 2.0
        energy += (target - charge) * (volts + found[1]) / 2.0
        ended = target < cell.charges_ah[0] * (x * x * (3.0 - 2.0 * x))
        charge, (ampere, volts) = target, found
        if ended:
            break
    half = current_at(cell, load, series, parallel, charge / 2.0)
    sag = None if half is None else rest_at(cell, charge / 2.0) - volts_at(cell, charge / 2.0, half)
    stop = _stop(cell, charge, ampere, volts, cutoff_v)
    return Run(hours, charge, energy * series * parallel, first[1], first[0], ampere, half, sag, stop)


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
