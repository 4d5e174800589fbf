"""Citations in markup, read back by outside parsers: what is shown is exactly the plain text, and nothing else."""

from __future__ import annotations

import re

import bbcode
import html5lib
import pytest
from markdown_it import MarkdownIt

from generator.cite import escape
from generator.cite.styles import STYLES, citation
from generator.cite.text import PLAIN, pieces, reference
from tests.cite.reading import visible
from tests.made_up import HOSTILE, LONG


def plain_without_address(cited) -> str:
    """The plain citation less its closing permalink, which is the link's target elsewhere."""
    return citation(cited, STYLES["plain"]).removesuffix(f", {cited.link}")


def elements(html: str) -> set[str]:
    return {node.tag for node in html5lib.parse(html, namespaceHTMLElements=False).iter()} - {"html", "head", "body"}


def addresses(html: str) -> list[str]:
    return [node.get("href") for node in html5lib.parse(html, namespaceHTMLElements=False).iter("a")]


def test_html_shows_the_plain_text(cited):
    html = citation(cited, STYLES["html"])
    assert visible(html) == plain_without_address(cited)
    assert elements(html) <= {"a", "cite"}
    assert addresses(html)[0] == cited.link


# CommonMark, and the extensions of forums that could read more into a text.
@pytest.mark.parametrize("reader", [MarkdownIt("commonmark"), MarkdownIt("gfm-like", {"linkify": False})], ids=["commonmark", "gfm"])
def test_markdown_shows_the_plain_text(cited, reader):
    html = reader.render(citation(cited, STYLES["markdown"]))
    assert visible(html) == plain_without_address(cited)
    assert elements(html) <= {"p", "a", "em"}
    assert addresses(html)[0] == cited.link


def test_bbcode_shows_the_plain_text(cited):
    parser = bbcode.Parser(newline="\n", replace_links=False, replace_cosmetic=False)
    html = parser.format(citation(cited, STYLES["bbcode"]))
    assert visible(html).replace(escape.WORD_JOINER, "") == plain_without_address(cited)
    assert elements(html) <= {"a", "em"}
    assert addresses(html)[0] == cited.link


def page_of(id: str) -> str:
    return f"{'practice' if id.startswith('lantern') else 'chemistries'}/{id.split('.')[0]}/"


def test_a_citation_names_everything(cited):
    text = citation(cited, STYLES["plain"])
    assert cited.heading in text and cited.condition in text and "Grade: " in text
    assert "Cell Almanac, before the first edition" in text
    assert text.endswith(f"https://cell-almanac.org/{page_of(cited.id)}#{cited.id.split('.', 1)[1]}")
    for origin in cited.origins[:4]:
        assert (origin.source is None) or (origin.source.title in text and (origin.locator or "") in text)


def test_grade_and_memory_are_said(citer):
    power = citation(citer.cited(citer.find("hostilium.charge-voltage-max.power-cell")), STYLES["plain"])
    assert "recalled (from memory, not yet checked)" in power and "Not yet checked" in power and "none published" in power
    reported = citation(citer.cited(citer.find("hostilium.charge-voltage-max.page")), STYLES["plain"])
    assert "as reported by Invented Committee: An invented standard" in reported


def test_a_temperature_has_both_scales(citer):
    # 0 and 45 degrees Celsius are 32 and 113 degrees Fahrenheit by the definition of the scale.
    assert "0 to 45 \u00b0C (32 to 113 \u00b0F)" in citation(citer.cited(citer.find("hostilium.charge-temperature")), STYLES["plain"])


def test_every_line_is_one_line(cited):
    for style in ("link", "plain", "markdown", "bbcode", "html"):
        assert "\n" not in citation(cited, STYLES[style])


def test_texts_in_pieces_join_to_the_whole(cited):
    parts = pieces(cited, PLAIN)
    assert all(isinstance(part, str) == (place % 2 == 0) for place, part in enumerate(parts))
    assert "".join(part if isinstance(part, str) else reference(part, PLAIN) for part in parts) == citation(cited, STYLES["plain"])


@pytest.mark.parametrize("text", [HOSTILE, LONG, "[" * 50, "**", "1. one", "# h", "a\n\nb", "<!-- -->", "`" * 7, "\\" * 3, "![x](y)", "&copy;"])
def test_escapes_alone(text):
    shown = re.sub(r"\s+", " ", text)
    assert visible(f"<p>{escape.html_text(text)}") == shown.strip()
    assert visible(MarkdownIt("commonmark").render(f"x {escape.markdown(text)}")) == f"x {shown}".strip()
    html = bbcode.Parser(replace_links=False, replace_cosmetic=False).format(escape.bbcode(text))
    assert visible(html).replace(escape.WORD_JOINER, "") == shown.strip()
