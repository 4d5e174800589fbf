"""Setting finished HTML aside changes no page: Python-Markdown, the converter itself, says what the page would be."""

from __future__ import annotations

import markdown
import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.set_aside import put_back, put_back_rest, set_aside

EXTENSIONS = ["admonition", "attr_list", "tables", "toc"]


def converted(text: str) -> str:
    return markdown.markdown(text, extensions=EXTENSIONS)


def by_way_of_places(text: str) -> str:
    shorter, blocks = set_aside(text)
    return put_back_rest(put_back(converted(shorter), blocks), blocks)


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
        put_back(markdown.markdown(shorter, extensions=["fenced_code"]), blocks)


def test_what_is_not_to_be_searched_comes_back_last():
    shorter, blocks = set_aside("<p>seen</p>\n\n<div data-search-exclude>\n<p>unseen</p>\n</div>")
    searched = put_back(converted(shorter), blocks)
    assert "seen" in searched and "unseen" not in searched
    assert "unseen" in put_back_rest(searched, blocks)
    with pytest.raises(ValueError, match="1 blocks were set aside and 0 places"):
        put_back_rest("<p>seen</p>", blocks)
    shorter, blocks = set_aside("<p data-search-exclude>unseen</p>\n<p>seen beside it</p>")
    assert "seen beside it" in put_back(converted(shorter), blocks)
