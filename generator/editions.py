"""What stood in an edition, what stands now, and what changed between the two."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from generator.check.edition import FIELDS
from generator.model.edition import PARTS, Edition, Row
from generator.model.library import Library

NOW = "now"


@dataclass(frozen=True, slots=True)
class Change:
    """One difference: ``kind`` is added, changed or retired; ``old`` or ``new`` is None where there is none."""

    id: str
    part: str
    kind: str
    old: Row | None
    new: Row | None
    why: str


@dataclass(frozen=True, slots=True)
class Step:
    """From one edition to the next; ``before`` is None for the first, ``after.name`` is NOW for what is not yet frozen."""

    before: Edition | None
    after: Edition
    changes: tuple[Change, ...]


def snapshot(library: Library, name: str = NOW, date: str = "") -> Edition:
    """Return everything the library says now as an edition."""
    return Edition(
        name=name,
        date=date,
        stated={s.id: _row("stated", s) for s in library.stated()},
        values={v.id: _row("values", v) for v in library.values()},
        remarks={r.id: _row("remarks", r) for r in (*library.remarks(), *library.statements)},
    )


def _row(part: str, item: Any) -> Row:
    return {name: _plain(name, getattr(item, name)) for name in FIELDS[part]}


def _plain(name: str, content: Any) -> Any:
    if name == "unit":
        return content.symbol
    if name == "condition":
        return content.given()
    return list(content) if isinstance(content, tuple) else content


def difference(before: Edition, after: Edition, because: Mapping[str, str] | None = None) -> tuple[Change, ...]:
    """Return what changed, stated figures first, then values and remarks, each by id.

    ``because`` gives the reason of a retired id, from retired.yml.
    """
    return tuple(change for part in PARTS for change in _of_part(part, before, after, because or {}))


def _of_part(part: str, before: Edition, after: Edition, because: Mapping[str, str]) -> Iterator[Change]:
    old, new = before.part(part), after.part(part)
    for id in sorted({*old, *new}):
        if id not in new:
            yield Change(id, part, "retired", old[id], None, because.get(id, ""))
        elif id not in old:
            yield Change(id, part, "added", None, new[id], "")
        elif old[id] != new[id]:
            yield Change(id, part, "changed", old[id], new[id], reason(part, old[id], new[id]))


def reason(part: str, old: Row, new: Row) -> str:
    """Return in words why a row is not what it was."""
    if part != "stated":
        return f"changed: {', '.join(_WORDS.get(name, name) for name in FIELDS[part] if old[name] != new[name])}"
    causes = []
    if old["rule"] != new["rule"]:
        causes.append(f"the rule is now '{new['rule']}' instead of '{old['rule']}'")
    if old["value_ids"] != new["value_ids"]:
        causes.append(f"rests on {_listed(new['value_ids'])} instead of {_listed(old['value_ids'])}")
    if old["grade"] != new["grade"]:
        causes.append(f"the grade is now '{new['grade']}' instead of '{old['grade']}'")
    if new["because"] and old["because"] != new["because"]:
        causes.append(f"because: {new['because']}")
    return "; ".join(causes) or "a value it rests on changed"


_WORDS = {"min": "lower figure", "typical": "figure", "max": "upper figure", "reported_by": "who reports it", "applies_to": "what it applies to"}


def _listed(ids: list[str]) -> str:
    shown = ", ".join(id.split(".", 2)[2] for id in ids[:3])
    return shown if len(ids) <= 3 else f"{shown} and {len(ids) - 3} more"


def history(library: Library) -> tuple[Step, ...]:
    """Return every step from the first edition to what stands now, newest first; the last one may hold no change."""
    because = {retired.id: retired.because for retired in library.retired}
    states = [*library.editions, snapshot(library)]
    steps = [Step(None, states[0], ())] if library.editions else []
    for before, after in zip(states, states[1:]):
        steps.append(Step(before, after, difference(before, after, because)))
    return tuple(reversed(steps))


def edition_of(library: Library, now: Edition, id: str) -> Edition | None:
    """Return the newest edition if it says of ``id`` exactly what ``now`` says, else None."""
    newest = library.editions[-1] if library.editions else None
    return newest if newest is not None and newest.row(id) == now.row(id) is not None else None
