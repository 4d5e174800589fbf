"""Labels, sizes and markings are cited like values: ids for good, one address each, and every way back to the record's line."""

from __future__ import annotations

import re
from urllib.parse import parse_qs, urlsplit

import pytest
import yaml

from generator.address import edit_address, report_address
from generator.build import ROOT
from generator.check.edition import FIELDS
from generator.statement_ids import statement_address
from generator.cite.cited import Citer, UnknownId
from generator.cite.styles import STYLES, citation
from generator.cite.then import UnknownEdition, cited_then, edition_named
from generator.editions import difference, snapshot
from generator.pages.retired import retired_statements
from tests.made_up import HOSTILE


@pytest.fixture(scope="module")
def live(library):
    return Citer(library)


def test_each_statement_has_one_id_one_address_and_words(library):
    ids, addresses = [s.id for s in library.statements], [s.address for s in library.statements]
    assert len(ids) == len(set(ids)) == len(set(addresses)) > 150
    assert all(re.fullmatch(r"(label|size|marking)\.[a-z0-9-]+\.[a-z0-9-]+", id) for id in ids)
    assert all(s.text and s.about for s in library.statements)


@pytest.mark.parametrize(("id", "address"), [
    ("label.10-8-v.10v8-lithium-ion-3s-laptop", "labels/10.8-v/#10v8-lithium-ion-3s-laptop"),
    ("label.24-v.24v-x", "labels/24-v/#24v-x"),
    ("label.rounded.four-volts", "labels/#rounded.four-volts"),
    ("size.18650.qcvn", "sizes/#18650.qcvn"),
    ("marking.iec-61960.x", "markings/#iec-61960.x"),
])  # fmt: skip
def test_the_address_follows_from_the_id(id, address):
    assert statement_address(id) == address


def test_every_line_is_the_records_own(library):
    """Read the files as text: on the line named stands the key or id of what is cited."""
    files: dict[str, list[str]] = {}
    for item in (*library.values(), *library.remarks(), *library.statements):
        lines = files.setdefault(item.file, (ROOT / item.file).read_text("utf-8").splitlines())
        key = item.id.rsplit(".", 1)[1]
        first = yaml.safe_load(re.sub(r"^\s*-\s*", "", lines[item.line - 1]).split(" #")[0])
        assert key in (first.get("key"), first.get("id")), (item.id, item.line)


def test_a_size_is_cited_by_its_name_alone(live, library):
    cited = live.cited(live.find("size.18650"))
    stated = library.sizes["18650"].stated
    assert cited.id == f"size.18650.{stated.key}" and f"{stated.diameter_mm[1]:g} mm" in cited.figure


def test_statements_read_the_same_in_every_style(live):
    cited = live.cited(live.find("label.rounded.four-volts"))
    texts = {style: citation(cited, STYLES[style]) for style in STYLES}
    assert texts["link"] == "https://cell-almanac.org/labels/#rounded.four-volts" and all(texts.values())


@pytest.mark.parametrize(("id", "hint"), [("size.18650.qcv", "'size.18650.qcvn'"), ("lfp.charge-voltage-mx", "'lfp.charge-voltage-max.standard'"), ("size.1865", "'size.18650")])
def test_a_slip_is_met_within_its_own_subject(live, id, hint):
    with pytest.raises(UnknownId, match=hint):
        live.find(id)


def test_an_edition_that_does_not_exist_is_named_with_those_that_do(library):
    with pytest.raises(UnknownEdition, match=r"no edition is called '1999.01'\. (There is|There are|Did you mean)"):
        edition_named(library, "1999.01")


def test_the_frozen_edition_is_cited_as_it_was(live, library):
    edition = library.editions[0]
    id = "lfp.charge-voltage-max.standard"
    cited = cited_then(live, id, edition)
    row = edition.stated[id]
    assert f"{row['typical']:.2f} V" in cited.figure and cited.edition_words == f"edition {edition.name}"
    with pytest.raises(UnknownId, match="does not hold it"):
        cited_then(live, "size.18650.qcvn", library.editions[0])


def test_then_and_now_when_a_figure_changed(library, live):
    """The newest edition is given another figure: the citation says so, and one of then leads to the page of then and now."""
    import dataclasses

    from generator.cite.then import changed_since, now_words

    id = "lfp.charge-voltage-max.standard"
    edition = library.editions[-1]
    row = {**edition.stated[id], "typical": 9.87}
    other = dataclasses.replace(edition, stated={**edition.stated, id: row})
    changed = Citer(dataclasses.replace(library, editions=(*library.editions[:-1], other)))
    found, words = changed_since(changed, id)
    assert found.name == edition.name and words.startswith("9.87")
    assert cited_then(changed, id, other).link == f"https://cell-almanac.org/changes/{edition.name}/#{id}"
    assert "3.65" in now_words(changed, id) and changed_since(live, id) is None


def test_editions_hold_statements_and_no_lines(library):
    now = snapshot(library)
    assert now.remarks["size.18650.qcvn"]["source"] == "qcvn-101-2016"
    assert not any({"line", "file"} & set(columns) for columns in FIELDS.values())
    first = {change.id: change.kind for change in difference(library.editions[0], now)}
    newly = [s.id for s in library.statements if s.id not in library.editions[0].remarks]
    assert all(first[id] == "added" for id in newly)


def test_a_retired_statement_still_answers(library):
    import dataclasses

    from generator.model.library import Retired

    gone = Retired("label.10-8-v.10v8-gone", "size.18650.qcvn", "Withdrawn <b>.")
    html = str(retired_statements("labels/10.8-v/", dataclasses.replace(library, retired=(gone,)), "../../"))
    assert '<li id="10v8-gone">' in html and 'href="../../sizes/#18650.qcvn"' in html and "<b>" not in html
    assert retired_statements("sizes/", dataclasses.replace(library, retired=(gone,)), "../") == ""


def test_a_report_says_what_and_comes_back_from_the_address():
    fields = {"id": "a.b.c", "label": HOSTILE, "figure": "{id} & 3 %", "edition": "2026.11", "link": "https://x.invalid/#a", "record": edit_address("chemistry/records/a.yml", 12)}
    address = urlsplit(report_address(**fields))
    query = parse_qs(address.query, strict_parsing=True)
    assert address.path.endswith("/issues/new") and query["title"] == ["Wrong value: a.b.c"]
    body = query["body"][0]
    assert all(text in body for text in fields.values()) and "records/a.yml#L12" in body


def test_every_anchor_stands_on_its_built_page(site, library):
    pages: dict[str, str] = {}
    for statement in library.statements:
        html = pages.setdefault(statement.page, (site / statement.page / "index.html").read_text("utf-8"))
        assert html.count(f'id="{statement.anchor}"') + html.count(f"id={statement.anchor}") >= 1, statement.id
        assert statement.id in html, statement.id


def test_every_subject_page_leads_to_its_record(site, library):
    for subject in library.subjects():
        html = (site / subject.page / "index.html").read_text("utf-8")
        assert f"{subject.file}#L1" in html and "Report a wrong value" in html
