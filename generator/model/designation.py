"""Designations: patterns, letter tables, whole names and printed examples, as frozen data."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from generator.model.label import Evidence, evidence_from


@dataclass(frozen=True, slots=True)
class Row:
    """One letter, number or whole name with its meaning."""

    code: str
    meaning: str
    chemistries: tuple[str, ...]
    size: str | None
    series: int | None
    evidence: Evidence


@dataclass(frozen=True, slots=True)
class Table:
    """What the letters of one place mean."""

    id: str
    name: str
    rows: tuple[Row, ...]

    def row(self, code: str) -> Row | None:
        return next((row for row in self.rows if row.code == code), None)


@dataclass(frozen=True, slots=True)
class PartRule:
    """What one group of a pattern is."""

    role: str
    name: str
    table: str | None
    decimals: int
    meaning: str | None
    evidence: Evidence | None


@dataclass(frozen=True, slots=True)
class Pattern:
    """One form of marking; ``expression`` reads the same in Python and JavaScript."""

    id: str
    expression: str
    meaning: str
    note: str | None
    parts: tuple[PartRule, ...]
    chemistry_parts: tuple[int, ...]
    chemistry_table: str | None
    size_parts: tuple[int, ...]
    size_table: str | None


@dataclass(frozen=True, slots=True)
class Example:
    """A marking as printed in a source, with what the source says it means."""

    marking: str
    says: str
    evidence: Evidence


@dataclass(frozen=True, slots=True)
class DesignationRemark:
    key: str
    text: str
    evidence: Evidence


@dataclass(frozen=True, slots=True)
class Designation:
    """One way of marking cells: a standard's, or the trade's. ``tables`` have ids ``file/table``."""

    id: str
    order: int
    name: str
    identity: str
    tables: tuple[Table, ...]
    names: tuple[Row, ...]
    patterns: tuple[Pattern, ...]
    examples: tuple[Example, ...]
    remarks: tuple[DesignationRemark, ...]


def designations_from(documents: Iterable[Mapping[str, Any]]) -> dict[str, Designation]:
    """Return the designations by id, in the order they are tried."""
    made = [_designation(data) for data in documents]
    return {item.id: item for item in sorted(made, key=lambda item: (item.order, item.id))}


def full_table_id(file: str, table: str | None) -> str | None:
    """Return ``file/table`` for a table named within its own file, unchanged for another file's."""
    return table if table is None or "/" in table else f"{file}/{table}"


def _designation(data: Mapping[str, Any]) -> Designation:
    file = data["id"]
    return Designation(
        id=file,
        order=data["order"],
        name=data["name"],
        identity=data["identity"],
        tables=tuple(Table(f"{file}/{t['id']}", t["name"], tuple(_row(r, r["code"]) for r in t["rows"])) for t in data["tables"]),
        names=tuple(_row(n, n["name"]) for n in data["names"]),
        patterns=tuple(_pattern(file, p) for p in data["patterns"]),
        examples=tuple(Example(e["marking"], e["says"], evidence_from(e)) for e in data["examples"]),
        remarks=tuple(DesignationRemark(r["key"], r["text"], evidence_from(r)) for r in data["remarks"]),
    )


def _row(item: Mapping[str, Any], code: str) -> Row:
    return Row(code, item["meaning"], tuple(item.get("chemistries", ())), item.get("size"), item.get("series"), evidence_from(item))


def _pattern(file: str, item: Mapping[str, Any]) -> Pattern:
    return Pattern(
        id=f"{file}/{item['id']}",
        expression=item["pattern"],
        meaning=item["meaning"],
        note=item.get("note"),
        parts=tuple(_part(file, p) for p in item["parts"]),
        chemistry_parts=tuple(item.get("chemistry_parts", ())),
        chemistry_table=full_table_id(file, item.get("chemistry_table")),
        size_parts=tuple(item.get("size_parts", ())),
        size_table=full_table_id(file, item.get("size_table")),
    )


def _part(file: str, item: Mapping[str, Any]) -> PartRule:
    return PartRule(
        role=item["role"],
        name=item["name"],
        table=full_table_id(file, item.get("table")),
        decimals=item.get("decimals", 0),
        meaning=item.get("meaning"),
        evidence=evidence_from(item) if "grade" in item else None,
    )
