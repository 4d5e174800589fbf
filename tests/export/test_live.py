"""The exports of the real data, as the built site holds them, read by outside readers."""

from __future__ import annotations

import json

import jsonschema
import pytest
from referencing import Registry, Resource


@pytest.mark.filterwarnings("ignore")  # the framework's own imports warn
def test_the_data_package_is_valid(site):
    from frictionless import validate

    report = validate(str(site / "data" / "v1" / "datapackage.json"))
    assert report.valid, report.flatten(["title", "rowNumber", "fieldName", "type", "message"])[:10]


def test_every_json_export_keeps_a_published_schema(site):
    data = site / "data" / "v1"
    schemas = [json.loads(path.read_text("utf-8")) for path in sorted((data / "schema").glob("*.json"))]
    registry = Registry().with_resources((schema["$id"], Resource.from_contents(schema)) for schema in schemas)
    by_name = {schema["$id"].rsplit("/", 1)[1].removesuffix(".schema.json"): schema for schema in schemas}
    folders = {"chemistries": "export-subject", "practice": "export-subject", "citations": "export-citations", "editions": "export-edition", "curves": "export-curves"}
    checked = 0
    for folder, name in folders.items():
        validator = jsonschema.Draft202012Validator(by_name[name], registry=registry)
        for path in sorted((data / folder).glob("*.json")):
            validator.validate(json.loads(path.read_text("utf-8")))
            checked += 1
    for path, name in (("index.json", "export-index"), ("sources.json", "export-csl")):
        jsonschema.Draft202012Validator(by_name[name], registry=registry).validate(json.loads((data / path).read_text("utf-8")))
    assert checked >= 2 * len(json.loads((data / "index.json").read_text("utf-8"))["chemistries"])


def test_every_value_has_its_row_and_its_citation(site, library):
    data = site / "data" / "v1"
    cited = {id for path in (data / "citations").glob("*.json") for id in json.loads(path.read_text("utf-8"))["items"]}
    wanted = {item.id for group in (library.values(), library.stated(), library.remarks(), library.statements) for item in group}
    assert cited == wanted


def test_every_source_has_its_page(site, library):
    assert all((site / "sources" / id / "index.html").exists() for id in library.sources)
