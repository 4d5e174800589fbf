"""Outside readers, as the citation tests use them."""

from __future__ import annotations

import bibtexparser
import html5lib
from pylatexenc.latex2text import LatexNodes2Text, MacroTextSpec, get_default_latex_context_db

# Commands of LaTeX's own kernel (since 2020) that pylatexenc does not know or gives another code point.
_KERNEL = {"textbraceleft": "{", "textbraceright": "}", "textminus": "\u2212", "textasciicircum": "^", "textmu": "\u00b5", "textohm": "\u03a9"}


def from_latex(text: str) -> str:
    """What LaTeX would set, by pylatexenc."""
    macros = get_default_latex_context_db()
    macros.add_context_category("kernel", macros=[MacroTextSpec(name, sign) for name, sign in _KERNEL.items()], prepend=True)
    return LatexNodes2Text(latex_context=macros, strict_latex_spaces=True).latex_to_text(text)


def parsed(text: str) -> dict[str, dict[str, str]]:
    """The fields of each BibTeX entry by key; no block may fail to parse."""
    library = bibtexparser.parse_string(text)
    assert not library.failed_blocks
    return {entry.key: {field.key: field.value for field in entry.fields} for entry in library.entries}


def visible(html: str) -> str:
    """The text a browser shows."""
    return "".join(html5lib.parse(html, namespaceHTMLElements=False).itertext()).strip()
