"""One JSON file a chemistry or practice file, and the index of them all. Every field is always present."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import asdict, fields
from typing import Any

from generator.address import LICENCE, SITE, permalink
from generator.compute.results import Results
from generator.export.table import Table
from generator.model.library import Library
from generator.model.subject import Condition, Remark, Stated, Subject, Value

VERSION = "v1"

_OWN = ("id", "kind", "name", "abbreviation", "family", "rechargeable", "positive", "negative", "electrolyte", "iec_letters")
_LISTS = ("also_called", "cautions", "series_usual", "block_cells")
_VALUE = ("id", "key", "variant", "min", "typical", "max", "applies_to", "source", "locator", "grade", "reported_by", "working", "note")
_STATED = ("id", "variant", "min", "typical", "max", "rule", "because", "grade", "unchecked")
_REMARK = ("id", "key", "topic", "text", "source", "locator", "grade", "reported_by", "working")


def subject_data(subject: Subject, library: Library, results: Results) -> dict[str, Any]:
    """Return everything the almanac says of one subject."""
    return {
        "version": VERSION,
        "edition": edition_name(library),
        "licence": LICENCE,
        **{name: getattr(subject, name) for name in _OWN},
        **{name: list(getattr(subject, name)) for name in _LISTS},
        "identity": subject.identity,
        "label_reason": subject.label_reason,
        "page": permalink(subject),
        "variants": [asdict(variant) for variant in subject.variants],
        "stated": [_stated(item, subject) for item in subject.stated],
        "values": [_value(item, subject) for item in subject.values],
        "remarks": [_remark(item, subject) for item in subject.remarks],
        "pack_voltages": [asdict(row) for row in results.packs.get(subject.id, ())],
    }


def edition_name(library: Library) -> str | None:
    """Return the name of the newest edition, None before the first."""
    return library.editions[-1].name if library.editions else None


def _stated(item: Stated, subject: Subject) -> dict[str, Any]:
    return {**_pick(item, _STATED), **_measured(item), "value_ids": list(item.value_ids), "link": permalink(subject, item)}


def _value(item: Value, subject: Subject) -> dict[str, Any]:
    return {**_pick(item, _VALUE), **_measured(item), "condition": _condition(item.condition), "link": permalink(subject, item)}


def _remark(item: Remark, subject: Subject) -> dict[str, Any]:
    return {**_pick(item, _REMARK), "condition": _condition(item.condition), "link": permalink(subject, item)}


def _measured(item: Value | Stated) -> dict[str, Any]:
    return {"quantity": item.quantity.id, "unit": item.unit.symbol, "unit_ucum": item.unit.ucum}


def _condition(condition: Condition) -> dict[str, Any]:
    return {field.name: getattr(condition, field.name) for field in fields(condition)}


def _pick(item: Any, names: tuple[str, ...]) -> dict[str, Any]:
    return {name: getattr(item, name) for name in names}


def index_data(library: Library, tables: Sequence[Table]) -> dict[str, Any]:
    """Return the index: subjects, units, quantities, tables and editions with their addresses."""
    return {
        "version": VERSION,
        "edition": edition_name(library),
        "licence": LICENCE,
        "site": SITE,
        "chemistries": [_entry(s, "chemistries") for s in library.chemistries.values()],
        "practices": [_entry(s, "practice") for s in library.practices.values()],
        "units": [asdict(unit) for unit in library.units.values()],
        "quantities": [_quantity(quantity) for quantity in library.quantities.values()],
        "tables": [{"path": t.path, "title": t.title, "description": t.description, "rows": len(t.rows)} for t in tables],
        "editions": [{"name": e.name, "date": e.date, "path": f"editions/{e.name}.json"} for e in library.editions],
    }


def _entry(subject: Subject, folder: str) -> dict[str, Any]:
    counts = {"stated": len(subject.stated), "values": len(subject.values), "remarks": len(subject.remarks)}
    shown = _pick(subject, ("id", "name", "abbreviation", "family", "rechargeable"))
    return {**shown, "page": permalink(subject), "path": f"{folder}/{subject.id}.json", "citations": f"citations/{subject.id}.json", **counts}


def _quantity(quantity: Any) -> dict[str, Any]:
    return {**asdict(quantity), "unit": quantity.unit.symbol, "unit_ucum": quantity.unit.ucum, "tasks": list(quantity.tasks)}
