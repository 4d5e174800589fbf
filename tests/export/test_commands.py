"""The commands for contributors and citing, as they are typed."""

from __future__ import annotations

import json

import jsonschema
import pytest
import yaml
from click.testing import CliRunner

import generator.cli.cite
import generator.cli.diff
from generator.build import ROOT
from generator.check.schema import check_shape
from generator.cli import main
from generator.cli.fields import BEGIN, END, field_tables
from generator.cli.new import template
from generator.read import read_text
from tests.made_up import made_up_library, record, write_data


@pytest.fixture
def run():
    return lambda *words: CliRunner().invoke(main, [str(word) for word in words])


@pytest.fixture
def made_up(tmp_path, monkeypatch):
    library = made_up_library(tmp_path / "chemistry")
    monkeypatch.setattr(generator.cli.cite, "load_or_exit", lambda: library)
    return library


def test_cite_prints_one_line(run, made_up):
    done = run("cite", "hostilium.charge-voltage-max")
    assert done.exit_code == 0 and done.output.count("\n") == 1
    assert done.output.startswith("Hostilium") and "3.60 V" in done.output


def test_cite_without_variant_is_standard(run, made_up):
    assert run("cite", "hostilium.charge-voltage-max").output == run("cite", "hostilium.charge-voltage-max.standard").output


def test_cite_names_the_nearest_id(run, made_up):
    done = run("cite", "hostilium.charge-voltag-max")
    assert done.exit_code == 1 and "Did you mean 'hostilium.charge-voltage-max.standard'?" in done.stderr and not done.stdout


@pytest.mark.parametrize("id", ["", "x", "...", "a.b.c.d", "\u96fb", "hostilium", "-" * 500])
def test_cite_refuses_nonsense_in_words(run, made_up, id):
    done = run("cite", "--", id)
    assert done.exit_code == 1 and "no figure has the id" in done.stderr and "Traceback" not in done.output


def test_cite_as_json_has_every_style(run, made_up):
    data = json.loads(run("cite", "hostilium.charge-voltage-max", "--json").output)
    assert set(data["styles"]) == {"link", "plain", "markdown", "bbcode", "html", "bibtex", "csl-json", "ris"}
    assert data["link"] == "https://cell-almanac.org/chemistries/hostilium/#charge-voltage-max.standard"


def test_cite_the_real_figure(run):
    done = run("cite", "lfp.charge-voltage-max", "--style", "link")
    assert done.output == "https://cell-almanac.org/chemistries/lfp/#charge-voltage-max.standard\n"


def test_freeze_writes_once(run, tmp_path):
    folder = write_data(tmp_path / "chemistry")
    words = ("freeze", "2026.12", "--date", "2026-12-01", "--data", folder)
    assert run(*words).exit_code == 0
    again = run(*words)
    assert again.exit_code == 1 and "Traceback" not in again.output
    assert run("check", "--data", folder).exit_code == 0


def test_diff_of_two_folders(run, tmp_path):
    old = write_data(tmp_path / "old")
    made = record()
    made["values"]["charge-voltage-max"][1].update(typical=3.55)
    new = write_data(tmp_path / "new", made)
    done = run("diff", old, new)
    assert done.exit_code == 0
    assert done.stdout.replace("\u00a0", " ").replace("\u202f", " ") == (
        "changed hostilium.charge-voltage-max.standard: 3.6 V (read) -> 3.55 V (reported) "
        "[rests on page instead of long; the grade is now 'reported' instead of 'read']\n"
    )
    data = json.loads(run("diff", old, new, "--json").stdout)
    assert [(change["id"], change["old"]["typical"], change["new"]["typical"]) for change in data] == [("hostilium.charge-voltage-max.standard", 3.6, 3.55)]
    assert len(json.loads(run("diff", old, new, "--json", "--all").stdout)) == 2
    assert run("diff", old, old).stdout == ""


def test_diff_with_an_edition(run, tmp_path, monkeypatch):
    folder = write_data(tmp_path / "chemistry")
    run("freeze", "2026.12", "--date", "2026-12-01", "--data", folder)
    monkeypatch.setattr(generator.cli.diff, "DATA_DIR", folder)
    assert "no change" in run("diff", "2026.12", folder).stderr
    done = run("diff", "2026.11", folder)
    assert done.exit_code == 1 and "no edition is called '2026.11'" in done.stderr


@pytest.mark.parametrize("schema", ["record", "practice"])
def test_template_is_valid_with_every_key_in_use(schema):
    """Each key of the schema, uncommented, has the shape the schema asks for: the template cannot fall behind."""
    lines = [line for line in template(schema, "some-cell").splitlines() if not line.lstrip().startswith("##")]
    text = "\n".join(line[2:] if line.startswith("# ") and "$schema" not in line else line for line in lines)
    document = read_text(text, "some-cell.yml")
    assert not document.problems
    folder = {"record": "records", "practice": "practice"}[schema]
    assert [str(problem) for problem in check_shape(f"{folder}/some-cell.yml", document)] == []
    shape = json.loads((ROOT / "chemistry" / "schema" / f"{schema}.schema.json").read_text("utf-8"))
    assert set(document.data) == set(shape["properties"])
    value = document.data["values"]["nominal-voltage"][0]
    common = json.loads((ROOT / "chemistry" / "schema" / "common.schema.json").read_text("utf-8"))["$defs"]
    assert set(value) == set(common["value"]["properties"]) and set(value["condition"]) == set(common["condition"]["properties"])


def test_template_as_written_is_yaml_with_the_needed_keys():
    data = yaml.safe_load(template("record", "some-cell"))
    shape = json.loads((ROOT / "chemistry" / "schema" / "record.schema.json").read_text("utf-8"))
    assert set(data) == set(shape["required"]) and data["id"] == "some-cell"


def test_new_refuses_to_overwrite(run, tmp_path):
    folder = write_data(tmp_path / "chemistry")
    assert run("new", "fresh-cell", "--data", folder).exit_code == 0
    before = (folder / "records" / "fresh-cell.yml").read_bytes()
    done = run("new", "fresh-cell", "--data", folder)
    assert done.exit_code == 1 and "exists" in done.stderr
    assert (folder / "records" / "fresh-cell.yml").read_bytes() == before
    assert run("new", "fresh-topic", "--practice", "--data", folder).exit_code == 0
    assert (folder / "practice" / "fresh-topic.yml").exists()


@pytest.mark.parametrize("id", ["Upper", "a b", "../escape", "a--b", "x/y", ""])
def test_new_refuses_bad_ids(run, tmp_path, id):
    folder = write_data(tmp_path / "chemistry")
    before = sorted(tmp_path.rglob("*"))
    assert run("new", "--data", folder, "--", id).exit_code == 1
    assert sorted(tmp_path.rglob("*")) == before


def test_developers_guide_has_the_field_tables(run):
    """DEVELOPERS.md is held to the schemas: run `python -m generator fields` and paste its output between the marks."""
    guide = (ROOT / "DEVELOPERS.md").read_text("utf-8")
    assert guide.count(BEGIN) == guide.count(END) == 1
    assert guide[guide.index(BEGIN) : guide.index(END) + len(END)] == field_tables().strip()
    assert run("fields").output == field_tables()


def test_fields_of_one_schema(run):
    assert "| `reference_temperature_k` |" in run("fields", "cell").output
    assert run("fields", "nonsense").exit_code == 2


def test_citation_file_is_valid_yaml_and_names_the_licence():
    data = yaml.safe_load((ROOT / "CITATION.cff").read_text("utf-8"))
    # The keys that Citation File Format 1.2.0 requires.
    needed = {"cff-version", "message", "title", "authors"}
    jsonschema.validate(data, {"type": "object", "required": sorted(needed)})
    assert data["license"] == "CC-BY-4.0" and data["type"] == "dataset"
