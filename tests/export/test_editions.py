"""Editions: frozen once, exact, compared, and every id of theirs answered for ever. All figures are invented."""

from __future__ import annotations

import dataclasses
import json

import html5lib
import jsonschema
import pytest

from generator.check import check
from generator.cite.styles import cite
from generator.cli.freeze import NotFrozen, frozen, write_new
from generator.editions import difference, history, snapshot
from generator.export.schemas import published
from generator.check.edition import digest
from generator.model.edition import edition_data, edition_from, edition_text
from generator.pages import changes
from generator.pages.retired import retired_rows
from generator.problem import Refused
from generator.tree import read_tree
from tests.made_up import made_up_library, made_up_results, record, write_data

CHARGE = "hostilium.charge-voltage-max"


def frozen_in(folder, name="2026.12", date="2026-12-01"):
    """Freeze a data folder's present state into it and return the file."""
    from generator.build import load

    path = folder / "editions" / f"{name}.json"
    write_new(path, frozen(load(folder), name, date))
    return path


def test_an_edition_is_what_the_library_says(tmp_path):
    library = made_up_library(tmp_path / "chemistry")
    data = json.loads(frozen(library, "2026.12", "2026-12-01"))
    jsonschema.Draft202012Validator(published()["export-edition.schema.json"]).validate(data)
    assert [row[0] for row in data["values"]] == sorted(value.id for value in library.values())
    assert [row[0] for row in data["stated"]] == sorted(stated.id for stated in library.stated())
    assert [row[0] for row in data["remarks"]] == ["hostilium.remark.warning"]
    row = dict(zip(data["stated_fields"], next(row for row in data["stated"] if row[0] == f"{CHARGE}.standard")))
    assert (row["typical"], row["unit"], row["rule"], row["value_ids"]) == (3.6, "V", "lowest", [f"{CHARGE}.long"])


def test_its_hash_is_that_of_its_content(tmp_path):
    """Recomputed here as the schema describes it, without the generator's own function."""
    import hashlib

    data = json.loads(frozen(made_up_library(tmp_path / "chemistry"), "2026.12", "2026-12-01"))
    named = data.pop("sha256")
    assert hashlib.sha256(json.dumps(data, ensure_ascii=False, separators=(",", ":"), sort_keys=True).encode()).hexdigest() == named


def test_an_edition_comes_back_as_it_was(tmp_path):
    edition = snapshot(made_up_library(tmp_path / "chemistry"), "2026.12", "2026-12-01")
    assert edition_from(json.loads(edition_text(edition))) == edition


def test_freezing_twice_is_refused(tmp_path):
    folder = write_data(tmp_path / "chemistry")
    path = frozen_in(folder)
    before = path.read_bytes()
    with pytest.raises(NotFrozen, match="newer or the same"):
        frozen_in(folder)
    with pytest.raises(NotFrozen, match="exists"):
        write_new(path, "anything")
    assert path.read_bytes() == before and list(path.parent.iterdir()) == [path]


@pytest.mark.parametrize("name, date", [("2026.13", "2026-12-01"), ("winter", "2026-12-01"), ("../x", "2026-12-01"), ("2026.12", "2026-02-30"), ("2026.12", "today")])
def test_bad_names_and_days_are_refused(tmp_path, name, date):
    with pytest.raises(NotFrozen):
        frozen(made_up_library(tmp_path / "chemistry"), name, date)


def test_an_older_name_or_day_is_refused(tmp_path):
    folder = write_data(tmp_path / "chemistry")
    frozen_in(folder, "2026.12", "2026-12-05")
    for name, date in (("2026.11", "2026-12-06"), ("2027.01", "2026-12-04")):
        with pytest.raises(NotFrozen):
            frozen_in(folder, name, date)
    frozen_in(folder, "2026.12.1", "2026-12-05")
    assert check(read_tree(folder)) == []


@pytest.mark.parametrize("damage", [
    lambda text: text.replace("3.6,", "3.5,", 1),
    lambda text: text.replace('"2026.12"', '"2027.01"', 1),
    lambda text: text.replace('"grade","unchecked"', '"unchecked","grade"'),
    lambda text: text[:-20],
    lambda text: text.replace("3.6,", "NaN,", 1),
    lambda text: text.replace('"format":1', '"format":1,"format":1'),
    lambda text: "[]",
    lambda text: '"',
])  # fmt: skip
def test_a_damaged_edition_is_found(tmp_path, damage):
    path = frozen_in(write_data(tmp_path / "chemistry"))
    path.write_text(damage(path.read_text("utf-8")), "utf-8")
    problems = check(read_tree(tmp_path / "chemistry"))
    assert problems and all(problem.file == "chemistry/editions/2026.12.json" for problem in problems)


def two_states(tmp_path, **options):
    """An edition of the made-up data, then data where one figure fell, one value went and one came."""
    folder = write_data(tmp_path / "chemistry")
    frozen_in(folder)
    made = record()
    values = made["values"]["charge-voltage-max"]
    values[1].update(typical=3.55)
    del values[2]
    values.append({"key": "fresh", "typical": 3.65, "unit": "V", "source": "page-only", "locator": "row 3", "grade": "read"})
    made["variants"], made["values"]["charge-voltage-max"] = [], [v for v in values if "variant" not in v]
    return write_data(folder, made, **options)


RETIRED = [
    {"id": f"{CHARGE}.memory", "because": "Published figures took its place.", "moved_to": f"{CHARGE}.long"},
    {"id": f"{CHARGE}.power", "because": "It was never found in print <b>."},
    {"id": f"{CHARGE}.power-cell", "because": "Its one value went."},
]


def test_an_id_may_not_vanish(tmp_path):
    problems = [str(problem) for problem in check(read_tree(two_states(tmp_path)))]
    assert len(problems) == 3
    assert f"'{CHARGE}.memory' stands in edition 2026.12 and nowhere now" in problems[0]


def test_retired_ids_are_answered(tmp_path):
    from generator.build import load

    library = load(two_states(tmp_path, retired=RETIRED))
    rows = retired_rows(library.chemistries["hostilium"], library, "../../")
    tree = html5lib.parse(str(rows), namespaceHTMLElements=False)
    assert [node.get("id") for node in tree.iter("li")] == ["charge-voltage-max.memory", "charge-voltage-max.power", "charge-voltage-max.power-cell"]
    assert [node.get("href") for node in tree.iter("a")] == ["../../chemistries/hostilium/#charge-voltage-max.long"]
    assert not list(tree.iter("b"))
    assert retired_rows(library.chemistries["lampion"], library, "../../") == ""


def test_changes_say_old_new_and_why(tmp_path):
    from generator.build import load

    library = load(two_states(tmp_path, retired=RETIRED))
    found = {change.id: change for change in history(library)[0].changes}
    stated = found[f"{CHARGE}.standard"]
    assert (stated.kind, stated.old["typical"], stated.new["typical"]) == ("changed", 3.6, 3.55)
    assert stated.why == "rests on page instead of long; the grade is now 'reported' instead of 'read'"
    assert (found[f"{CHARGE}.page"].kind, found[f"{CHARGE}.page"].why) == ("changed", "changed: figure")
    assert (found[f"{CHARGE}.fresh"].kind, found[f"{CHARGE}.fresh"].old) == ("added", None)
    assert (found[f"{CHARGE}.memory"].kind, found[f"{CHARGE}.memory"].why) == ("retired", "Published figures took its place.")
    assert len(found) == 6  # and nothing else


def test_then_and_now_stand_on_the_editions_page(tmp_path):
    from generator.build import load

    library = load(two_states(tmp_path, retired=RETIRED))
    made = changes.pages(library, made_up_results(library))
    page = made["changes/2026.12/index.md"]
    row = page[page.index(f'<tr id="{CHARGE}.standard">') :].split("</tr>")[0]
    assert "3.60\u00a0V (read)" in row.replace("\u202f", "\u00a0") and "3.55\u00a0V (reported)" in row.replace("\u202f", "\u00a0")
    assert "retired; in its place 3.60" in page and "retired; in its place" not in page[page.index(f'id="{CHARGE}.power"') :].split("</tr>")[0]
    tree = html5lib.parse(page, namespaceHTMLElements=False)
    ids = [node.get("id") for node in tree.iter() if node.get("id")]
    assert len(ids) == len(set(ids))
    # Every stated figure of the edition, changed or not, and every changed value is answered at its own anchor.
    assert set(library.editions[0].stated) <= set(ids) and f"{CHARGE}.power" in ids
    assert not list(tree.iter("script")) and not list(tree.iter("b"))
    assert "Since edition 2026&#46;12" in made["changes/index.md"] or "Since edition 2026.12" in made["changes/index.md"]


def test_a_citation_names_the_edition_that_says_the_same(tmp_path):
    from generator.build import load

    library = load(two_states(tmp_path, retired=RETIRED))
    assert "Cell Almanac, edition 2026.12" in cite(library, "hostilium.nominal-voltage", "plain")
    assert "changed since edition 2026.12, not yet in an edition" in cite(library, CHARGE, "plain")
    assert "year = {2026}" in cite(library, "hostilium.nominal-voltage", "bibtex").split("@article")[0]
    assert "year" not in cite(library, CHARGE, "bibtex").split("@")[1]


@pytest.mark.parametrize("retired, problem", [
    ([{"id": f"{CHARGE}.long", "because": "x"}], "it is live"),
    ([{"id": f"{CHARGE}.gone", "because": "x", "moved_to": f"{CHARGE}.lon"}], "not live"),
    ([{"id": "unknown.nominal-voltage.x", "because": "x"}], "no subject"),
    ([{"id": f"{CHARGE}.gone", "because": "x"}] * 2, "second time"),
])  # fmt: skip
def test_retired_list_is_held_to_the_data(tmp_path, retired, problem):
    with pytest.raises(Refused, match=problem):
        made_up_library(tmp_path / "chemistry", retired=retired)


def test_citing_a_retired_id_says_where_it_went(tmp_path):
    from generator.build import load
    from generator.cite.cited import UnknownId

    library = load(two_states(tmp_path, retired=RETIRED))
    with pytest.raises(UnknownId, match=f"It is retired. Published figures took its place. Its place is now {CHARGE}.long"):
        cite(library, f"{CHARGE}.memory", "plain")


def test_no_change_is_no_change(tmp_path):
    library = made_up_library(tmp_path / "chemistry")
    edition = snapshot(library, "2026.12", "2026-12-01")
    assert difference(edition, snapshot(library)) == ()
    assert history(dataclasses.replace(library, editions=(edition,)))[0].changes == ()


def test_digest_ignores_only_itself(tmp_path):
    data = edition_data(snapshot(made_up_library(tmp_path / "chemistry"), "2026.12", "2026-12-01"))
    assert digest(data) == data["sha256"] == digest({**data, "sha256": "x"}) != digest({**data, "date": "2026-12-02"})
