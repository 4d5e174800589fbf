"""One citation in any style. Bibliographic styles give the almanac's entry followed by the original sources."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass

from generator.cite import bibtex, csl, ris, text
from generator.cite.cited import Cited, Citer
from generator.model.library import Library
from generator.model.vocabulary import Source


@dataclass(frozen=True, slots=True)
class Style:
    """``start``, ``between`` and ``end`` join the entries of a bibliographic style; None where there is one text."""

    id: str
    name: str
    start: str | None = None
    between: str | None = None
    end: str | None = None


STYLES: Mapping[str, Style] = {
    style.id: style
    for style in (
        Style("link", "Link"),
        Style("plain", "Plain text"),
        Style("markdown", "Markdown"),
        Style("bbcode", "BBCode"),
        Style("html", "HTML"),
        Style("bibtex", "BibTeX", "", "\n\n", "\n"),
        Style("csl-json", "CSL-JSON", "[\n", ",\n", "\n]\n"),
        Style("ris", "RIS", "", "\n\n", "\n"),
    )
}


def cite(library: Library, id: str, style: str = "plain") -> str:
    """Return the citation of the figure ``id`` in one style of STYLES.

    Raises UnknownId for an id that does not exist and KeyError for a style that does not.
    """
    citer = Citer(library)
    return citation(citer.cited(citer.find(id)), STYLES[style])


def citation(cited: Cited, style: Style) -> str:
    """Return one citation: own text, then the entries of its sources where the style has entries."""
    own = own_text(cited, style.id)
    if style.between is None:
        return own
    entries = [own, *(source_text(source, style.id) for source in cited.sources)]
    return f"{style.start}{style.between.join(entries)}{style.end}"


TEXT_STYLES = {"plain": text.PLAIN, "markdown": text.MARKDOWN, "bbcode": text.BBCODE, "html": text.HTML}


def own_text(cited: Cited, style: str) -> str:
    """Return the almanac's own part of a citation."""
    if style == "link":
        return cited.link
    if style in TEXT_STYLES:
        return text.citation(cited, TEXT_STYLES[style])
    note = text.note(cited)
    if style == "bibtex":
        return bibtex.figure_entry(cited, note)
    if style == "ris":
        return ris.figure_record(cited, note)
    return _json(csl.figure_item(cited, note))


def source_text(source: Source, style: str) -> str:
    """Return a publication in one style: a reference, or an entry of bibtex, csl-json or ris."""
    if style in TEXT_STYLES:
        return text.reference(source, TEXT_STYLES[style])
    if style == "bibtex":
        return bibtex.source_entry(source)
    return ris.source_record(source) if style == "ris" else _json(csl.source_item(source))


def _json(item: Mapping) -> str:
    return json.dumps(item, ensure_ascii=False, indent=2)
