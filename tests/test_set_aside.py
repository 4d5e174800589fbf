"""Setting finished HTML aside changes no page: Python-Markdown, the converter itself, says what the page would be."""

from __future__ import annotations

import markdown
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from material.plugins.search.plugin import Parser

from generator.set_aside import put_back, set_aside, with_words

EXTENSIONS = ["admonition", "attr_list", "tables", "toc"]


def converted(text: str) -> str:
    return markdown.markdown(text, extensions=EXTENSIONS)


def by_way_of_places(text: str) -> str:
    shorter, blocks = set_aside(text)
    return put_back(with_words(converted(shorter), blocks), blocks)


BLOCKS = st.sampled_from(
    [
        "# A *heading* { #here }",
        "Words with <b>bold</b> & *more*.",
        '<p class="lede">One &lt; two *not emphasis*</p>',
        '<div class="tw" data-search-exclude>\n<table>\n<tr><td>1</td></tr>\n</table>\n</div>',
        "<dl>\n<div><dt>A</dt>\n<dd>B</dd></div>\n</dl>",
        "<p>One</p>\n<p>two</p>\n<ul><li>three</li></ul>",
        "- a list\n- of two",
        "| a | b |\n|---|---|\n| 1 | 2 |",
        "<svg><title>no block level</title></svg>",
        "<details>\n<summary>S</summary>\n<p>x</p>\n</details>",
        "<figure>\n<img src=\"a.svg\" alt=\"&quot;\">\n</figure>",
        "<span>inline</span> text",
    ]
)


@settings(deadline=None)  # nothing is timed in tests
@given(st.lists(BLOCKS, max_size=8), st.sampled_from(["", "\n"]))
def test_the_page_is_the_same(blocks, end):
    text = "\n\n".join(blocks) + end
    assert by_way_of_places(text).strip() == converted(text).strip()


def test_what_is_not_whole_stays():
    for part in ("<div>\n<p>open", "<p>a</p>\n<div>", "text <p>a</p>", "<p>a</p> text", "<b>a</b>"):
        assert set_aside(part) == (part, [])


def test_a_lost_place_is_an_error():
    shorter, blocks = set_aside("```\n\n<p>an example</p>\n\n```")
    with pytest.raises(ValueError, match="1 blocks were set aside and 0 places"):
        with_words(markdown.markdown(shorter, extensions=["fenced_code"]), blocks)


def entries(html: str) -> list[tuple[str, str]]:
    """What the search of the theme makes of a page: (title, text) of each entry, white space aside."""
    parser = Parser()
    parser.feed(html)
    parser.close()
    return [(" ".join("".join(s.title).split()), " ".join("".join(s.text).split())) for s in parser.data if not s.is_excluded()]


SEARCHED = st.sampled_from(
    [
        "<p data-search-exclude>unseen</p>\n<p>seen beside it</p>",
        '<div class="tw" data-search-exclude>\n<div><div>unseen</div></div>\n</div>',
        "<dl>\n<dt>A <sub>2</sub></dt>\n<dd>B &lt; &amp; <code>c</code> <p class='x' data-search-exclude>unseen</p> <details data-search-exclude><p>un</p></details>D</dd>\n</dl>",
        '<div>\n<h2 id="here">Title</h2>\n<p>under it</p>\n<div>deep</div>\n</div>',
        '<p>a <img src="x.svg" alt="b" data-search-exclude> c</p>',
        '<ul class="x">\n<li id="y">one\n two</li>\n<li></li>\n</ul>',
    ]
)


@settings(deadline=None)
@given(st.lists(BLOCKS | SEARCHED, max_size=8))
def test_the_search_reads_the_same(blocks):
    """Against the theme's own reader of pages, on the page as it would be without setting anything aside."""
    text = "\n\n".join(("# Page { #page }", *blocks))
    shorter, aside = set_aside(text)
    assert entries(with_words(converted(shorter), aside)) == entries(converted(text))
    assert by_way_of_places(text).strip() == converted(text).strip()
