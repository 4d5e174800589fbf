"""A cell of given capacity at one temperature: its voltage at any charge taken out and any current.

The voltage is interpolated between the curves of the two neighbouring rates, each read at the same share of its own
charge, and between the two neighbouring temperatures. docs/assets/worksheet.js takes the same steps in the same order.
"""

from __future__ import annotations

from bisect import bisect_right
from dataclasses import dataclass

from generator.compute.cell_table import CellTable

TEMPERATURE_SLACK_K = 5.0  # curves serve this far outside their temperatures
OWN_RATE_MAX_C = 10.0  # open circuit and resistance say nothing useful beyond


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
