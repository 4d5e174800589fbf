"""BibTeX, CSL-JSON and RIS, read back by outside readers."""

from __future__ import annotations

import json
import re
from pathlib import Path

import bibtexparser
import pytest
import rispy
from bibtexparser.middlewares import LatexDecodingMiddleware, RemoveEnclosingMiddleware
from citeproc import Citation, CitationItem, CitationStylesBibliography, CitationStylesStyle, formatter
from citeproc.source.json import CiteProcJSON

from generator.cite import escape
from generator.cite.bibtex import source_entry
from generator.cite.csl import source_item
from generator.cite.ris import source_record
from generator.cite.styles import STYLES, citation, cite
from generator.cite.text import note
from tests.cite.reading import from_latex, parsed
from tests.made_up import BODY, HOSTILE, LONG


def shown(text: str) -> str:
    # A run of spaces is one space to LaTeX, RIS readers and people alike.
    return re.sub(r"\s+", " ", text)


def test_bibtex_gives_figure_and_sources(cited):
    entries = parsed(citation(cited, STYLES["bibtex"]))
    assert list(entries) == [f"cell-almanac.{cited.id}", *(source.id for source in cited.sources)]
    own = entries[f"cell-almanac.{cited.id}"]
    assert shown(from_latex(own["title"])) == shown(cited.heading)
    assert shown(from_latex(own["note"])) == shown(note(cited))
    assert own["url"] == cited.link


def test_bibtex_braces_balance(cited):
    depth = 0
    for character in citation(cited, STYLES["bibtex"]):
        depth += {"{": 1, "}": -1}.get(character, 0)
        assert depth >= 0
    assert depth == 0


def test_bibtex_texts_come_back(made_up):
    entries = parsed("\n\n".join(source_entry(source) for source in made_up.sources.values()))
    assert set(entries) == set(made_up.sources)
    hostile, long = entries["hostile-2030"], entries["long-2029"]
    assert shown(from_latex(hostile["title"])) == shown(HOSTILE)
    assert shown(from_latex(long["title"])) == LONG
    assert from_latex(hostile["author"]).endswith(f"and {BODY}")
    assert hostile["doi"] == "10.1234/invented_(2030)#1"
    assert long["url"] == "https://example.invalid/a_(b)[c]?x=1&y=%7Bz%7D%20#frag"
    assert (hostile["journal"], hostile["volume"], hostile["number"], hostile["pages"], hostile["year"]) == (
        r"{Journal of $<$i$>$Invented$<$/i$>$ \& Other Cells}", "7", "2", "11-19", "2030")  # fmt: skip


def test_bibtex_bodies_are_one_author(made_up):
    from bibtexparser.middlewares import SeparateCoAuthors

    stack = [RemoveEnclosingMiddleware(), SeparateCoAuthors()]
    library = bibtexparser.parse_string(source_entry(made_up.sources["long-2029"]), parse_stack=stack)
    (names,) = (field.value for field in library.entries[0].fields if field.key == "author")
    assert len(names) == 1 and from_latex(names[0]) == BODY


def test_latex_decoding_agrees(made_up):
    library = bibtexparser.parse_string(source_entry(made_up.sources["standard-2028"]), append_middleware=[LatexDecodingMiddleware()])
    assert library.entries[0]["title"].strip("{}") == "An invented standard"


@pytest.mark.parametrize("text", ["{", "}", "}{", "\\", "\\}", "\u03a9 \u00b0 \u2212 \u00b5", "%", "$", "a~b", "\u96fb\u6c60", "#1_2^3", "a--b---c", "''x``", "?` !`", ",,x"])
def test_bibtex_escape_alone(text):
    entries = parsed(f"@misc{{k, title = {{{{{escape.bibtex(text)}}}}}, note = {{after}}}}")
    assert from_latex(entries["k"]["title"]) == text and entries["k"]["note"] == "after"


def test_ris_gives_figure_and_sources(cited):
    records = rispy.loads(citation(cited, STYLES["ris"]))
    assert [record["id"] for record in records] == [f"cell-almanac.{cited.id}", *(source.id for source in cited.sources)]
    assert shown(records[0]["title"]) == shown(cited.heading)
    assert records[0]["urls"] == [cited.link]
    assert shown(" ".join(records[0]["notes"])) == shown(note(cited))


def test_ris_texts_come_back(made_up):
    (record,) = rispy.loads(source_record(made_up.sources["hostile-2030"]))
    assert record["type_of_reference"] == "JOUR"
    assert shown(record["title"]) == shown(HOSTILE)
    assert record["authors"] == ["O'Brien-\u00d6zt\u00fcrk {x}, A. & B.", BODY]
    assert (record["start_page"], record["end_page"], record["year"], record["doi"]) == ("11", "19", "2030", "10.1234/invented_(2030)#1")


def test_csl_is_json_in_the_order_of_the_sources(cited):
    items = json.loads(citation(cited, STYLES["csl-json"]))
    assert [item["id"] for item in items] == [f"cell-almanac.{cited.id}", *(source.id for source in cited.sources)]
    assert items[0]["title"] == cited.heading and items[0]["URL"] == cited.link


# The style that comes with the processor, and a numbered one written here from the CSL 1.0.2 specification.
@pytest.mark.parametrize("style", ["harvard-cite-them-right", str(Path(__file__).with_name("numbered.csl"))], ids=["author-date", "numbered"])
@pytest.mark.filterwarnings("ignore")  # the processor warns of fields and types it does not know; it must still render
def test_csl_renders_in_a_processor(made_up, style):
    items = [source_item(source) for source in made_up.sources.values()]
    items += json.loads(cite(made_up, "hostilium.charge-voltage-max", "csl-json"))[:1]
    known = CitationStylesStyle(style, validate=False)
    bibliography = CitationStylesBibliography(known, CiteProcJSON(items), formatter.plain)
    for item in items:
        bibliography.register(Citation([CitationItem(item["id"].lower())]))
    text = " ".join("".join(str(part) for part in entry) for entry in bibliography.bibliography())
    assert "rien-\u00d6zt\u00fcrk" in text and "An invented standard" in text and "2030" in text
    assert BODY in text and "Cell Almanac contributors" in text
