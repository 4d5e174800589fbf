"""BibTeX entries. Field names are those of biblatex's BibTeX compatibility, entry types the standard ones."""

from __future__ import annotations

from collections.abc import Iterable

from generator.address import TITLE
from generator.cite import escape
from generator.cite.cited import Cited
from generator.cite.csl import ALMANAC_AUTHOR
from generator.model.vocabulary import Author, Source

_TYPE = {
    "article-journal": "article",
    "paper-conference": "inproceedings",
    "chapter": "incollection",
    "book": "book",
    "report": "techreport",
    "thesis": "phdthesis",
}
_CONTAINER = {"article": "journal", "inproceedings": "booktitle", "incollection": "booktitle"}
_PUBLISHER = {"techreport": "institution", "phdthesis": "school", "misc": "howpublished"}
_VERBATIM = ("url", "doi")


def source_entry(source: Source) -> str:
    """Return a publication as an entry; its key is the source's id."""
    kind = "manual" if source.kind in ("data-sheet", "safety-sheet", "manual") else _TYPE.get(source.type, "misc")
    fields = {
        "author": _authors(source.authors),
        "title": _kept(source.title),
        _CONTAINER.get(kind, "series"): _kept(source.container_title),
        "volume": _text(source.volume),
        "number": _text(source.issue or source.number),
        "pages": _text(source.page),
        "edition": _text(source.edition),
        ("organization" if kind == "manual" else _PUBLISHER.get(kind, "publisher")): _kept(source.publisher),
        "year": source.year and str(source.year),
        "month": source.year and source.month and str(source.month),
        "doi": source.doi,
        "url": source.url,
        "note": _text(source.note),
    }
    return entry(kind, source.id, fields)


def figure_entry(cited: Cited, note: str) -> str:
    """Return the almanac's figure as an entry."""
    edition = cited.edition
    fields = {
        "author": _kept(ALMANAC_AUTHOR),
        "title": _kept(cited.heading),
        "howpublished": _kept(f"{TITLE}, {cited.edition_words}"),
        "year": edition and str(edition.year),
        "month": edition and str(edition.month),
        "url": cited.link,
        "note": _text(note),
    }
    return entry("misc", f"cell-almanac.{cited.id}", fields)


def entry(kind: str, key: str, fields: dict[str, str | None]) -> str:
    """Return one entry; a field without content is left out."""
    lines = [f"  {name} = {{{escape.bibtex_address(text) if name in _VERBATIM else text}}}" for name, text in fields.items() if text]
    return "\n".join([f"@{kind}{{{key},", ",\n".join(lines), "}"])


def _text(text: str | None) -> str | None:
    return text and escape.bibtex(text)


def _kept(text: str | None) -> str | None:
    # The inner braces keep a style from lowering LiFePO4 to lifepo4, and a body's name from being taken apart.
    return text and f"{{{escape.bibtex(text)}}}"


def _authors(authors: Iterable[Author]) -> str:
    return " and ".join(_name(author) for author in authors)


def _name(author: Author) -> str:
    if author.literal:
        return f"{{{escape.bibtex(author.literal)}}}"
    family = f"{{{escape.bibtex(author.family or '')}}}"
    return f"{family}, {_given(author.given)}" if author.given else family


def _given(given: str) -> str:
    # Braces keep what would part a name, but would also keep a style from making initials: only where needed.
    text = escape.bibtex(given)
    return f"{{{text}}}" if "," in given or " and " in given.lower() else text
