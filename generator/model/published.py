"""A published cell model as readers meet it: what it is, how far it holds, what is weak about it, and its payload."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from generator.model.cell import CellModel, cell_from_data
from generator.model.function import Function, function_from_data


@dataclass(frozen=True, slots=True)
class NamedFunction:
    """One published open-circuit function: of one electrode or, with ``electrode`` None, of the whole cell."""

    key: str
    name: str
    electrode: str | None
    source: str
    locator: str | None
    grade: str
    note: str | None
    function: Function


@dataclass(frozen=True, slots=True)
class ChargeTable:
    """Measured points: state of charge (0 to 1) with open-circuit voltage and resistances of the whole block."""

    key: str
    temperature_c: float
    source: str
    grade: str
    note: str | None
    state_of_charge: tuple[float, ...]
    open_circuit_v: tuple[float, ...]
    discharge_resistance_ohm: tuple[float, ...]


@dataclass(frozen=True, slots=True, eq=False)
class Published:
    """One file of ``cells/``. ``kind`` says which payload is there: ``porous``, ``functions`` or ``tables``.

    Voltages are of one cell; ``cells_in_series`` is how many cells the tabulated block has. ``data`` is the
    file's checked content, for what pages show beside the curves and for recognising a stale result.
    """

    id: str
    kind: str
    name: str
    chemistry: str
    format: str | None
    description: str
    weakness: str
    source: str
    locator: str | None
    grade: str
    reported_by: str | None
    nominal_capacity_ah: float | None
    nominal_capacity_note: str | None
    voltage_min_v: float | None
    voltage_max_v: float | None
    voltage_note: str | None
    rate_max_c: float | None
    rate_basis: str | None
    rate_note: str | None
    temperatures_valid_c: tuple[float, ...]
    temperature_note: str
    cells_in_series: int
    porous: CellModel | None
    functions: tuple[NamedFunction, ...]
    tables: tuple[ChargeTable, ...]
    data: Mapping[str, Any]
    file: str

    @property
    def page(self) -> str:
        """Address of the cell's page from the site's root."""
        return f"curves/{self.id}/"


_PLAIN = ("id", "kind", "name", "chemistry", "description", "weakness", "source", "grade", "temperature_note")
_OPTIONAL = ("format", "locator", "reported_by", "nominal_capacity_note", "voltage_note", "rate_max_c", "rate_basis", "rate_note", "nominal_capacity_ah", "voltage_min_v", "voltage_max_v")


def published_from(data: Mapping[str, Any], file: str) -> Published:
    """Build a published cell from the checked content of its file."""
    return Published(
        **{name: data[name] for name in _PLAIN},
        **{name: data.get(name) for name in _OPTIONAL},
        temperatures_valid_c=tuple(float(t) for t in data["temperatures_valid_c"]),
        cells_in_series=data.get("cells_in_series", 1),
        porous=cell_from_data(data) if data["kind"] == "porous-electrode" else None,
        functions=tuple(_named(item) for item in data.get("functions", ())),
        tables=tuple(_table(item) for item in data.get("tables", ())),
        data=data,
        file=file,
    )


def _named(item: Mapping[str, Any]) -> NamedFunction:
    return NamedFunction(
        item["key"], item["name"], item.get("electrode"), item["source"], item.get("locator"), item["grade"], item.get("note"), function_from_data(item)
    )


def _table(item: Mapping[str, Any]) -> ChargeTable:
    columns = {name: tuple(map(float, item.get(name, ()))) for name in ("state_of_charge", "open_circuit_v", "discharge_resistance_ohm")}
    return ChargeTable(item["key"], float(item["temperature_c"]), item["source"], item["grade"], item.get("note"), **columns)
