"""Whatever stands in a record, a page shows it as text: read back from pages built of a made-up, hostile library."""

from __future__ import annotations

import re
from html.parser import HTMLParser

import markdown
import pytest

from generator.pages import render_all
from generator.pages.environment import contents, front_matter, markdown_text, script_json
from generator.theme_html import finish_page, script_hashes
from tests.made_up import HOSTILE, made_up_library, made_up_results

OURS = ("index.md", "chemistries/index.md", "chemistries/hostilium/index.md", "limits/index.md", "about/index.md")


class Reader(HTMLParser):
    """Collects tags, attributes and text as a browser would read them."""

    def __init__(self, html: str) -> None:
        super().__init__(convert_charrefs=True)
        self.tags: list[tuple[str, dict[str, str | None]]] = []
        self.text = ""
        self.feed(html)
        self.close()

    def handle_starttag(self, tag, attributes):
        self.tags.append((tag, dict(attributes)))

    def handle_data(self, data):
        self.text += data


@pytest.fixture(scope="module")
def pages(tmp_path_factory) -> dict[str, str]:
    library = made_up_library(tmp_path_factory.mktemp("made") / "chemistry")
    return dict(render_all(library, made_up_results(library)))


def html_of(text: str) -> str:
    body = text.split("\n---\n", 1)[1]
    return markdown.markdown(body, extensions=["attr_list", "tables", "toc"])


def test_our_pages_are_there(pages):
    assert set(OURS) <= set(pages)


@pytest.mark.parametrize("path", OURS)
def test_no_text_becomes_markup(pages, path):
    page = Reader(html_of(pages[path]))
    for tag, attributes in page.tags:
        if tag == "script":
            assert attributes["type"] in ("application/json", "application/ld+json")
        assert not any(name.startswith("on") or name == "style" for name in attributes), (tag, attributes)
        address = attributes.get("href") or ""
        assert not address.startswith(("javascript:", "data:")) and "x.invalid" not in address
    allowed = "a b br button caption code dd desc details div dl dt em fieldset figcaption figure form h1 h2 h3 input label legend li line nav ol"
    allowed += " option output p pattern rect script section select small span strong summary svg table tbody td text th thead title tr ul defs"
    assert {tag for tag, _ in page.tags} <= set(allowed.split())


def test_hostile_texts_are_shown_as_they_are(pages):
    text = " ".join(Reader(html_of(pages["chemistries/hostilium/index.md"])).text.split())
    assert text.count(" ".join(HOSTILE.split())) >= 3  # identity, note, remark
    assert "Hostilium <b>oxide</b> & \u96fb" in text
    assert "Hostilium <b>oxide</b> & \u96fb" in Reader(html_of(pages["chemistries/index.md"])).text


@pytest.mark.parametrize("path", OURS)
def test_raw_blocks_hold_no_blank_line(pages, path):
    # A blank line ends a raw HTML block in CommonMark: what follows would be read as Markdown.
    depth = 0
    for line in pages[path].split("\n---\n", 1)[1].splitlines():
        assert line.strip() or depth == 0, f"blank line inside a block of {path}"
        for name in ("div", "dl", "table", "details", "ul", "ol", "figure", "form", "p", "nav", "svg"):
            depth += len(re.findall(rf"<{name}[\s>]", line)) - line.count(f"</{name}>")
    assert depth == 0


@pytest.mark.parametrize("path", OURS)
def test_ids_are_unique(pages, path):
    ids = [attributes["id"] for _, attributes in Reader(html_of(pages[path])).tags if attributes.get("id")]
    assert len(ids) == len(set(ids))


def test_front_matter_survives_any_text():
    import yaml

    text = str(front_matter(title=HOSTILE, description="---\nid: x"))
    assert yaml.safe_load(text.strip().strip("-")) == {"title": HOSTILE, "description": "---\nid: x"}


def test_markdown_text_reads_back_in_any_engine():
    assert Reader(markdown.markdown(str(markdown_text(HOSTILE)))).text == HOSTILE


def test_json_block_cannot_be_ended():
    text = str(script_json({"x": "</script><script>alert(1)</script>\u2028"}))
    assert "<" not in text and "\u2028" not in text


def test_contents_escape():
    assert "<script>" not in contents([("a", "<script>")])


def test_policy_names_every_inline_script_and_nothing_else():
    page = '<meta charset="utf-8"><script>one()</script><script type="application/json">{}</script><script src="x.js"></script>'
    done = finish_page(page)
    policy = re.search(r'content="([^"]*)"', done).group(1)
    # echo -n 'one()' | openssl dgst -sha256 -binary | base64
    assert script_hashes(page) == ["sha256-" + "HR7iaask9daLMRRskMI++QeJtjWDOjyPA6lGzYGzKW4="]
    assert "script-src 'self' 'sha256-" in policy and "unsafe" not in policy and "default-src 'none'" in policy
