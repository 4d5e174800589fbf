"""Voltages that packs are sold under, and the rules by which a printed voltage is read."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

STANDARD = "standard"
READING_WORDS = {
    "nominal": "the print is the nominal voltage",
    "full": "the print is the voltage of full charge, or a rounded highest voltage",
    "class": "the print is the lead-acid voltage it stands in for",
}


@dataclass(frozen=True, slots=True)
class Evidence:
    """Where a statement comes from; every field but ``grade`` may be None."""

    source: str | None
    locator: str | None
    grade: str
    reported_by: str | None = None
    working: str | None = None
    note: str | None = None


@dataclass(frozen=True, slots=True)
class LabelRules:
    """Bounds within which a printed voltage counts as explained; tolerances in V per cell."""

    nominal_tolerance_v: float
    full_tolerance_v: float
    class_voltages: tuple[float, ...]
    class_excess_percent: float
    series_max: int
    because: str


@dataclass(frozen=True, slots=True)
class Group:
    """Chemistries that a printed voltage cannot tell apart."""

    id: str
    name: str
    chemistries: tuple[str, ...]
    variant: str
    words: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class RoundedFull:
    """A rounded full-charge voltage per cell that makers of one group count with."""

    id: str
    group: str
    volts_per_cell: float
    text: str
    evidence: Evidence


@dataclass(frozen=True, slots=True)
class Label:
    """One printed voltage in one kind of product, and what is inside."""

    id: str
    volts: float
    group: Group
    series: int
    reading: str
    products: tuple[str, ...]
    evidence: Evidence

    @property
    def in_words(self) -> str:
        """What the label says, in a few words."""
        return f"{self.series} {'cell' if self.series == 1 else 'cells'}, {self.group.name}: {READING_WORDS[self.reading]}"


@dataclass(frozen=True, slots=True)
class Labels:
    """The content of labels.yml; empty where a data folder has none."""

    chemistries: tuple[str, ...] = ()
    rules: LabelRules = LabelRules(0.0, 0.0, (), 0.0, 1, "")
    products: Mapping[str, str] | None = None
    groups: tuple[Group, ...] = ()
    rounded: tuple[RoundedFull, ...] = ()
    entries: tuple[Label, ...] = ()


def evidence_from(item: Mapping[str, Any]) -> Evidence:
    """Return the evidence fields that labels, sizes and designations share."""
    names = ("source", "locator", "grade", "reported_by", "working", "note")
    return Evidence(**{name: item.get(name) for name in names})


def labels_from(data: Mapping[str, Any]) -> Labels:
    """Return the labels from the checked content of labels.yml."""
    groups = {g["id"]: Group(g["id"], g["name"], tuple(g["chemistries"]), g.get("variant", STANDARD), tuple(g.get("words", ()))) for g in data["groups"]}
    rules = data["rules"]
    return Labels(
        chemistries=tuple(data["chemistries"]),
        rules=LabelRules(**{**rules, "class_voltages": tuple(map(float, rules["class_voltages"]))}),
        products={p["id"]: p["name"] for p in data["products"]},
        groups=tuple(groups.values()),
        rounded=tuple(RoundedFull(r["id"], r["group"], float(r["volts_per_cell"]), r["text"], evidence_from(r)) for r in data["rounded_full"]),
        entries=tuple(
            Label(e["id"], float(e["volts"]), groups[e["group"]], e["series"], e["reading"], tuple(e["products"]), evidence_from(e))
            for e in data["labels"]
        ),
    )
