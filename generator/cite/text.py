"""Citations to paste into a post or a page: plain text, Markdown, BBCode, HTML, all from the same pieces."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass

from generator.address import TITLE
from generator.cite import escape
from generator.cite.cited import Cited, Origin
from generator.model.vocabulary import Source
from generator.pages.reference import reference_parts

# A span may rest on dozens of sources: the first few are named, the rest stand at the link.
MAX_ORIGINS = 4


@dataclass(frozen=True, slots=True)
class Markup:
    """How a format writes text, a title and a link; each takes plain text."""

    text: Callable[[str], str]
    title: Callable[[str], str]
    link: Callable[[str, str], str]


PLAIN = Markup(str, str, lambda text, address: text if text == address else f"{text}, {address}")
MARKDOWN = Markup(escape.markdown, lambda t: f"*{escape.markdown(t.strip())}*", lambda t, a: f"[{escape.markdown(t)}](<{_address(a)}>)")
BBCODE = Markup(escape.bbcode, lambda t: f"[i]{escape.bbcode(t)}[/i]", lambda t, a: f"[url={_address(a)}]{escape.bbcode(t)}[/url]")
HTML = Markup(escape.html_text, lambda t: f"<cite>{escape.html_text(t)}</cite>", lambda t, a: f'<a href="{escape.html_text(a)}">{escape.html_text(t)}</a>')


def _address(address: str) -> str:
    # Characters that would end a link in Markdown or BBCode, percent-encoded as RFC 3986 allows.
    return "".join(f"%{ord(c):02X}" if c in "[]<>()\\\"' `" else c for c in address)


def citation(cited: Cited, markup: Markup) -> str:
    """Return the whole citation in one format: figure, condition, standing, sources, almanac, edition, permalink."""
    return "".join(piece if isinstance(piece, str) else reference(piece, markup) for piece in pieces(cited, markup))


def pieces(cited: Cited, markup: Markup) -> tuple[str | Source, ...]:
    """Return the citation as finished texts with a Source wherever its reference stands: text, source, text, ..., text."""
    joined: list[str | Source] = [""]
    for piece in _pieces(cited, markup):
        if isinstance(piece, str):
            joined[-1] += piece
        else:
            joined += [piece, ""]
    return tuple(joined)


def _pieces(cited: Cited, markup: Markup) -> Iterator[str | Source]:
    text = markup.text
    yield text(cited.heading) if markup is PLAIN else markup.link(cited.heading, cited.link)
    if cited.condition:
        yield text(f" ({cited.condition})")
    yield text(f". {cited.standing}. ")
    yield from _origins(cited, markup)
    yield text(f". {TITLE}, {cited.edition_words}")
    if markup is PLAIN:  # elsewhere the figure itself is the link
        yield f", {cited.link}"


def _origins(cited: Cited, markup: Markup) -> Iterator[str | Source]:
    named = [origin for origin in cited.origins if origin.source]
    yield markup.text("Source: " if named else "Source: none published")
    for index, origin in enumerate(named[:MAX_ORIGINS]):
        if index:
            yield markup.text("; ")
        yield from _origin(origin, markup)
    if len(named) > MAX_ORIGINS:
        yield markup.text(f"; and {len(named) - MAX_ORIGINS} more at the link")


def _origin(origin: Origin, markup: Markup) -> Iterator[str | Source]:
    yield origin.source
    if origin.locator:
        yield markup.text(f", {origin.locator}")
    if origin.condition:
        yield markup.text(f" ({origin.condition})")
    if origin.reported_by:
        yield markup.text(", as reported by ")
        yield origin.reported_by


def reference(source: Source, markup: Markup) -> str:
    """Return a publication's reference in one format."""
    return "".join(_reference_pieces(source, markup))


def _reference_pieces(source: Source, markup: Markup) -> Iterator[str]:
    for role, text in reference_parts(source):
        if role == "address":
            yield markup.link(text, text)
        else:
            yield (markup.title if role == "title" else markup.text)(text)


def note(cited: Cited) -> str:
    """Return condition, standing and sources by their key, for the note field of a reference manager.

    The sources' own entries follow the almanac's, so the note need not repeat them.
    """
    condition = f"Condition: {cited.condition}. " if cited.condition else ""
    named = "".join(piece if isinstance(piece, str) else piece.id for piece in _origins(cited, PLAIN))
    return f"{condition}{cited.standing}. {named}. {TITLE}, {cited.edition_words}"
