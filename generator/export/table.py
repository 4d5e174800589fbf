"""A table for machines: its columns described once, for the CSV file, the data package and the page about the data."""

from __future__ import annotations

import csv
import io
import json
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Any


@dataclass(frozen=True, slots=True)
class Column:
    """``type`` is a Frictionless type; ``unit`` a UCUM code where the whole column has one unit."""

    name: str
    type: str
    description: str
    unit: str | None = None
    required: bool = False


@dataclass(frozen=True, slots=True)
class ForeignKey:
    """``column`` holds an id that stands in ``other_column`` of the table at ``path``."""

    column: str
    table: str
    other_column: str


@dataclass(frozen=True, slots=True)
class Table:
    """``path`` is below ``data/v1/``; rows have one cell a column, None where nothing is known."""

    path: str
    title: str
    description: str
    columns: Sequence[Column]
    rows: Sequence[Sequence[Any]]
    key: Sequence[str]
    foreign_keys: Sequence[ForeignKey] = ()

    @property
    def name(self) -> str:
        """The name of the table in the data package: lower case, no slashes."""
        return self.path.removesuffix(".csv").replace("/", "-")


def csv_text(table: Table) -> str:
    """Return the table as CSV (RFC 4180 quoting, UTF-8, lines end with LF, a header line, empty cell for unknown).

    Raises ValueError when a row does not have one cell a column.
    """
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(column.name for column in table.columns)
    for row in table.rows:
        if len(row) != len(table.columns):
            raise ValueError(f"{table.path}: a row has {len(row)} cells instead of {len(table.columns)}")
        writer.writerow(_cell(cell) for cell in row)
    return out.getvalue()


def _cell(content: Any) -> Any:
    if isinstance(content, bool):
        return "true" if content else "false"
    if isinstance(content, dict):
        return json.dumps(content, ensure_ascii=False, sort_keys=True) if content else None
    if isinstance(content, str):
        return " ".join(content.split())
    return content


def resource(table: Table, size: int, digest: str) -> dict[str, Any]:
    """Return the table's entry in datapackage.json (Data Package 1, tabular data resource)."""
    return {
        "profile": "tabular-data-resource",
        "name": table.name,
        "path": table.path,
        "title": table.title,
        "description": table.description,
        "format": "csv",
        "mediatype": "text/csv",
        "encoding": "utf-8",
        "bytes": size,
        "hash": f"sha256:{digest}",
        "dialect": {"delimiter": ",", "lineTerminator": "\n", "quoteChar": '"', "doubleQuote": True, "header": True},
        "schema": {
            "fields": [_field(column) for column in table.columns],
            "missingValues": [""],
            "primaryKey": list(table.key),
            "foreignKeys": [_foreign_key(key) for key in table.foreign_keys],
        },
    }


def _field(column: Column) -> dict[str, Any]:
    field: dict[str, Any] = {"name": column.name, "type": column.type, "description": column.description}
    if column.unit:
        field["unit"] = column.unit
    if column.required:
        field["constraints"] = {"required": True}
    return field


def _foreign_key(key: ForeignKey) -> dict[str, Any]:
    return {"fields": key.column, "reference": {"resource": key.table, "fields": key.other_column}}


def unit_columns(figures: str = "") -> Iterable[Column]:
    """Return the columns min, typical, max and unit that every table of figures shares."""
    yield Column("min", "number", f"Lowest figure{figures}, in the row's unit.")
    yield Column("typical", "number", f"Typical, nominal or single figure{figures}, in the row's unit.")
    yield Column("max", "number", f"Highest figure{figures}, in the row's unit.")
    yield Column("unit", "string", "Unit as the almanac writes it.", required=True)
