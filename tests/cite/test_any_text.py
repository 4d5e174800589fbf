"""Any text at all, in each format, comes back from an outside reader as it was: properties, not examples."""

from __future__ import annotations

import re

import html5lib
import rispy
from bbcode import Parser
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from markdown_it import MarkdownIt

from generator.cite import escape, ris
from tests.cite.reading import from_latex, parsed, visible

# Letters of several scripts and every sign that means something to one of the formats; records hold no control characters.
SIGNS = "{}[]()<>\\\"'`*_~^$%&#|@!?:;=/.,+-\u2212\u00b0\u03a9\u00b5"
TEXT = st.text(st.sampled_from("abZ9 \u00e9\u0431\u96fb" + SIGNS), min_size=1, max_size=40).map(lambda t: " ".join(t.split())).filter(bool)
many = settings(max_examples=300, deadline=None)

COMMONMARK = MarkdownIt("commonmark")
GFM = MarkdownIt("gfm-like", {"linkify": False})
BBCODE = Parser(newline="\n", replace_links=False, replace_cosmetic=False)


@many
@given(TEXT)
def test_html(text):
    assert visible(f"<p>{escape.html_text(text)}</p>") == text


@many
@given(TEXT)
def test_html_attribute(text):
    page = html5lib.parse(f'<a href="{escape.html_text(text)}">x</a>', namespaceHTMLElements=False)
    assert next(page.iter("a")).get("href") == text


@many
@given(TEXT)
def test_markdown(text):
    for reader in (COMMONMARK, GFM):
        assert visible(reader.render(f"x{escape.markdown(text)}x")) == f"x{text}x"


@many
@given(TEXT, TEXT)
def test_markdown_link_and_emphasis(text, title):
    html = COMMONMARK.render(f"[{escape.markdown(text)}](<https://x.invalid/>) *{escape.markdown(title)}*")
    assert visible(html) == f"{text} {title}"
    assert html.count("<a ") == 1 and html.count("<em>") == 1


@many
@given(TEXT)
def test_bbcode(text):
    assume(not re.search(r"\[.*=.*[\"']", text))  # the one thing BBCode has no way to say; see escape.bbcode
    html = BBCODE.format(f"[i]x[/i]{escape.bbcode(text)}[i]x[/i]")  # inside [i] this reader draws dashes of its own
    assert visible(html).replace(escape.WORD_JOINER, "") == f"x{text}x"
    assert html.count("<em>") == 2


@many
@given(TEXT)
def test_bibtex(text):
    entry = parsed(f"@misc{{k,\n  title = {{{{{escape.bibtex(text)}}}}},\n  note = {{after}}\n}}")["k"]
    assert from_latex(entry["title"]).strip() == text and entry["note"] == "after"


@many
@given(TEXT)
def test_ris(text):
    (record,) = rispy.loads(ris.record("GEN", "k", [("TI", text), ("N1", "after")]))
    assert (record["title"], record["notes"]) == (text, ["after"])
