"""Reading what was typed: numbers within sensible bounds, or a sentence that says what and where."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass

from generator.compute.cell_table import CellTable
from generator.compute.worksheet_types import Inputs
from generator.compute.worksheet_words import FIELDS, REFUSALS

_NUMBER = re.compile(r"[+-]?[0-9]{1,9}(?:[.,][0-9]{1,9})?")
OPTIONAL = ("resistance_mohm", "current_max_a")
DEFAULTS = {"series": "4", "parallel": "1", "duty_percent": "100", "ambient_c": "25"}
LEAST_CELL_AH = 0.1  # a laboratory cell is smaller than any a pack is built from
_SHOWN = 40


@dataclass(frozen=True, slots=True)
class Refusal:
    """A field that cannot be used and the sentence that says why."""

    field: str
    sentence: str


def read(raw: Mapping[str, str], tables: Mapping[str, CellTable], default_cells: Mapping[str, str]) -> tuple[Inputs | None, list[Refusal]]:
    """Return (inputs, refusals); inputs is None when anything is refused. Texts not given or empty take defaults."""
    chemistry = raw.get("chemistry", "")
    if chemistry not in default_cells:
        return None, [_refusal("chemistry", "chemistry", chemistry)]
    cell = raw.get("cell") or default_cells[chemistry]
    if cell not in tables or tables[cell].chemistry != chemistry:
        return None, [_refusal("cell", "cell", cell)]
    kind = raw.get("load_kind") or "none"
    if kind not in ("none", "a", "w", "ohm"):
        return None, [_refusal("load_kind", "load-kind", kind)]
    numbers, refusals = _numbers({**raw, "capacity_ah": raw.get("capacity_ah") or default_capacity(tables[cell])}, kind)
    if refusals:
        return None, refusals
    return Inputs(chemistry=chemistry, cell=cell, load_kind=kind, **numbers), []


def default_capacity(table: CellTable) -> str:
    """Return the capacity taken when none is given: the published cell's, 1 Ah for a laboratory cell or none at all."""
    return f"{table.capacity_ah:g}" if table.capacity_ah >= LEAST_CELL_AH else "1"


def _numbers(raw: Mapping[str, str], kind: str) -> tuple[dict, list[Refusal]]:
    numbers: dict = {}
    refusals = []
    for name in FIELDS:
        text = (raw.get(name) or "").strip() or DEFAULTS.get(name, "")
        if name == "load" and kind == "none" or name in OPTIONAL and not text:
            numbers[name] = None
            continue
        value, refusal = number(name, text)
        numbers[name] = value
        refusals += [refusal] if refusal else []
    return numbers, refusals


def number(name: str, text: str) -> tuple[float | None, Refusal | None]:
    """Return (number, None) for one field's text, or (None, refusal)."""
    if not text:
        return None, _refusal(name, "empty", text)
    if not _NUMBER.fullmatch(text):
        return None, _refusal(name, "not-a-number", text)
    value = float(text.replace(",", "."))
    _, _, low, high, whole = FIELDS[name]
    if whole and value != int(value):
        return None, _refusal(name, "not-whole", text)
    if not low <= value <= high:
        return None, _refusal(name, "out-of-range", text)
    return (int(value) if whole else value), None


def _refusal(field: str, code: str, text: str) -> Refusal:
    shown = text if len(text) <= _SHOWN else f"{text[:_SHOWN]}..."
    name, unit, low, high, _ = FIELDS.get(field, (field, "", 0, 0, False))
    span = {"low": f"{low:.10g}", "high": f"{high:.10g}{' ' + unit if unit else ''}"}
    return Refusal(field, REFUSALS[code].format(name=name, text=shown, **span))
