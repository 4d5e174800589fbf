"""CSL-JSON items (the input format of citation processors, version 1.0.2)."""

from __future__ import annotations

from typing import Any

from generator.address import TITLE
from generator.cite.cited import Cited
from generator.model.vocabulary import Author, Source

ALMANAC_AUTHOR = f"{TITLE} contributors"


def source_item(source: Source) -> dict[str, Any]:
    """Return a publication as a CSL item; what is not known is left out, as the CSL schema demands."""
    item = {
        "id": source.id,
        "type": source.type,
        "title": source.title,
        "author": [_name(author) for author in source.authors],
        "issued": _date(source.year, source.month, source.day),
        "container-title": source.container_title,
        "volume": source.volume,
        "issue": source.issue,
        "page": source.page,
        "publisher": source.publisher,
        "edition": source.edition,
        "number": source.number,
        "DOI": source.doi,
        "URL": source.url,
        "note": source.note,
    }
    return {name: content for name, content in item.items() if content}


def figure_item(cited: Cited, note: str) -> dict[str, Any]:
    """Return the almanac's figure as an entry of a reference work; ``note`` says grade, source and condition."""
    edition = cited.edition
    item = {
        "id": f"cell-almanac.{cited.id}",
        "type": "entry-encyclopedia",
        "title": cited.heading,
        "author": [{"literal": ALMANAC_AUTHOR}],
        "container-title": TITLE,
        "issued": _date(edition.year, edition.month, None) if edition else None,
        "edition": edition.name if edition else None,
        "URL": cited.link,
        "note": note,
    }
    return {name: content for name, content in item.items() if content}


def _name(author: Author) -> dict[str, str]:
    pairs = (("family", author.family), ("given", author.given), ("literal", author.literal))
    return {name: text for name, text in pairs if text}


def _date(year: int | None, month: int | None, day: int | None) -> dict[str, list[list[int]]] | None:
    if year is None:
        return None
    parts = [year]
    if month is not None:
        parts.append(month)
        if day is not None:
            parts.append(day)
    return {"date-parts": [parts]}
