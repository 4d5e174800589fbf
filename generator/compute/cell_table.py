"""What a pack worksheet needs to know of a cell's voltage: one table a published cell, the same for Python and the page.

Rest voltage over the share of charge taken out, and loaded voltages at the rates and temperatures the published model is
valid for. Rates are multiples of the charge that a 0.2 C discharge gives at 25 degrees, which is also what "capacity"
means on the worksheet.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from generator.compute.curves import REFERENCE_C, CellCurves
from generator.compute.porous import open_circuit
from generator.compute.table_cell import TableCurve
from generator.model.library import Library
from generator.model.published import Published

CAPACITY_RATE_C = 0.2
TABLE_RATE_MAX_C = 1.0
FLAT_RATE_MAX_C = 1.0
_PLACES = 6


@dataclass(frozen=True, slots=True)
class LoadedCurve:
    """Voltage [V] at the table's shares of ``charge``, the whole charge of this discharge as a multiple of the capacity."""

    c_rate: float
    charge: float
    voltage_v: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class CellTable:
    """One cell's voltages. ``kind`` is curves, rest (open circuit and resistance) or flat (nominal voltage only).

    ``share`` runs from 0 (full) to 1 (empty); ``rest_v`` stands at each share of ``rest_charge``; ``ohm_ah`` is the
    resistance of a cell of 1 Ah at each share, None where it is not known. ``families`` holds, for each of
    ``temperatures_c``, the loaded curves by rising rate; empty unless the kind is curves.
    """

    id: str
    chemistry: str
    kind: str
    capacity_ah: float
    rate_max_c: float
    temperatures_c: tuple[float, ...]
    share: tuple[float, ...]
    rest_charge: float
    rest_v: tuple[float, ...]
    ohm_ah: tuple[float, ...] | None
    families: tuple[tuple[LoadedCurve, ...], ...]


def cell_tables(library: Library, curves: Mapping[str, CellCurves], tables: Mapping[str, tuple[TableCurve, ...]]) -> dict[str, CellTable]:
    """Return the table of every published cell that has curves or a measured table, and a flat one a chemistry, by id."""
    made: dict[str, CellTable] = {}
    for cell in library.cells.values():
        if cell.id in curves:
            made[cell.id] = _from_curves(cell, curves[cell.id])
        elif cell.id in tables:
            made[cell.id] = _from_table(cell, tables[cell.id][0])
    for id, subject in library.chemistries.items():
        nominal = subject.volts("nominal-voltage")
        if nominal is not None:
            made[f"{id}-flat"] = _flat(id, nominal)
    return made


def default_cell(library: Library, tables: Mapping[str, CellTable], chemistry: str) -> str:
    """Return the id of the table a worksheet of this chemistry starts with.

    Curves before measured tables before the flat voltage; then a cell whose full voltage is the chemistry's, then the
    one that covers most rates and temperatures.
    """
    full = library.chemistries[chemistry].volts("charge-voltage-max")
    order = ("curves", "rest", "flat")

    def rank(table: CellTable):
        cell = library.cells.get(table.id)
        differs = cell is None or full is None or cell.voltage_max_v != full
        return order.index(table.kind), differs, -sum(len(family) for family in table.families), table.id

    return min((t for t in tables.values() if t.chemistry == chemistry), key=rank).id


def _from_curves(cell: Published, found: CellCurves) -> CellTable:
    reference = found.curve(CAPACITY_RATE_C) or found.family()[0]
    capacity = reference.capacity_ah[-1]
    count = len(reference.capacity_ah)
    share = (1.0 - np.cos(np.pi * np.linspace(0.0, 1.0, count))) / 2.0
    families = []
    for temperature in found.temperatures_c():
        family = (LoadedCurve(_round(c.c_rate * cell.nominal_capacity_ah / capacity), _round(c.capacity_ah[-1] / capacity), c.voltage_v) for c in found.family(temperature))
        families.append(tuple(family))
    return CellTable(
        id=cell.id,
        chemistry=cell.chemistry,
        kind="curves",
        capacity_ah=_significant(cell.nominal_capacity_ah),
        rate_max_c=min(family[-1].c_rate for family in families),
        temperatures_c=found.temperatures_c(),
        share=tuple(_round(x) for x in share),
        rest_charge=_round(found.window_ah / capacity),
        rest_v=tuple(_round(x) for x in _rest(cell, found, share)),
        ohm_ah=None,
        families=tuple(families),
    )


def _rest(cell: Published, found: CellCurves, share: np.ndarray) -> np.ndarray:
    if cell.porous:
        return open_circuit(cell.porous, 1.0 - share)
    return np.interp(share, found.share_discharged, found.open_circuit_v)


def _from_table(cell: Published, table: TableCurve) -> CellTable:
    pairs = zip(table.state_of_charge, table.open_circuit_v, table.resistance_mohm, strict=True)
    rows = [(1.0 - share, volts, ohm / 1000.0 * cell.nominal_capacity_ah) for share, volts, ohm in pairs]
    share, volts, ohm = zip(*rows, strict=True)
    return CellTable(
        id=cell.id,
        chemistry=cell.chemistry,
        kind="rest",
        capacity_ah=_significant(cell.nominal_capacity_ah),
        rate_max_c=TABLE_RATE_MAX_C,
        temperatures_c=(table.temperature_c,),
        share=tuple(_round(x) for x in share),
        rest_charge=1.0,
        rest_v=tuple(_round(x) for x in volts),
        ohm_ah=tuple(_round(x) for x in ohm),
        families=(),
    )


def _flat(chemistry: str, nominal_v: float) -> CellTable:
    pair = (nominal_v, nominal_v)
    return CellTable(f"{chemistry}-flat", chemistry, "flat", 1.0, FLAT_RATE_MAX_C, (REFERENCE_C,), (0.0, 1.0), 1.0, pair, None, ())


def _round(number: float) -> float:
    return round(float(number), _PLACES)


def _significant(number: float) -> float:
    """Four significant digits: a capacity printed on a cell."""
    return float(f"{number:.4g}") if math.isfinite(number) else number
