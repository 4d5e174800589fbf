"""How long a charge takes and what it costs, for every chemistry with a published cell model."""

from __future__ import annotations

from dataclasses import dataclass

from generator.compute.cell_table import CellTable, cell_tables, default_cell
from generator.compute.charging import Charge, cccv, resistance_from_curves
from generator.compute.results import Results
from generator.model.library import Library

RATES_C = (0.2, 0.5, 1.0)
END_RATE_C = 0.05
_RESISTANCE_RATE_C = 0.5
_REFERENCE_C = 25.0


@dataclass(frozen=True, slots=True)
class ChargeRow:
    """The charge of one cell of 1 Ah at one rate. ``stored_wh`` is what the rest curve holds; the rest is heat."""

    chemistry: str
    cell: str
    c_rate: float
    above_limit: bool
    charge: Charge
    stored_wh: float


def charge_rows(library: Library, results: Results) -> tuple[ChargeRow, ...]:
    """Return the rows at RATES_C, chemistries in their order; rates above the stated highest are marked."""
    tables = cell_tables(library, results.curves, results.tables)
    made = []
    for id, subject in library.chemistries.items():
        full, limit = subject.volts("charge-voltage-max"), subject.figure("charge-rate-max")
        if full is None or not any(t.chemistry == id for t in tables.values()):
            continue
        table = tables[default_cell(library, tables, id)]
        if table.kind == "curves" and abs(table.rest_v[0] - full) < 0.05:
            highest = None if limit is None else limit.typical if limit.typical is not None else limit.max
            made += [_row(table, rate, full, highest) for rate in RATES_C]
    return tuple(made)


def _row(table: CellTable, rate: float, full_v: float, highest: float | None) -> ChargeRow:
    taken = [table.rest_charge * (1.0 - share) for share in reversed(table.share)]
    rest = list(reversed(table.rest_v))
    charge = cccv(taken, rest, _ohm(table), rate, full_v, END_RATE_C)
    stored = sum((min(b, charge.charge_ah) - a) * (v + w) / 2 for a, b, v, w in zip(taken, taken[1:], rest, rest[1:], strict=False) if a < charge.charge_ah)
    return ChargeRow(table.chemistry, table.id, rate, highest is not None and rate > highest, charge, stored)


def _ohm(table: CellTable) -> float:
    """One resistance of a cell of 1 Ah from the loaded curve nearest to half the capacity an hour at 25 degrees."""
    family = table.families[table.temperatures_c.index(_REFERENCE_C)]
    curve = min(family, key=lambda c: abs(c.c_rate - _RESISTANCE_RATE_C))
    return resistance_from_curves(table.rest_v, curve.voltage_v, curve.c_rate)
