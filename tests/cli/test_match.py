"""``match`` from the outside: text, JSON, and every refusal with exit 1 and no traceback."""

from __future__ import annotations

import json

import pytest
from click.testing import CliRunner

from generator.build import ROOT
from generator.cli import main

SAMPLE = ROOT / "docs" / "assets" / "sample-cells.csv"


def run(*arguments):
    return CliRunner().invoke(main, ["match", *map(str, arguments)])


def test_json():
    done = run(SAMPLE, "3S4P", "--json")
    assert done.exit_code == 0
    data = json.loads(done.stdout)
    assert [len(group["cells"]) for group in data["groups"]] == [4, 4, 4]
    assert data["usable_capacity_mah"] == min(group["capacity_mah"] for group in data["groups"]) <= data["bound_mah"]
    assert {"cell", "reason"} <= data["rejects"][0].keys()
    assert {r["cell"] for r in data["rejects"] if r["refused"]} == {"A05", "A09", "A14"}  # the floor is the records' own


def test_text_says_the_same():
    done = run(SAMPLE, " 3 s 4p ", "--floor-v", "2.1")
    assert done.exit_code == 0
    assert "proven the best possible" in done.stdout and "refused A05: found at 1.62 V" in done.stdout


@pytest.mark.parametrize("pack", ["3S", "4P3S", "0S4P", "3S0P", "-3S4P", "3S4P5", "", "9999999S9P", "<b>"])
def test_no_pack(pack, tmp_path):
    file = tmp_path / "cells.csv"
    file.write_text("cell,capacity_mah\na,2500\n", "utf-8")
    done = run(file, "--", pack)
    assert done.exit_code in (1, 2) and not isinstance(done.exception, ValueError)
    assert "Traceback" not in done.output


@pytest.mark.parametrize(
    ("content", "said"),
    [
        (b"cell,capacity_mah\na,2500\nb,2.5\n", ":3:3: capacity_mah is 2.5"),
        (b"cell,capacity_mah\na,2500\na,2500\n", ":3:1: The cell 'a' was already in line 2."),
        (b"cell,capacity_mah\na,two\n", ":2:3: capacity_mah is 'two', not a number."),
        (b"cell,capacity_mah\na,2500\n", "1S2P needs 2 cells, but only 1 may be used."),
        (b"", ":1:1: The table is empty."),
        (b"\xff\xfe\x00c", ":1:1: There is a character here that is not text."),
        (b"cell,capacity_mah\n" + b"x" * 300_000, ":2:2001: The line has more than 2000 characters."),
    ],
)
def test_bad_files_say_where(tmp_path, content, said):
    file = tmp_path / "cells.csv"
    file.write_bytes(content)
    done = run(file, "1S2P")
    assert done.exit_code == 1
    assert said in done.stderr
    assert not done.stdout


def test_a_folder_or_nothing_is_no_file(tmp_path):
    assert run(tmp_path, "3S4P").exit_code == 2
    assert run(tmp_path / "absent.csv", "3S4P").exit_code == 2
