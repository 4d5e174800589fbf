"""Finished HTML stays out of a page's conversion: the Markdown converter would read every tag of it, and change none.

What is not to be searched stays out of the search's reading, too. A third of a build's time went there. Works on text, so that it serves any Markdown engine that lets one touch a page before and
after its conversion.
"""

from __future__ import annotations

import re

_LEVEL = "aside|details|div|dl|figure|form|nav|ol|p|section|table|ul"
_OPENS, _CLOSES = re.compile(rf"<(?:{_LEVEL})\b"), re.compile(rf"</(?:{_LEVEL})>")
_LAST = tuple(f"</{tag}>" for tag in _LEVEL.split("|"))
_START = re.compile(r"<([a-z]+)[^>]*>")
_PLACE = '<div data-set-aside="{}"></div>'
_PLACES = re.compile(_PLACE.format(r"(\d+)"))


def set_aside(markdown: str) -> tuple[str, list[str]]:
    """Return the page with a place in the stead of every block of finished HTML, and the blocks in the order of their places.

    A block stands between blank lines and holds whole elements of block level: a converter copies it as it is.
    """
    blocks: list[str] = []
    parts = markdown.split("\n\n")
    for number, part in enumerate(parts):
        if _is_finished(part):
            parts[number] = _PLACE.format(len(blocks))
            blocks.append(part.rstrip())
    return "\n\n".join(parts), blocks


def _is_finished(part: str) -> bool:
    whole = _OPENS.match(part) and part.rstrip().endswith(_LAST)
    return bool(whole) and len(_OPENS.findall(part)) == len(_CLOSES.findall(part))


def put_back(html: str, blocks: list[str]) -> str:
    """Return the converted page with the blocks in their places, save those not to be searched. Raises ValueError when a place was lost."""
    return _filled(html, [None if _is_hidden(block) else block for block in blocks], len(blocks))


def put_back_rest(html: str, blocks: list[str]) -> str:
    """Return the page with the blocks that ``put_back`` left out. Raises ValueError when a place was lost."""
    return _filled(html, list(blocks), sum(map(_is_hidden, blocks)))


def _filled(html: str, blocks: list[str | None], expected: int) -> str:
    html, count = _PLACES.subn(lambda found: found[0] if (block := blocks[int(found[1])]) is None else block, html)
    if count != expected:
        raise ValueError(f"{expected} blocks were set aside and {count} places came back")
    return html


def _is_hidden(block: str) -> bool:
    """Tell whether the block is one element that is not to be searched, with nothing beside it."""
    start = _START.match(block)
    if not start or "data-search-exclude" not in start.group():
        return False
    depth, ends = 0, []
    for found in re.finditer(rf"<(/?){start[1]}\b", block):
        depth += -1 if found[1] else 1
        if depth == 0:
            ends.append(found.start())
    return len(ends) == 1 and block[ends[0] :] == f"</{start[1]}>"
