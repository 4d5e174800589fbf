"""How well the stated figures are founded: what rests on one source, on memory, on sources that disagree."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from generator.model.library import Library
from generator.model.subject import Stated, Subject, Value


@dataclass(frozen=True, slots=True)
class Disagreement:
    """Sources that differ on one stated figure.

    ``low`` and ``high`` are the extremes of the figures compared, ``share`` their distance as a share of the
    quantity's plausible range, so that volts, degrees and cycles can be ranked together.
    """

    stated: Stated
    low: Value
    high: Value
    share: float


@dataclass(frozen=True, slots=True)
class Evidence:
    """``grades`` counts values by grade for each subject; the lists hold what someone could work on next."""

    grades: Mapping[str, Mapping[str, int]]
    single_source: tuple[Stated, ...]
    unchecked: tuple[Stated, ...]
    disagreements: tuple[Disagreement, ...]


def evidence(library: Library) -> Evidence:
    """Return the work lists of the whole library; disagreements largest first, then by id."""
    single, apart = [], []
    for subject in library.subjects():
        for stated in subject.stated:
            values = tuple(subject.values_of(stated.quantity.id, stated.variant))
            if len({value.source for value in values}) == 1 and values[0].source is not None:
                single.append(stated)
            apart += _disagreement(stated, values)
    return Evidence(
        grades={subject.id: _grades(subject) for subject in library.subjects()},
        single_source=tuple(single),
        unchecked=tuple(stated for stated in library.stated() if stated.unchecked),
        disagreements=tuple(sorted(apart, key=lambda found: (-found.share, found.stated.id))),
    )


def _grades(subject: Subject) -> Mapping[str, int]:
    return Counter(value.grade for value in subject.values)


def _disagreement(stated: Stated, values: Sequence[Value]) -> Iterator[Disagreement]:
    """Yield the largest difference between two credible values at the same end of the figure, if there is one."""
    credible = [value for value in values if value.grade != "recalled"]
    found = [spread for end in ("min", "typical", "max") if (spread := _spread(credible, end))]
    if found:
        distance, low, high = max(found, key=lambda spread: spread[0])
        reach = stated.quantity.plausible_max - stated.quantity.plausible_min
        yield Disagreement(stated, low, high, distance / reach)


def _spread(values: Sequence[Value], end: str) -> tuple[float, Value, Value] | None:
    given = sorted((value for value in values if getattr(value, end) is not None), key=lambda value: getattr(value, end))
    if len(given) < 2:
        return None
    distance = getattr(given[-1], end) - getattr(given[0], end)
    return (distance, given[0], given[-1]) if distance > 0 else None
