"""The parameters of a published cell as rows for readers: name, figure, unit, source, grade, how it came about."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from generator.pages.format import MINUS, number

_SUPERSCRIPT = str.maketrans("-0123456789", "\u207b\u2070\u00b9\u00b2\u00b3\u2074\u2075\u2076\u2077\u2078\u2079")

# Ending of a parameter's name, the unit shown, and the factor from SI; the longest ending first.
_UNITS = (
    ("_mol_m3", "mol/m\u00b3", 1.0),
    ("_c_m3", "C/m\u00b3", 1.0),
    ("_m3_mol", "m\u00b3/mol", 1.0),
    ("_kg_mol", "kg/mol", 1.0),
    ("_s_m", "S/m", 1.0),
    ("_1_m", "1/m", 1.0),
    ("_m2", "m\u00b2", 1.0),
    ("_ohm", "\u03a9", 1.0),
    ("_m", "\u00b5m", 1e6),
)
_NAMES = {
    "bruggeman": "Bruggeman exponent",
    "maximum_mol_m3": "highest lithium concentration",
    "initial_mol_m3": "salt concentration at rest",
    "rate": "exchange-current function",
    "entropy": "entropic coefficient dU/dT",
    "potential": "open-circuit potential",
}
_PARTS = (
    ("geometry", "Geometry"),
    ("negative", "Negative electrode"),
    ("separator", "Separator"),
    ("positive", "Positive electrode"),
    ("electrolyte", "Electrolyte"),
)
_STATUS = {"not-stated": "", "fitted": "fitted", "assumed": "assumed", "solved": "solved", "measured": "measured"}
_FORMS = {"constant": "constant", "table": "table"}


@dataclass(frozen=True, slots=True)
class Parameter:
    """One row; ``shown`` is the figure with its unit, or what kind of function it is."""

    name: str
    shown: str
    source: str
    grade: str
    status: str
    locator: str | None
    note: str | None


@dataclass(frozen=True, slots=True)
class Part:
    """A part of the cell with its material and its parameters."""

    title: str
    material: str | None
    rows: tuple[Parameter, ...]


def parts(data: Mapping[str, Any]) -> tuple[Part, ...]:
    """Return the parameters of a cell file by part, in the file's order; empty for a cell without a model."""
    inside = data.get("lead_acid", data)
    made = []
    for name, title in _PARTS:
        part = data.get(name) if name == "geometry" else inside.get(name)
        if part:
            made.append(Part(title, part.get("material"), tuple(_rows(part))))
    return tuple(made)


def _rows(part: Mapping[str, Any]) -> Iterator[Parameter]:
    for name, item in part.items():
        if not isinstance(item, Mapping):
            continue
        if "value" in item:
            yield _row(name, item, _scalar(name, item["value"]))
        elif "terms" in item:
            yield _row(name, item, _function(item))
        else:
            yield from _rows(item)


def _row(name: str, item: Mapping[str, Any], shown: str) -> Parameter:
    note = item.get("working") or item.get("note")
    return Parameter(_name(name), shown, item["source"], item["grade"], _STATUS.get(item["status"], item["status"]), item.get("locator"), note)


def _name(name: str) -> str:
    if name in _NAMES:
        return _NAMES[name]
    for ending, _, _ in _UNITS:
        name = name.removesuffix(ending) if name.endswith(ending) else name
    return name.replace("bruggeman", _NAMES["bruggeman"]).replace("_", " ")


def _scalar(name: str, value: float) -> str:
    for ending, unit, factor in _UNITS:
        if name.endswith(ending):
            return f"{scientific(value * factor)} {unit}"
    return scientific(value)


def _function(item: Mapping[str, Any]) -> str:
    terms, unit = item["terms"], _unit(item["unit"])
    energy = item.get("activation_energy_j_mol")
    warm = f"; activation energy {number(round(energy / 1000, 3))} kJ/mol" if energy else ""
    if len(terms) == 1 and terms[0]["form"] == "constant" and not item.get("factors"):
        return f"{scientific(terms[0]['amplitude'])} {unit}{warm}".replace("  ", " ")
    forms = dict.fromkeys(term["form"].replace("-", " ") for term in terms)
    many = f"{len(terms)} terms" if len(terms) > 1 else "1 term"
    of = item["variable"].replace("-", " ")
    reach = f" from {scientific(item['valid_from'])} to {scientific(item['valid_to'])}" if item.get("valid_from") is not None else ""
    return f"function of {of}{reach}: {', '.join(forms)} ({many}), in {unit or 'no unit'}{warm}"


def _unit(unit: str) -> str:
    return "" if unit == "1" else unit.replace("m2/s", "m\u00b2/s").replace("A/m2", "A/m\u00b2")


def scientific(value: float) -> str:
    """Return a number with up to six significant digits, as a power of ten where it is very small or large."""
    if value == 0 or 1e-3 <= abs(value) < 1e6:
        return number(float(f"{value:.6g}"))
    power = math.floor(math.log10(abs(value)))
    mantissa = number(float(f"{value / 10**power:.6g}"))
    return f"{mantissa} \u00d7 10{str(power).translate(_SUPERSCRIPT)}".replace("-", MINUS)
