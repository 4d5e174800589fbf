"""The source tag beside every figure: who says so, how well it is known, and the way to the evidence."""

from __future__ import annotations

import textwrap

from markupsafe import Markup

from generator.model.library import Library
from generator.model.subject import Remark, Stated, Subject, Value

# What stands in the place of a publication where there is none.
_NO_SOURCE = "no publication"
_NAME_LENGTH = 44


def basis(item: Value | Stated | Remark, library: Library) -> tuple[Value | Remark, ...]:
    """Return what a figure rests on: the values behind a stated figure, or the value or remark itself."""
    if not isinstance(item, Stated):
        return (item,)
    values = {value.id: value for value in _subject(item, library).values}
    return tuple(values[id] for id in item.value_ids)


def source_name(item: Value | Remark, library: Library) -> str:
    """Return the short name of the publication, or what stands in its place."""
    source = library.sources.get(item.source) if item.source else None
    return textwrap.shorten(source.short, _NAME_LENGTH, placeholder=" \u2026") if source else _NO_SOURCE


def source_tag(item: Value | Stated | Remark, library: Library, root: str | None = None) -> Markup:
    """Return the tag as a link to the item's row: on this page, or from another page with its way to the root.

    For a stated figure that rests on several publications it names the first and counts the others.
    """
    names = list(dict.fromkeys(source_name(value, library) for value in basis(item, library)))
    text = names[0] if len(names) == 1 else f"{names[0]} +{len(names) - 1}"
    page = "" if root is None else root + _subject(item, library).page
    return _tag(item, f"{page}#{item.anchor}", text)


def origin_tag(item: Value | Remark, library: Library, root: str) -> Markup:
    """Return the tag of a row of evidence: it leads to the publication's own page where there is one."""
    if item.source not in library.sources:
        return source_tag(item, library)
    address = f"{root}sources/{item.source}/"
    return _tag(item, address, source_name(item, library))


def _tag(item: Value | Stated | Remark, address: str, text: str) -> Markup:
    return Markup('<a class="tag grade-{}" data-id="{}" href="{}"><span>{}</span></a>').format(item.grade, item.id, address, text)


def _subject(item: Value | Stated | Remark, library: Library) -> Subject:
    return library.chemistries.get(item.subject) or library.practices[item.subject]
