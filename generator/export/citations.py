"""Citations made at build time, one file a subject: the page's script only joins and copies them."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from generator.address import LICENCE, LINE, NEW_ISSUE, REPORT_BODY, REPORT_TITLE, REPOSITORY, SITE
from generator.cite import text
from generator.cite.cited import Cited, Citer, Item
from generator.cite.styles import STYLES, TEXT_STYLES, own_text, source_text
from generator.cite.then import changed_since
from generator.export.subjects import VERSION
from generator.model.statement import Statement
from generator.model.subject import Remark, Stated, Subject
from generator.model.vocabulary import Source
from generator.pages import format as fmt
from generator.pages.reference import reference

# The unit separator: reading refuses control characters in records.
MARK = "\x1f"

STATEMENT_NAMES = {"label": "Printed pack voltages", "size": "Cell sizes", "marking": "Cell markings"}

# Every style but the bare link.
_STYLES = tuple(style for style in STYLES if style != "link")


def subject_citations(subject: Subject, citer: Citer) -> dict[str, Any]:
    """Return every item of one subject with its citation in each style."""
    items = (*subject.stated, *subject.values, *subject.remarks)
    return _citations(subject.id, subject.name, items, citer, subject)


def statement_citations(collection: str, citer: Citer) -> dict[str, Any]:
    """Return every statement of one collection (label, size, marking) with its citation in each style."""
    items = [statement for statement in citer.library.statements if statement.collection == collection]
    return _citations(collection, STATEMENT_NAMES[collection], items, citer, None)


def _citations(id: str, name: str, items: Iterable[Item], citer: Citer, subject: Subject | None) -> dict[str, Any]:
    cited = [(item, citer.cited(item)) for item in items]
    sources = {source.id: source for _, each in cited for source in each.sources}
    return {
        "version": VERSION,
        "licence": LICENCE,
        "site": SITE,
        "subject": id,
        "name": name,
        "repository": {"lines": f"{REPOSITORY}{LINE}", "new_issue": f"{REPOSITORY}{NEW_ISSUE}", "title": REPORT_TITLE, "body": REPORT_BODY},
        "styles": [_style(style) for style in STYLES.values()],
        "sources": {id: _source(sources[id]) for id in sorted(sources)},
        "items": {item.id: _item(item, each, subject, citer) for item, each in cited},
    }


def _style(style: Any) -> dict[str, Any]:
    return {"id": style.id, "name": style.name, "start": style.start, "between": style.between, "end": style.end}


def _source(source: Source) -> dict[str, Any]:
    texts = {style: source_text(source, style) for style in _STYLES}
    return {"short": source.short, "reference": reference(source), "page": f"sources/{source.id}/", "texts": texts}


def _item(item: Item, cited: Cited, subject: Subject | None, citer: Citer) -> dict[str, Any]:
    file, line = citer.place(item)
    return {
        "label": cited.label,
        "figure": cited.figure,
        "prose": isinstance(item, Remark | Statement),
        "condition": cited.condition or None,
        "grade": item.grade,
        "standing": cited.standing,
        "because": item.because if isinstance(item, Stated) else None,
        "note": getattr(item, "note", None),
        "working": getattr(item, "working", None),
        "caution": item.quantity.caution if hasattr(item, "quantity") else None,
        "edition": cited.edition_words,
        "then": _then(citer, item.id),
        "link": cited.link.removeprefix(SITE),
        "file": file,
        "line": line,
        "origins": [_origin(origin) for origin in cited.origins],
        "others": _others(item, subject) if isinstance(item, Stated) else [],
        "sources": [source.id for source in cited.sources],
        "texts": {style: _texts(cited, style) for style in _STYLES},
    }


def _then(citer: Citer, id: str) -> dict[str, str] | None:
    """Return what the newest edition says of an item where that is not what stands now."""
    changed = changed_since(citer, id)
    return None if changed is None else {"edition": changed[0].name, "figure": changed[1], "link": f"changes/{changed[0].name}/#{id}"}


def _texts(cited: Cited, style: str) -> str:
    """Return the text with ``MARK id MARK`` wherever the reference of a source stands; no record can hold a MARK."""
    if style not in TEXT_STYLES:
        return own_text(cited, style)
    pieces = text.pieces(cited, TEXT_STYLES[style])
    return "".join(piece if isinstance(piece, str) else f"{MARK}{piece.id}{MARK}" for piece in pieces)


def _origin(origin: Any) -> dict[str, Any]:
    return {
        "source": origin.source and origin.source.id,
        "locator": origin.locator,
        "condition": origin.condition or None,
        "grade": fmt.GRADE_WORDS[origin.grade],
        "reported_by": origin.reported_by and origin.reported_by.id,
    }


def _others(stated: Stated, subject: Subject) -> list[str]:
    """Return the ids of the values of the same quantity and variant that the stated figure does not rest on."""
    values = subject.values_of(stated.quantity.id, stated.variant)
    return [value.id for value in values if value.id not in stated.value_ids]
