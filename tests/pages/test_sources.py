"""Pages of the bibliography, of the changes and of the data, made from a made-up library with hostile texts."""

from __future__ import annotations

import re

import html5lib
import pytest
from markdown_it import MarkdownIt

from generator.export import page_of_data
from generator.pages import changes, sources
from tests.made_up import HOSTILE, made_up_library, made_up_results


@pytest.fixture(scope="module")
def library_(tmp_path_factory):
    return made_up_library(tmp_path_factory.mktemp("sources") / "chemistry")


@pytest.fixture(scope="module")
def made(library_):
    results = made_up_results(library_)
    data = {"data/index.md": page_of_data(library_, results)["data/index.md"]}
    return {**sources.pages(library_, results), **changes.pages(library_, results), **data}


def tree(page: str):
    """The page as a browser gets it: front matter off, Markdown by an engine other than the site's, HTML parsed."""
    text = re.sub(r"\A---\n.*?\n---\n", "", page, flags=re.DOTALL)
    return html5lib.parse(MarkdownIt("commonmark").render(text), namespaceHTMLElements=False)


def text_of(node) -> str:
    return " ".join("".join(node.itertext()).split())


def test_no_text_becomes_markup(made):
    for path, page in made.items():
        parsed = tree(page)
        assert {s.get("type") for s in parsed.iter("script")} <= {"application/ld+json"}, path
        assert not list(parsed.iter("b")) and not list(parsed.iter("i")), path
        assert all((a.get("href") or "").startswith(("../", "#", "./", "https://")) for a in parsed.iter("a")), path
        assert not any(name.startswith("on") or name == "style" for node in parsed.iter() for name in node.attrib), path


def test_a_source_page_shows_the_title_and_what_rests_on_it(made):
    page = tree(made["sources/hostile-2030/index.md"])
    assert text_of(next(page.iter("h1"))) == " ".join(HOSTILE.split())
    tags = [a for a in page.iter("a") if a.get("data-id")]
    assert [a.get("data-id") for a in tags] == ["hostilium.nominal-voltage.hostile", "hostilium.remark.warning"]
    assert tags[0].get("href") == "../../chemistries/hostilium/#nominal-voltage.hostile"
    assert "https://doi.org/10.1234/invented_(2030)#1" in {a.get("href") for a in page.iter("a")}


def test_who_reports_and_who_is_reported_both_list_the_value(made):
    for id in ("page-only", "standard-2028"):
        assert 'data-id="hostilium.charge-voltage-max.page"' in made[f"sources/{id}/index.md"]


def test_the_index_counts_what_rests_on_each(made, library_):
    page = tree(made["sources/index.md"])
    counts = {row.find("th/a").get("href"): text_of(row.findall("td")[-1]) for row in page.iter("tr") if row.find("th/a") is not None}
    assert set(counts) == {f"../sources/{id}/" for id in library_.sources}
    assert counts["../sources/long-2029/"] == "2" and counts["../sources/hostile-2030/"] == "2"


def test_every_source_of_every_kind_has_a_page(made, library_):
    assert {f"sources/{id}/index.md" for id in library_.sources} <= set(made)


def test_work_lists(library_):
    evidence = made_up_results(library_).evidence
    assert [stated.id for stated in evidence.unchecked] == ["hostilium.charge-voltage-max.power-cell"]
    assert "hostilium.discharge-cutoff-voltage.standard" in {stated.id for stated in evidence.single_source}
    assert evidence.grades["hostilium"] == {"read": 3, "reported": 1, "recalled": 2, "derived": 1, "practice": 1}
    largest = evidence.disagreements[0]
    # Windows from -10 and from 0 degrees: 10 of the 160 degrees that are plausible; voltages 3.6 and 3.7: 0.1 of 4.5 V.
    assert (largest.stated.id, largest.low.min, largest.high.min, largest.share) == ("hostilium.charge-temperature.standard", -10, 0, 10 / 160)
    assert evidence.disagreements[1].share == pytest.approx(0.1 / 4.5)


def test_anchors_are_unique(made):
    for path, page in made.items():
        ids = re.findall(r'\sid="([^"]+)"', page) + re.findall(r"\{ #(\S+) \}", page)
        assert len(ids) == len(set(ids)), path


def test_source_pages_stay_out_of_the_search_index(made):
    assert 'search: {"exclude": true}' in made["sources/hostile-2030/index.md"]
    assert "search:" not in made["sources/index.md"].split("---")[1]
