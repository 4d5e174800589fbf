"""A publication as a line of a bibliography: authors, title, where it appeared, year, address."""

from __future__ import annotations

from collections.abc import Iterator

from generator.model.vocabulary import Source

MAX_AUTHORS = 6


def reference_parts(source: Source) -> tuple[tuple[str, str], ...]:
    """Return the reference as (role, text) pairs whose texts joined give the whole; roles: text, title, address.

    Order and punctuation follow the author-title-container pattern of ISO 690. An unknown part is left out.
    """
    return tuple(_parts(source))


def reference(source: Source) -> str:
    """Return the reference as plain text."""
    return "".join(text for _, text in reference_parts(source))


def _parts(source: Source) -> Iterator[tuple[str, str]]:
    if source.authors:
        yield "text", f"{authors(source)}: "
    yield "title", source.title
    tail = ", ".join(_tail(source))
    if tail:
        yield "text", f". {tail}"
    if source.address:
        yield "text", ". "
        yield "address", source.address


def authors(source: Source) -> str:
    """Return the authors in reading order; beyond MAX_AUTHORS only the first, with "et al."."""
    names = [author.name for author in source.authors]
    if len(names) > MAX_AUTHORS:
        return f"{names[0]} et al."
    return names[0] if len(names) == 1 else f"{', '.join(names[:-1])} and {names[-1]}"


def _tail(source: Source) -> Iterator[str]:
    if source.container_title:
        volume = f" {source.volume}" if source.volume else ""
        issue = f"({source.issue})" if source.issue else ""
        yield f"{source.container_title}{volume}{issue}"
    if source.page:
        yield source.page
    if source.number:
        yield source.number
    if source.edition:
        yield f"edition {source.edition}"
    if source.publisher and source.publisher not in (author.name for author in source.authors):
        yield source.publisher
    if source.year:
        yield str(source.year)
