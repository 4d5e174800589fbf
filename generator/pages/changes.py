"""What changed: one page with every step between editions, one page an edition with then and now."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from types import SimpleNamespace

from generator.compute.results import Results
from generator.editions import NOW, Change, difference, snapshot
from generator.model.edition import Edition, Row
from generator.model.library import Library
from generator.pages import format as fmt
from generator.pages.environment import render, to_root
from generator.pages.retired import answered_at


@dataclass(frozen=True, slots=True)
class Line:
    """One id for a reader: ``then`` and ``now`` in words, ``address`` where it is answered now, from the root."""

    id: str
    label: str
    kind: str
    then: str
    now: str
    why: str
    address: str | None


@dataclass(frozen=True, slots=True)
class StepView:
    """One step between two states as readers see it."""

    title: str
    id: str
    date: str
    first: bool
    lines: tuple[Line, ...]
    counts: Mapping[str, int]


def pages(library: Library, results: Results) -> Mapping[str, str]:
    """Return the page of changes and one page an edition, by path."""
    path = "changes/index.md"
    words = _Words(library)
    steps = [_view(step, words) for step in results.history]
    made = {path: render("changes.md.j2", library=library, steps=steps, root=to_root(path))}
    because, now = {retired.id: retired.because for retired in library.retired}, snapshot(library)
    for edition in library.editions:
        path = f"changes/{edition.name}/index.md"
        changed = [words.line(change) for change in difference(edition, now, because) if change.kind != "added"]
        same = list(_unchanged(edition, changed, words))
        made[path] = render("edition.md.j2", library=library, edition=edition, changed=changed, same=same, root=to_root(path))
    return made


def _view(step, words: _Words) -> StepView:
    name = step.after.name
    counts = {"stated": len(step.after.stated), "values": len(step.after.values), "remarks": len(step.after.remarks)}
    title = f"Edition {name}" if name != NOW else f"Since edition {step.before.name}"
    lines = tuple(words.line(change) for change in step.changes)
    return StepView(title, "now" if name == NOW else name, step.after.date, step.before is None, lines, counts)


def _unchanged(edition: Edition, changed: list[Line], words: _Words) -> Iterator[tuple[str, str, list[tuple[str, str]]]]:
    """Yield (name, page, [(id, label)]) of the stated figures that stand as they did, by subject."""
    gone = {line.id for line in changed}
    groups: dict[str, list[tuple[str, str]]] = {}
    for id in edition.stated:
        if id not in gone:
            groups.setdefault(id.split(".")[0], []).append((id, words.short(id)))
    for subject, items in groups.items():
        yield words.subject_name(subject), words.page(subject), items


def row_words(part: str, row: Row, decimals: int | None = None) -> str:
    """Return the figure of an edition's row with its unit and grade, or a remark's text."""
    if part == "remarks":
        return row["text"]
    figures = {name: row[name] for name in ("min", "typical", "max")}
    item = SimpleNamespace(**figures, unit=SimpleNamespace(symbol=row["unit"]), quantity=SimpleNamespace(decimals=decimals))
    return f"{fmt.figure(item)} ({row['grade']})"


class _Words:
    """Ids and rows of any edition in words; a subject or quantity that is no longer there keeps its id as its name."""

    def __init__(self, library: Library) -> None:
        self._quantities = library.quantities
        self._subjects = {subject.id: subject for subject in library.subjects()}
        self._now = snapshot(library)
        self._library = library
        self._about = {statement.id: statement.about for statement in library.statements}
        self._moved = {retired.id: retired.moved_to for retired in library.retired}

    def line(self, change: Change) -> Line:
        """Return a change in words."""
        quantity = self._quantities.get(change.id.split(".")[1])
        decimals = quantity.decimals if quantity else None
        then = row_words(change.part, change.old, decimals) if change.old else ""
        now = row_words(change.part, change.new, decimals) if change.new else self.instead(change, decimals)
        return Line(change.id, self.label(change.id), change.kind, then, now, change.why, self.address(change))

    def instead(self, change: Change, decimals: int | None) -> str:
        """Return that an id is retired, and what stands in its place."""
        row = self._now.row(self._moved.get(change.id) or "")
        return f"retired; in its place {row_words('remarks' if 'text' in row else change.part, row, decimals)}" if row else "retired"

    def label(self, id: str) -> str:
        """Return subject and quantity in words with the last part of the id."""
        if id in self._about:
            return f"{self._about[id]} ({id.split('.')[2]})"
        return f"{self.subject_name(id.split('.')[0])}, {self.short(id)}"

    def short(self, id: str) -> str:
        _, quantity, last = id.split(".", 2)
        name = self._quantities[quantity].name if quantity in self._quantities else quantity
        return name if last == "standard" else f"{name} ({last})"

    def subject_name(self, subject: str) -> str:
        return self._subjects[subject].abbreviation if subject in self._subjects else subject

    def page(self, subject: str) -> str:
        return self._subjects[subject].page if subject in self._subjects else "chemistries/"

    def address(self, change: Change) -> str | None:
        """Return where the id, or the id it moved to, is answered now."""
        return answered_at(self._moved.get(change.id) or change.id, self._library)
