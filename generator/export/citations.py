"""Citations made at build time, one file a subject: the page's script only joins and copies them."""

from __future__ import annotations

from typing import Any

from generator.address import LICENCE, SITE
from generator.cite import text
from generator.cite.cited import Cited, Citer
from generator.cite.styles import STYLES, TEXT_STYLES, own_text, source_text
from generator.export.subjects import VERSION
from generator.model.subject import Stated, Subject
from generator.model.vocabulary import Source
from generator.pages import format as fmt
from generator.pages.reference import reference

# The unit separator: reading refuses control characters in records.
MARK = "\x1f"

# Every style but the bare link.
_STYLES = tuple(style for style in STYLES if style != "link")


def citations_data(subject: Subject, citer: Citer) -> dict[str, Any]:
    """Return every item of one subject with its citation in each style; entries of sources stand once, apart."""
    cited = [citer.cited(item) for item in (*subject.stated, *subject.values, *subject.remarks)]
    sources = {source.id: source for each in cited for source in each.sources}
    return {
        "version": VERSION,
        "licence": LICENCE,
        "site": SITE,
        "subject": subject.id,
        "name": subject.name,
        "styles": [_style(style) for style in STYLES.values()],
        "sources": {id: _source(sources[id]) for id in sorted(sources)},
        "items": {each.item.id: _item(each, subject) for each in cited},
    }


def _style(style: Any) -> dict[str, Any]:
    return {"id": style.id, "name": style.name, "start": style.start, "between": style.between, "end": style.end}


def _source(source: Source) -> dict[str, Any]:
    texts = {style: source_text(source, style) for style in _STYLES}
    return {"short": source.short, "reference": reference(source), "page": f"sources/{source.id}/", "texts": texts}


def _item(cited: Cited, subject: Subject) -> dict[str, Any]:
    item = cited.item
    return {
        "label": cited.label,
        "figure": cited.figure,
        "condition": cited.condition or None,
        "grade": item.grade,
        "standing": cited.standing,
        "because": item.because if isinstance(item, Stated) else None,
        "note": getattr(item, "note", None),
        "working": getattr(item, "working", None),
        "caution": item.quantity.caution if hasattr(item, "quantity") else None,
        "edition": cited.edition_words,
        "link": cited.link.removeprefix(SITE),
        "origins": [_origin(origin) for origin in cited.origins],
        "others": _others(item, subject) if isinstance(item, Stated) else [],
        "sources": [source.id for source in cited.sources],
        "texts": {style: _texts(cited, style) for style in _STYLES},
    }


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
