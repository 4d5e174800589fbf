"""Ids that are no longer live still answer on their page: what became of them, and why."""

from __future__ import annotations

from markupsafe import Markup

from generator.statement_ids import COLLECTIONS, statement_address
from generator.model.library import Library, Retired
from generator.model.subject import Subject

_ROW = Markup('<li id="{anchor}"><code>{anchor}</code> is retired. {because}{moved}</li>')
_MOVED = Markup(' Its place is now <a href="{address}">{id}</a>.')


def retired_rows(subject: Subject, library: Library, root: str) -> Markup:
    """Return a list with the anchor of every retired id of the subject; nothing when there is none."""
    return _rows([retired for retired in library.retired if retired.id.split(".")[0] == subject.id], library, root)


def retired_statements(page: str, library: Library, root: str) -> Markup:
    """Return the same for the statements that ``page`` answers, such as ``labels/10.8-v/``."""
    found = [r for r in library.retired if r.id.split(".")[0] in COLLECTIONS and statement_address(r.id).partition("#")[0] == page]
    return _rows(found, library, root)


def answered_at(id: str, library: Library) -> str | None:
    """Return page and anchor of any id from the site's root; None when its subject has no page."""
    subject, anchor = id.split(".", 1)
    if subject in COLLECTIONS:
        return statement_address(id)
    target = library.chemistries.get(subject) or library.practices.get(subject)
    return f"{target.page}#{anchor}" if target else None


def _rows(found: list[Retired], library: Library, root: str) -> Markup:
    if not found:
        return Markup("")
    return Markup('<ul class="retired">\n{}\n</ul>').format(Markup("\n").join(_row(retired, library, root) for retired in found))


def _row(retired: Retired, library: Library, root: str) -> Markup:
    moved = _MOVED.format(address=root + answered_at(retired.moved_to, library), id=retired.moved_to) if retired.moved_to else ""
    anchor = answered_at(retired.id, library).partition("#")[2]
    return _ROW.format(anchor=anchor, because=retired.because, moved=moved)
