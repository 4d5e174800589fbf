"""Curves for machines: one table a cell, one of averages, one of open-circuit functions; and JSON for the overlay page."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from generator.compute.curves import REFERENCE_C, CellCurves
from generator.compute.readings import whole_percents
from generator.compute.results import Results
from generator.compute.table_cell import TableCurve
from generator.draw.curve_parts import short_name, table_names
from generator.export.schemas import json_text
from generator.export.table import Column, Table
from generator.model.library import Library
from generator.model.published import Published

_TEXT = "string"


# Tables ----------------------------------------------------------------------------------------------------------


def curve_tables(library: Library, results: Results) -> Iterator[Table]:
    """One table a cell that has a cell voltage."""
    columns = (
        Column("c_rate", "number", "Discharge rate in C, on the set's nominal capacity; 0 is at rest.", required=True),
        Column("temperature_c", "number", "Temperature of the cell, held.", unit="Cel", required=True),
        Column("capacity_ah", "number", "Charge taken out since full.", unit="A.h", required=True),
        Column("voltage_v", "number", "Voltage of one cell.", unit="V", required=True),
        Column("model", _TEXT, "DFN: porous-electrode model. open-circuit: at rest. measured, table: points and points less I R, with the table's key.", required=True),
    )
    key = ("model", "c_rate", "temperature_c", "capacity_ah")
    for cell in library.cells.values():
        rows = _curve_rows(cell, results)
        if rows:
            yield Table(f"curves/{cell.id}.csv", f"Curves of {cell.id}", f"{cell.name}. {cell.weakness}", columns, rows, key)


def averages_table(library: Library, results: Results) -> Iterator[Table]:
    """Averages of every computed discharge, one row a cut-off."""
    columns = (
        Column("cell", _TEXT, "Cell id.", required=True),
        Column("c_rate", "number", "Discharge rate in C, on the set's nominal capacity.", required=True),
        Column("temperature_c", "number", "Temperature of the cell, held.", unit="Cel", required=True),
        Column("cutoff_v", "number", "Voltage of one cell down to which is averaged.", unit="V", required=True),
        Column("energy_averaged_v", "number", "Energy over charge, Wh / Ah.", unit="V", required=True),
        Column("midpoint_v", "number", "Voltage when half of that discharge's charge is out.", unit="V", required=True),
        Column("capacity_ah", "number", "Charge delivered down to the cut-off.", unit="A.h", required=True),
    )
    rows = [
        (id, a.c_rate, a.temperature_c, a.cutoff_v, a.energy_averaged_v, a.midpoint_v, a.capacity_ah)
        for id, curves in results.curves.items()
        for a in curves.averages
    ]
    text = "Energy-averaged and mid-point voltage of computed discharges by rate, temperature and cut-off."
    yield Table("averages.csv", "Averages", text, columns, rows, ("cell", "c_rate", "temperature_c", "cutoff_v"))


def functions_table(library: Library, results: Results) -> Iterator[Table]:
    """Open-circuit functions of electrodes in points."""
    columns = (
        Column("cell", _TEXT, "Cell id.", required=True),
        Column("key", _TEXT, "Key of the function in its cell file.", required=True),
        Column("electrode", _TEXT, "Electrode whose potential it is; empty for a whole cell."),
        Column("stoichiometry", "number", "Share of places filled.", required=True),
        Column("voltage_v", "number", "Open-circuit potential.", unit="V", required=True),
    )
    rows = [
        (id, function.key, function.electrode, x, volts)
        for id, functions in results.functions.items()
        for function in functions
        for x, volts in zip(function.x, function.voltage_v, strict=True)
    ]
    text = "Published open-circuit functions of single electrodes, evaluated over their own range."
    yield Table("open-circuit.csv", "Open-circuit functions", text, columns, rows, ("cell", "key", "stoichiometry"))


def _curve_rows(cell: Published, results: Results) -> list[tuple]:
    if cell.id in results.curves:
        curves = results.curves[cell.id]
        rest = zip(_rest_ah(curves), curves.open_circuit_v, strict=True)
        rows = [(0, REFERENCE_C, charge, volts, "open-circuit") for charge, volts in rest]
        return rows + [(c.c_rate, c.temperature_c, ah, v, c.model) for c in curves.curves for ah, v in zip(c.capacity_ah, c.voltage_v, strict=True)]
    return [row for table in results.tables.get(cell.id, ()) for row in _table_rows(table)]


def _rest_ah(curves: CellCurves) -> tuple[float, ...]:
    return tuple(round(share * curves.window_ah, 9) for share in curves.share_discharged)


def _table_rows(table: TableCurve) -> list[tuple]:
    columns = ((0, table.open_circuit_v, f"measured:{table.key}"), (table.c_rate, table.loaded_v, f"table:{table.key}"))
    return [(rate, table.temperature_c, ah, v, model) for rate, volts, model in columns for ah, v in zip(table.capacity_ah, volts, strict=True)]


# JSON for the overlay --------------------------------------------------------------------------------------------


def curve_files(library: Library, results: Results) -> dict[str, str]:
    """Return, by path below the export folder, each cell's volts at whole percents, and each cell file as JSON."""
    files = {f"cells/{cell.id}.json": json_text(cell.data) for cell in library.cells.values()}
    for cell in library.cells.values():
        lines = _lines(cell, results)
        if lines:
            files[f"curves/{cell.id}.json"] = json_text(_file(cell, lines, results), compact=True)
    return files


def _file(cell: Published, lines: list[dict[str, Any]], results: Results) -> dict[str, Any]:
    whole = results.curves[cell.id].reference_ah if cell.id in results.curves else cell.nominal_capacity_ah
    return {"id": cell.id, "name": short_name(cell), "kind": cell.kind, "chemistry": cell.chemistry, "whole_ah": whole, "lines": lines}


def _lines(cell: Published, results: Results) -> list[dict[str, Any]]:
    if cell.id in results.curves:
        curves = results.curves[cell.id]
        rest = _line(0, REFERENCE_C, "", "open-circuit", _rest_ah(curves), curves.open_circuit_v, curves.reference_ah, None)
        return [rest, *(_line(c.c_rate, c.temperature_c, "", c.model, c.capacity_ah, c.voltage_v, curves.reference_ah, c.stopped_because) for c in curves.curves)]
    tables = results.tables.get(cell.id, ())
    made, whole = [], cell.nominal_capacity_ah
    for name, table in zip(table_names(tables), tables, strict=True):
        made.append(_line(0, table.temperature_c, name, "measured", table.capacity_ah, table.open_circuit_v, whole, None))
        made.append(_line(table.c_rate, table.temperature_c, name, "table", table.capacity_ah, table.loaded_v, whole, None))
    return made


def _line(c_rate, temperature_c, name, model, capacity_ah, voltage_v, whole_ah, stopped) -> dict[str, Any]:
    return {
        "c_rate": c_rate,
        "temperature_c": temperature_c,
        "name": name,
        "model": model,
        "volts": list(whole_percents(capacity_ah, voltage_v, whole_ah)),
        "end_percent": round(100.0 * capacity_ah[-1] / whole_ah, 3),
        "end_v": round(voltage_v[-1], 4),
        "stopped_because": stopped,
    }
