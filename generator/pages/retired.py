"""Ids that are no longer live still answer on their subject's page: what became of them, and why."""

from __future__ import annotations

from markupsafe import Markup

from generator.model.library import Library, Retired
from generator.model.subject import Subject

_ROW = Markup('<li id="{anchor}"><code>{anchor}</code> is retired. {because}{moved}</li>')
_MOVED = Markup(' Its place is now <a href="{address}">{id}</a>.')


def retired_rows(subject: Subject, library: Library, root: str) -> Markup:
    """Return a list with the anchor of every retired id of the subject; nothing when there is none."""
    found = [retired for retired in library.retired if retired.id.split(".")[0] == subject.id]
    if not found:
        return Markup("")
    rows = Markup("\n").join(_row(retired, library, root) for retired in found)
    return Markup('<ul class="retired">\n{}\n</ul>').format(rows)


def _row(retired: Retired, library: Library, root: str) -> Markup:
    moved = _MOVED.format(address=_address(retired.moved_to, library, root), id=retired.moved_to) if retired.moved_to else ""
    return _ROW.format(anchor=retired.id.split(".", 1)[1], because=retired.because, moved=moved)


def _address(id: str, library: Library, root: str) -> str:
    subject, anchor = id.split(".", 1)
    target = library.chemistries.get(subject) or library.practices[subject]
    return f"{root}{target.page}#{anchor}"
