"""A printed pack voltage -> what explains it: chemistries, cells in series, and what the number then is.

A label is never proof. Each explanation carries the arithmetic behind it, what sources say of such packs, and the
voltages the pack would really have; the order is by evidence first and by fit second, and says so.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from generator.compute.label_candidates import CLASS, FULL, NOMINAL, Candidate, candidates
from generator.compute.label_words import reason
from generator.compute.pack import PackRow
from generator.model.label import Group, Label, Labels
from generator.model.library import Library

_READING_ORDER = {NOMINAL: 0, FULL: 1, CLASS: 2}
_SOURCED = frozenset({"read", "reported", "derived"})


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


def likely(explanations: Sequence[Explanation]) -> list[Explanation]:
    """Return the explanations that a source or the trade knows; where none does, the best fit alone."""
    return [e for e in explanations if e.evidence] or list(explanations[:1])


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
