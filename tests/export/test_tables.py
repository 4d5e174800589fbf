"""CSV tables, read by outside readers: Python's csv module and the Frictionless framework."""

from __future__ import annotations

import csv
import io
import json

import pytest

from generator.export.table import Column, Table, csv_text
from tests.made_up import HOSTILE


def rows(exports, path):
    return list(csv.DictReader(io.StringIO(exports[f"data/v1/{path}"], newline="")))


@pytest.mark.filterwarnings("ignore")  # the framework's own imports warn
def test_the_data_package_is_valid(folder):
    from frictionless import Package, validate

    report = validate(str(folder / "datapackage.json"))
    assert report.valid, report.flatten(["rowNumber", "fieldName", "type", "message"])[:10]
    package = Package(str(folder / "datapackage.json"))
    values = package.get_resource("values").read_rows()
    assert next(row for row in values if row["id"] == "hostilium.nominal-voltage.hostile")["condition"]["temperature_c"] == -20


@pytest.mark.filterwarnings("ignore")
def test_the_data_package_notices_damage(folder, tmp_path):
    """The check above can fail: an unknown source breaks a foreign key, a word breaks a number."""
    import shutil

    from frictionless import validate

    shutil.copytree(folder, tmp_path / "v1")
    text = (tmp_path / "v1" / "values.csv").read_text("utf-8").replace(",3.6,", ",three,", 1).replace("long-2029", "no-such-source")
    (tmp_path / "v1" / "values.csv").write_text(text, "utf-8")
    found = {kind for (kind,) in validate(str(tmp_path / "v1" / "datapackage.json")).flatten(["type"])}
    assert {"type-error", "foreign-key", "hash-count"} <= found


def test_columns_are_those_promised(exports):
    first = {
        "values.csv": "id,subject,quantity,variant,key,min,typical,max,unit,condition,source,locator,grade",
        "stated.csv": "id,subject,quantity,variant,min,typical,max,unit,rule,value_ids,grade",
        "pack-voltages.csv": "chemistry,series,empty,nominal,storage,full",
    }
    for path, columns in first.items():
        assert exports[f"data/v1/{path}"].splitlines()[0].startswith(columns)


def test_rows_are_the_library(exports, made_up):
    assert [row["id"] for row in rows(exports, "values.csv")] == [value.id for value in made_up.values()]
    assert [row["id"] for row in rows(exports, "stated.csv")] == [stated.id for stated in made_up.stated()]


def test_hostile_text_comes_back_whole(exports):
    row = next(row for row in rows(exports, "values.csv") if row["key"] == "hostile")
    assert row["note"] == HOSTILE and json.loads(row["condition"])["note"] == HOSTILE[:200]
    assert (row["min"], row["typical"], row["max"], row["unit"], row["unit_ucum"]) == ("", "3.2", "", "V", "V")


def test_stated_figures_name_their_values(exports):
    row = next(row for row in rows(exports, "stated.csv") if row["id"] == "hostilium.charge-voltage-max.standard")
    # The lowest of 3.6 and 3.7 V; 3.5 V is from memory only and does not count beside published figures.
    assert (row["typical"], row["rule"], row["value_ids"], row["grade"]) == ("3.6", "lowest", "hostilium.charge-voltage-max.long", "read")


def test_pack_voltages_multiply(exports):
    row = next(row for row in rows(exports, "pack-voltages.csv") if row["chemistry"] == "hostilium" and row["series"] == "4")
    assert (float(row["empty"]), float(row["nominal"]), row["storage"], float(row["full"])) == (10.0, 12.8, "", 14.4)


def test_a_ragged_row_is_refused():
    table = Table("x.csv", "X", "X.", (Column("a", "string", "A."),), [("1", "2")], ("a",))
    with pytest.raises(ValueError, match="2 cells instead of 1"):
        csv_text(table)
