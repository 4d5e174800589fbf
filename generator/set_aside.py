"""Finished HTML stays out of a page's conversion: the Markdown converter would read every tag of it, and change none.

The search, too, reads only the words of it. A third of a build's time went there. Works on text, so that it serves any
Markdown engine that lets one touch a page before and after its conversion.
"""

from __future__ import annotations

import re

_LEVEL = "aside|details|div|dl|figure|form|nav|ol|p|section|table|ul"
_OPENS, _CLOSES = re.compile(rf"<(?:{_LEVEL})\b"), re.compile(rf"</(?:{_LEVEL})>")
_LAST = tuple(f"</{tag}>" for tag in _LEVEL.split("|"))
_PLACE = '<div data-set-aside="{}">{}</div>'
_PLACES = re.compile(_PLACE.format(r"(\d+)", "(?:(?!</div>).)*"), re.DOTALL)

_UNSEARCHED = re.compile(r"<(?!img|input|br|hr)([a-z0-9]+)\s[^>]*\bdata-search-exclude\b[^>]*>")
# What the search's reader does more with than to take the words: a heading begins an entry, some elements are left out.
_MORE_THAN_WORDS = re.compile(r"<(?:h[1-6]|object|script|style|!)|data-search-exclude|linenodiv")
# Tags it keeps, and all others, which it drops without a trace.
_KEPT = "p|code|pre|li|ol|ul|sub|sup"
_ATTRIBUTES, _OTHERS = re.compile(rf"<({_KEPT})\s[^>]*>"), re.compile(rf"<(?!/?(?:{_KEPT})\b)[^>]*>")


def set_aside(markdown: str) -> tuple[str, list[str]]:
    """Return the page with a place in the stead of every block of finished HTML, and the blocks in the order of their places.

    A block stands between blank lines and holds whole elements of block level: a converter copies it as it is.
    """
    blocks: list[str] = []
    parts = markdown.split("\n\n")
    for number, part in enumerate(parts):
        if _is_finished(part):
            parts[number] = _PLACE.format(len(blocks), "")
            blocks.append(part.rstrip())
    return "\n\n".join(parts), blocks


def _is_finished(part: str) -> bool:
    whole = _OPENS.match(part) and part.rstrip().endswith(_LAST)
    return bool(whole) and len(_OPENS.findall(part)) == len(_CLOSES.findall(part))


def with_words(html: str, blocks: list[str]) -> str:
    """Return the converted page with each block's words in its place: all that the search reads there. ``put_back`` takes it.

    Raises ValueError when a place was lost on the way.
    """
    return _filled(html, [_PLACE.format(number, _words(block)) for number, block in enumerate(blocks)])


def put_back(html: str, blocks: list[str]) -> str:
    """Return the page with the blocks in their places. Raises ValueError when a place was lost on the way."""
    return _filled(html, blocks)


def _filled(html: str, blocks: list[str]) -> str:
    html, count = _PLACES.subn(lambda found: blocks[int(found[1])], html)
    if count != len(blocks):
        raise ValueError(f"{len(blocks)} blocks were set aside and {count} places came back")
    return html


def _words(block: str) -> str:
    block = _searched(block)
    if _MORE_THAN_WORDS.search(block):
        return block.replace("</div>", "</section>").replace("<div", "<section")  # as it is, but for what ends a place
    return _ATTRIBUTES.sub(r"<\1>", _OTHERS.sub("", block))


def _searched(block: str) -> str:
    kept, place = [], 0
    while start := _UNSEARCHED.search(block, place):
        kept.append(block[place : start.start()])
        place = _end_of(start, block)
    return "".join((*kept, block[place:]))


def _end_of(start: re.Match[str], block: str) -> int:
    """Return where the element that ``start`` begins has ended: the end of the block where nothing ends it."""
    depth = 0
    for found in re.compile(rf"<(/?){start[1]}\b[^>]*>").finditer(block, start.start()):
        depth += -1 if found[1] else 1
        if depth == 0:
            return found.end()
    return len(block)
