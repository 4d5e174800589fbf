"""An edition: every stated figure, value and remark as they stood on one day, frozen in one JSON file."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from generator.check.edition import FIELDS, FORMAT, compact, digest

PARTS = tuple(FIELDS)

Row = Mapping[str, Any]


@dataclass(frozen=True, slots=True)
class Edition:
    """``stated``, ``values`` and ``remarks`` map an id to its row; ``date`` is the day it was frozen (ISO 8601)."""

    name: str
    date: str
    stated: Mapping[str, Row]
    values: Mapping[str, Row]
    remarks: Mapping[str, Row]

    def part(self, name: str) -> Mapping[str, Row]:
        """Return one part by name."""
        return {"stated": self.stated, "values": self.values, "remarks": self.remarks}[name]

    def row(self, id: str) -> Row | None:
        """Return the row of an id of any part, or None."""
        return self.stated.get(id) or self.values.get(id) or self.remarks.get(id)

    @property
    def year(self) -> int:
        return int(self.name.split(".")[0])

    @property
    def month(self) -> int:
        return int(self.name.split(".")[1])


def edition_from(data: Mapping[str, Any]) -> Edition:
    """Build an edition from the checked content of its file."""
    parts = {part: {row[0]: dict(zip(fields, row)) for row in data[part]} for part, fields in FIELDS.items()}
    return Edition(data["edition"], data["date"], **parts)


def edition_data(edition: Edition) -> dict[str, Any]:
    """Return the content of an edition's file; rows are sorted by id."""
    rows = {part: _rows(edition.part(part), fields) for part, fields in FIELDS.items()}
    head = {"format": FORMAT, "edition": edition.name, "date": edition.date, "licence": "CC-BY-4.0"}
    columns = {f"{part}_fields": list(fields) for part, fields in FIELDS.items()}
    return {**head, "sha256": digest({**head, **columns, **rows}), **columns, **rows}


def _rows(part: Mapping[str, Row], fields: tuple[str, ...]) -> list[list[Any]]:
    return [[part[id][name] for name in fields] for id in sorted(part)]


def edition_text(edition: Edition) -> str:
    """Return the text of an edition's file: one row a line, so that a comparison of two editions reads well."""
    lines = []
    for name, content in edition_data(edition).items():
        if name in PARTS:
            rows = ",\n".join(compact(row) for row in content)
            lines.append(f'"{name}":[\n{rows}\n]' if rows else f'"{name}":[]')
        else:
            lines.append(f'"{name}":{compact(content)}')
    return "{\n" + ",\n".join(lines) + "\n}\n"
