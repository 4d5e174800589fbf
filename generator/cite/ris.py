"""RIS records (Research Information Systems, the 2001 tags that reference managers import)."""

from __future__ import annotations

from collections.abc import Iterator

from generator.address import TITLE
from generator.cite import escape
from generator.cite.cited import Cited
from generator.cite.csl import ALMANAC_AUTHOR
from generator.model.vocabulary import Author, Source

_TYPE = {
    "article-journal": "JOUR",
    "paper-conference": "CPAPER",
    "chapter": "CHAP",
    "book": "BOOK",
    "report": "RPRT",
    "standard": "STAND",
    "regulation": "STAT",
    "webpage": "ELEC",
    "dataset": "DATA",
    "software": "COMP",
    "thesis": "THES",
    "patent": "PAT",
}

Field = tuple[str, str | None]


def source_record(source: Source) -> str:
    """Return a publication as one record; its ID is the source's id."""
    pages = (source.page or "").replace("\u2013", "-").split("-", 1)
    fields = [
        *(("AU", _name(author)) for author in source.authors),
        ("TI", source.title),
        ("T2", source.container_title),
        ("VL", source.volume),
        ("IS", source.issue or source.number),
        ("SP", pages[0].strip()),
        ("EP", pages[1].strip() if len(pages) > 1 else None),
        ("PB", source.publisher),
        ("ET", source.edition),
        ("PY", source.year and str(source.year)),
        ("DA", _date(source)),
        ("DO", source.doi),
        ("UR", source.url),
        ("N1", source.note),
    ]
    return record(_TYPE.get(source.type, "GEN"), source.id, fields)


def figure_record(cited: Cited, note: str) -> str:
    """Return the almanac's figure as one record."""
    edition = cited.edition
    fields = [
        ("AU", ALMANAC_AUTHOR),
        ("TI", cited.heading),
        ("T2", TITLE),
        ("ET", edition and edition.name),
        ("PY", edition and str(edition.year)),
        ("UR", cited.link),
        ("N1", note),
    ]
    return record("ENCYC", f"cell-almanac.{cited.id}", fields)


def record(kind: str, id: str, fields: list[Field]) -> str:
    """Return one record, TY first, ER last; a field without content is left out."""
    return "\n".join(_lines([("TY", kind), ("ID", id), *fields])) + "\nER  - "


def _lines(fields: list[Field]) -> Iterator[str]:
    for tag, text in fields:
        if text:
            yield f"{tag}  - {escape.ris(text)}"


def _name(author: Author) -> str:
    if author.literal:
        return author.literal
    return f"{author.family}, {author.given}" if author.given else str(author.family)


def _date(source: Source) -> str | None:
    if source.year is None or source.month is None:
        return None
    return f"{source.year}/{source.month:02d}/{source.day:02d}" if source.day else f"{source.year}/{source.month:02d}"
