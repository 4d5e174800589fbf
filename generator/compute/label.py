"""A printed pack voltage -> what explains it: chemistries, cells in series, and what the number then is.

A label is never proof. Each explanation carries the arithmetic behind it, what sources say of such packs, and the
voltages the pack would really have; the order is by evidence first and by fit second, and says so.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from generator.compute.label_words import reason
from generator.compute.pack import PackRow, pack_row
from generator.model.label import Group, Label, Labels
from generator.model.library import Library
from generator.model.subject import Subject

NOMINAL, FULL, CLASS = "nominal", "full", "class"
_READING_ORDER = {NOMINAL: 0, FULL: 1, CLASS: 2}
_SOURCED = frozenset({"read", "reported", "derived"})


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


@dataclass(frozen=True, slots=True)
class Reading:
    """One chemistry and series count that explains a label. ``residual_v``: printed minus counted [V]."""

    label_v: float
    chemistry: str
    variant: str
    series: int
    reading: str
    per_cell_v: float
    residual_v: float
    rank: int
    row: PackRow


@dataclass(frozen=True, slots=True)
class Explanation:
    """Readings that the label cannot tell apart: same group, series count and reading. Rank 1 is the best.

    ``evidence`` holds what sources say of such a label; ``usual`` whether packs have that many cells.
    """

    group: Group
    series: int
    reading: str
    rank: int
    usual: bool
    evidence: tuple[Label, ...]
    reason: str
    readings: tuple[Reading, ...]

    @property
    def best(self) -> Reading:
        return min(self.readings, key=lambda r: abs(r.residual_v))

    @property
    def safe_full_v(self) -> float | None:
        """Lowest full voltage of the readings: safe whichever of them it is [V]."""
        return min((r.row.full_v for r in self.readings if r.row.full_v is not None), default=None)

    @property
    def safe_empty_v(self) -> float | None:
        """Highest cut-off voltage of the readings: safe whichever of them it is [V]."""
        return max((r.row.empty_v for r in self.readings if r.row.empty_v is not None), default=None)

    @property
    def products(self) -> tuple[str, ...]:
        return tuple(dict.fromkeys(p for entry in self.evidence for p in entry.products))


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
    return [s.variant for s in subject.stated if s.quantity.id == "nominal-voltage" and s.typical is not None]


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


def read_label(volts: float, library: Library, known: Sequence[Candidate] | None = None) -> tuple[Explanation, ...]:
    """Return what explains a printed voltage, best first; empty when nothing does. ``volts`` in V.

    ``known`` saves making the candidates again for each of many voltages.
    """
    known = candidates(library) if known is None else known
    entries = [entry for entry in library.labels.entries if abs(entry.volts - volts) < 1e-6]
    chosen: dict[tuple[str, str, int], Candidate] = {}
    for candidate in [c for c in known if c.low_v <= volts <= c.high_v] + _recorded(entries, known):
        key = (candidate.kind.subject.id, candidate.kind.variant, candidate.series)
        if key not in chosen or _preferred(candidate, volts, entries) < _preferred(chosen[key], volts, entries):
            chosen[key] = candidate
    return _ranked(volts, chosen.values(), entries)


def _recorded(entries: Sequence[Label], known: Sequence[Candidate]) -> list[Candidate]:
    """Candidates that a source names for this label, whatever the arithmetic says."""
    return [c for c in known for entry in entries if c.series == entry.series and c.reading == _arithmetic(entry, c) and _speaks_of(entry, c)] + [
        Candidate(c.kind, c.series, CLASS, c.per_cell_v, entry.volts, entry.volts, c.row)
        for entry in entries
        if entry.reading == CLASS
        for c in known
        if c.series == entry.series and _speaks_of(entry, c) and c.reading == NOMINAL and c.per_cell_v == c.kind.nominal_v
    ]


def _arithmetic(entry: Label, candidate: Candidate) -> str:
    return entry.reading if entry.reading != CLASS else ""


def _speaks_of(entry: Label, candidate: Candidate) -> bool:
    return candidate.kind.subject.id in entry.group.chemistries and candidate.kind.variant == entry.group.variant


def _evidence(candidate: Candidate, entries: Sequence[Label]) -> tuple[Label, ...]:
    return tuple(e for e in entries if e.series == candidate.series and e.reading == candidate.reading and _speaks_of(e, candidate))


def _preferred(candidate: Candidate, volts: float, entries: Sequence[Label]) -> tuple:
    """Sort key among candidates of one chemistry and count: evidence, kind of reading, a common voltage, fit."""
    uncommon = candidate.reading == NOMINAL and candidate.per_cell_v not in candidate.kind.common_v
    outside = not candidate.low_v <= volts <= candidate.high_v
    return not _evidence(candidate, entries), _READING_ORDER[candidate.reading], outside, uncommon, round(abs(volts - candidate.volts), 6)


def _ranked(volts: float, chosen: Iterable[Candidate], entries: Sequence[Label]) -> tuple[Explanation, ...]:
    groups: dict[tuple, list[Candidate]] = {}
    for candidate in chosen:
        groups.setdefault((candidate.kind.group.id, candidate.series, candidate.reading), []).append(candidate)
    keyed = sorted(((_key(members, volts, entries), members) for members in groups.values()), key=lambda pair: pair[0])
    order = {key: rank for rank, key in enumerate(dict.fromkeys(key for key, _ in keyed), start=1)}
    return tuple(_explanation(volts, members, entries, order[key]) for key, members in keyed)


def _key(members: Sequence[Candidate], volts: float, entries: Sequence[Label]) -> tuple:
    """Sort key of an explanation: what sources say, usual counts, kind of reading, fit per cell, fewer cells."""
    evidence = [e for m in members for e in _evidence(m, entries)]
    strength = 0 if any(e.evidence.grade in _SOURCED for e in evidence) else 1 if evidence else 2
    fit = min(abs(volts - m.volts) / m.series for m in members)
    return strength, not _usual(members), _READING_ORDER[members[0].reading], round(fit, 3), members[0].series


def _usual(members: Sequence[Candidate]) -> bool:
    return any(m.series in m.kind.subject.series_usual for m in members)


def _explanation(volts: float, members: Sequence[Candidate], entries: Sequence[Label], rank: int) -> Explanation:
    evidence = tuple(dict.fromkeys(e for m in members for e in _evidence(m, entries)))
    readings = tuple(_reading(volts, m, rank) for m in members)
    first, usual = members[0], _usual(members)
    best = min(members, key=lambda m: abs(volts - m.volts))
    words = reason(volts, best, evidence, usual)
    return Explanation(first.kind.group, first.series, first.reading, rank, usual, evidence, words, readings)


def _reading(volts: float, candidate: Candidate, rank: int) -> Reading:
    kind, residual = candidate.kind, round(volts - candidate.volts, 3) + 0.0
    return Reading(volts, kind.subject.id, kind.variant, candidate.series, candidate.reading, candidate.per_cell_v, residual, rank, candidate.row)


def label_voltages(labels: Labels) -> tuple[float, ...]:
    """Return every voltage that labels.yml records, ascending, each once [V]."""
    return tuple(sorted({entry.volts for entry in labels.entries}))


def label_table(library: Library) -> Mapping[float, tuple[Explanation, ...]]:
    """Return the explanations of every recorded label voltage."""
    known = candidates(library)
    return {volts: read_label(volts, library, known) for volts in label_voltages(library.labels)}
