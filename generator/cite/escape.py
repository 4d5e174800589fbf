"""Plain text made safe in each format: what is shown is exactly what was written."""

from __future__ import annotations

import html
import re
from functools import lru_cache

WORD_JOINER = "\u2060"

# Characters with a meaning inside a line of CommonMark or its common extensions (strikethrough, tables, mathematics,
# addresses turned into links by themselves).
_MARKDOWN = re.compile(r"([\\`*_\[\]<>|~&$@]|:(?=//)|(?<=www)\.)")

_BIBTEX = {
    "\\": r"\textbackslash{}",
    # A brace counts for BibTeX even behind a backslash, so it is named.
    "{": r"\textbraceleft{}",
    "}": r"\textbraceright{}",
    "&": r"\&",
    "%": r"\%",
    "$": r"\$",
    "#": r"\#",
    "_": r"\_",
    "~": r"\textasciitilde{}",
    "^": r"\textasciicircum{}",
    "<": "$<$",
    ">": "$>$",
    "|": "$|$",
    "\u2212": r"\textminus{}",
    "\u00b0": r"\textdegree{}",
    "\u03a9": r"\textohm{}",
    "\u00b5": r"\textmu{}",
}


_BIBTEX_TABLE = str.maketrans(_BIBTEX | {"\x00": "{}"})

# Pairs that LaTeX's fonts draw as one sign (dashes, quotation marks, inverted marks).
_LIGATURE = re.compile(r"(?<=-)(?=-)|(?<=')(?=')|(?<=[`?!])(?=`)|(?<=,)(?=,)")


# The same words return in thousands of citations: each is escaped once.
_once = lru_cache(maxsize=16384)


@_once
def markdown(text: str) -> str:
    """Escape with backslashes, which CommonMark (section 2.4) takes as the character itself."""
    return _MARKDOWN.sub(r"\\\1", _line(text))


@_once
def html_text(text: str) -> str:
    """Escape for HTML text and quoted attributes."""
    return html.escape(_line(text), quote=True)


@_once
def bbcode(text: str) -> str:
    """Keep brackets from being read as tags: BBCode has no escape, so an invisible word joiner parts them from a name.

    What BBCode cannot say: some readers take a quote that follows ``[`` and ``=`` for the start of a tag's value.
    """
    return _line(text).replace("[", f"[{WORD_JOINER}")


def bibtex(text: str) -> str:
    """Escape for a braced BibTeX field."""
    return _LIGATURE.sub("\x00", _line(text)).translate(_BIBTEX_TABLE)


def bibtex_address(address: str) -> str:
    """Return an address for a ``url`` or ``doi`` field, which is verbatim: what would unbalance braces is percent-encoded."""
    return "".join(f"%{ord(c):02X}" if c in "{}\\^`| " else c for c in address)


def ris(text: str) -> str:
    """Return one line: RIS has no escape, a line break would begin a new field."""
    return _line(text)


_NOT_ONE_LINE = re.compile(r"[^\S ]|  ")


def _line(text: str) -> str:
    return re.sub(r"\s+", " ", text) if _NOT_ONE_LINE.search(text) else text
