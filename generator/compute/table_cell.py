"""Measured tables of open-circuit voltage and resistance: the voltage at rest and at one honest rate.

The loaded voltage is U = U0 - I R (Ohm's law), one resistance a state of charge. Against porous-electrode models such
a table is 20 to 50 mV off and overstates the capacity at higher rates, so one slow rate is all that is shown.
"""

from __future__ import annotations

from dataclasses import dataclass

from generator.model.published import ChargeTable, Published

LOADED_C = 0.2


@dataclass(frozen=True, slots=True)
class TableCurve:
    """One measured table, per cell of the block: voltages [V] at rest and under ``LOADED_C``, resistance [mOhm].

    Points run from full to empty; ``capacity_ah`` is the charge taken out, by the table's own state of charge.
    """

    key: str
    temperature_c: float
    c_rate: float
    state_of_charge: tuple[float, ...]
    capacity_ah: tuple[float, ...]
    open_circuit_v: tuple[float, ...]
    loaded_v: tuple[float, ...]
    resistance_mohm: tuple[float, ...]
    source: str
    grade: str
    note: str | None


def table_curves(cell: Published) -> tuple[TableCurve, ...]:
    """Return the curves of a cell of kind table-with-resistance, empty for every other kind."""
    return tuple(_curve(cell, table) for table in cell.tables)


def _curve(cell: Published, table: ChargeTable) -> TableCurve:
    count, nominal_ah = cell.cells_in_series, cell.nominal_capacity_ah
    current_a = LOADED_C * nominal_ah
    falling = [column[::-1] for column in (table.state_of_charge, table.open_circuit_v, table.discharge_resistance_ohm)]
    charge, rest_v, ohm = falling
    loaded = [volts - current_a * r for volts, r in zip(rest_v, ohm, strict=True)]
    return TableCurve(
        key=table.key,
        temperature_c=table.temperature_c,
        c_rate=LOADED_C,
        state_of_charge=charge,
        capacity_ah=_rounded(((1.0 - share) * nominal_ah for share in charge)),
        open_circuit_v=_rounded(volts / count for volts in rest_v),
        loaded_v=_rounded(volts / count for volts in loaded),
        resistance_mohm=_rounded((1000.0 * r / count for r in ohm), 3),
        source=table.source,
        grade=table.grade,
        note=table.note,
    )


def _rounded(numbers, places: int = 6) -> tuple[float, ...]:
    return tuple(round(number, places) for number in numbers)
