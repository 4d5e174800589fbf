"""JSON exports: they keep their published schemas, hold every field, and their schemas are sound."""

from __future__ import annotations

import dataclasses
import json

import jsonschema
import pytest
from referencing import Registry, Resource

from generator.export.schemas import NotAsPublished, checked, published
from generator.model.subject import Remark, Stated, Subject, Value
from tests.made_up import HOSTILE


def load(exports, path):
    return json.loads(exports[f"data/v1/{path}"])


@pytest.mark.parametrize("name", sorted(published()))
def test_published_schema_is_valid_and_has_its_address(exports, name):
    schema = load(exports, f"schema/{name}")
    jsonschema.Draft202012Validator.check_schema(schema)
    assert schema["$id"] == f"https://cell-almanac.org/data/v1/schema/{name}"


def test_a_stranger_can_validate_with_the_published_files_alone(exports):
    """A registry made of nothing but the published files resolves every reference, as a client would."""
    schemas = [json.loads(text) for path, text in exports.items() if path.startswith("data/v1/schema/")]
    registry = Registry().with_resources((schema["$id"], Resource.from_contents(schema)) for schema in schemas)
    by_name = {schema["$id"].rsplit("/", 1)[1]: schema for schema in schemas}
    pairs = {"chemistries/hostilium.json": "subject", "practice/lantern.json": "subject", "index.json": "index", "sources.json": "csl", "citations/hostilium.json": "citations"}
    for path, name in pairs.items():
        jsonschema.Draft202012Validator(by_name[f"export-{name}.schema.json"], registry=registry).validate(load(exports, path))


def test_what_breaks_its_schema_is_not_written(exports):
    data = load(exports, "chemistries/hostilium.json")
    del data["values"][0]["unit_ucum"]
    with pytest.raises(NotAsPublished, match="values/0"):
        checked("chemistries/hostilium.json", data, "export-subject.schema.json")


@pytest.mark.parametrize("kind, key", [(Value, "values"), (Stated, "stated"), (Remark, "remarks")])
def test_every_field_of_the_model_is_exported(exports, kind, key):
    inner = {"subject", "file", "line"}  # where it stands in the repository is not part of the data
    for item in load(exports, "chemistries/hostilium.json")[key]:
        assert {field.name for field in dataclasses.fields(kind)} - inner <= set(item)


def test_every_field_of_a_subject_is_exported(exports):
    data = load(exports, "chemistries/hostilium.json")
    assert {field.name for field in dataclasses.fields(Subject)} - {"file"} <= set(data)
    assert data["remarks"][0]["text"] == HOSTILE and data["identity"] == HOSTILE


def test_ids_units_and_links(exports):
    value = next(v for v in load(exports, "chemistries/hostilium.json")["values"] if v["key"] == "hostile")
    assert value["id"] == "hostilium.nominal-voltage.hostile"
    assert (value["min"], value["typical"], value["max"]) == (None, 3.2, None)
    assert value["link"] == "https://cell-almanac.org/chemistries/hostilium/#nominal-voltage.hostile"
    assert value["condition"]["temperature_c"] == -20 and value["condition"]["cutoff_v"] is None
    window = next(s for s in load(exports, "chemistries/hostilium.json")["stated"] if s["quantity"] == "charge-temperature")
    assert (window["min"], window["max"], window["unit_ucum"]) == (0, 45, "Cel")  # UCUM's code for degree Celsius


def test_index_leads_to_every_file(exports):
    index = load(exports, "index.json")
    for entry in (*index["chemistries"], *index["practices"]):
        assert f"data/v1/{entry['path']}" in exports and f"data/v1/{entry['citations']}" in exports
    assert all(f"data/v1/{table['path']}" in exports for table in index["tables"])


def test_citations_file_joins_to_the_citation(exports, made_up):
    """What the page's script does with the file gives what the command line gives."""
    from generator.cite.styles import STYLES, cite

    file = load(exports, "citations/hostilium.json")
    for id, item in file["items"].items():
        for style in file["styles"]:
            assert joined(file, item, style) == cite(made_up, id, style["id"])
    assert [style["id"] for style in file["styles"]] == list(STYLES)


def joined(file, item, style):
    if style["id"] == "link":
        return file["site"] + item["link"]
    own = item["texts"][style["id"]]
    if style["between"] is None:
        return "".join(file["sources"][part]["texts"][style["id"]] if place % 2 else part for place, part in enumerate(own.split("\x1f")))
    entries = [own, *(file["sources"][id]["texts"][style["id"]] for id in item["sources"])]
    return style["start"] + style["between"].join(entries) + style["end"]


def test_other_values_stand_beside_the_stated_one(exports):
    item = load(exports, "citations/hostilium.json")["items"]["hostilium.charge-voltage-max.standard"]
    assert item["figure"] == "3.60 V"
    assert item["others"] == ["hostilium.charge-voltage-max.page", "hostilium.charge-voltage-max.memory"]
