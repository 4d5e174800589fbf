"""Every voltage a pack could be sold under: what it is made of, cells in series, and what the number then is."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from generator.compute.pack import PackRow, pack_row
from generator.model.label import Group, Labels
from generator.model.library import Library
from generator.model.subject import Subject

NOMINAL, FULL, CLASS = "nominal", "full", "class"


@dataclass(frozen=True, slots=True)
class Kind:
    """What a pack can be made of: one variant of one chemistry, within its group. Voltages per cell [V].

    ``printed_v`` are all nominal voltages that sources print for it, ``common_v`` those that the group's records state.
    """

    subject: Subject
    variant: str
    group: Group
    printed_v: tuple[float, ...]
    common_v: frozenset[float]
    nominal_v: float
    full_v: float | None
    rounded_full_v: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class Candidate:
    """A voltage a pack could be sold under: ``series`` cells counted at ``per_cell_v``; ``tolerance_v`` for the pack."""

    kind: Kind
    series: int
    reading: str
    per_cell_v: float
    low_v: float
    high_v: float
    row: PackRow

    @property
    def volts(self) -> float:
        return self.series * self.per_cell_v


def kinds(library: Library) -> tuple[Kind, ...]:
    """Return every kind that has a nominal voltage, groups of labels.yml first, then chemistries that stand alone."""
    groups, taken = list(library.labels.groups), set()
    grouped = {(c, g.variant) for g in groups for c in g.chemistries}
    for subject in library.chemistries.values():
        for variant in _variants(subject):
            if (subject.id, variant) not in grouped:
                name = subject.name.lower() if variant == "standard" else f"{subject.name.lower()}, {subject.variant_name(variant).lower()}"
                groups.append(Group(f"{subject.id}.{variant}", name, (subject.id,), variant))
    found = []
    for group in groups:
        members = [library.chemistries[c] for c in group.chemistries if c in library.chemistries and (c, group.variant) not in taken]
        members = [subject for subject in members if group.variant in _variants(subject)]
        taken |= {(subject.id, group.variant) for subject in members}
        shared = {subject.volts("nominal-voltage", group.variant) for subject in members}
        rounded = tuple(r.volts_per_cell for r in library.labels.rounded if r.group == group.id)
        found += [_kind(subject, group, shared, rounded) for subject in members]
    return tuple(found)


def _variants(subject: Subject) -> list[str]:
    """Variants whose label and end of discharge are both stated: without the end no reading can say where to stop."""
    named = (s.variant for s in subject.stated if s.quantity.id == "nominal-voltage" and s.typical is not None)
    return [variant for variant in named if subject.volts("discharge-cutoff-voltage", variant) is not None]


def _kind(subject: Subject, group: Group, shared: set[float], rounded: tuple[float, ...]) -> Kind:
    values = [v for v in subject.values_of("nominal-voltage", group.variant) if v.typical is not None]
    credible = [v for v in values if v.grade != "recalled"]
    printed = {v.typical for v in credible} | shared
    full = subject.volts("charge-voltage-max", group.variant)
    return Kind(subject, group.variant, group, tuple(sorted(printed)), frozenset(shared), subject.volts("nominal-voltage", group.variant), full, rounded)


def candidates(library: Library) -> tuple[Candidate, ...]:
    """Return every voltage that arithmetic allows a pack to be sold under."""
    rules = library.labels.rules
    found: list[Candidate] = []
    for kind in kinds(library):
        for series in sorted({*range(1, rules.series_max + 1), *kind.subject.series_usual}):
            found += _of_pack(kind, series, library.labels)
    return tuple(found)


def _of_pack(kind: Kind, series: int, labels: Labels) -> Iterable[Candidate]:
    rules, row = labels.rules, pack_row(kind.subject, series, kind.variant)
    for per_cell in kind.printed_v:
        yield _candidate(kind, row, NOMINAL, per_cell, rules.nominal_tolerance_v)
    fulls = ((kind.full_v,) if kind.full_v is not None else ()) + kind.rounded_full_v
    for per_cell in fulls:
        yield _candidate(kind, row, FULL, per_cell, rules.full_tolerance_v)
    if kind.subject.rechargeable and kind.subject.family != "lead-acid":
        nominal = kind.nominal_v * series
        for volts in rules.class_voltages:
            if volts <= nominal + 1e-9 <= volts * (1 + rules.class_excess_percent / 100):
                yield Candidate(kind, series, CLASS, kind.nominal_v, volts - 1e-6, volts + 1e-6, row)


def _candidate(kind: Kind, row: PackRow, reading: str, per_cell: float, tolerance: float) -> Candidate:
    centre, slack = row.series * per_cell, row.series * tolerance + 1e-6
    return Candidate(kind, row.series, reading, per_cell, centre - slack, centre + slack, row)
