"""Finished HTML stays out of a page's conversion: the Markdown converter would read every tag of it, and change none.

A third of a build's time went there. Works on text, so that it serves any Markdown engine that lets one touch a page before and
after its conversion.
"""

from __future__ import annotations

import re

_LEVEL = "aside|details|div|dl|figure|form|nav|ol|p|section|table|ul"
_OPENS, _CLOSES = re.compile(rf"<(?:{_LEVEL})\b"), re.compile(rf"</(?:{_LEVEL})>")
_LAST = tuple(f"</{tag}>" for tag in _LEVEL.split("|"))
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
    """Return the converted page with the blocks in their places. Raises ValueError when a place was lost on the way."""
    html, count = _PLACES.subn(lambda found: blocks[int(found[1])], html)
    if count != len(blocks):
        raise ValueError(f"{len(blocks)} blocks were set aside and {count} places came back")
    return html
