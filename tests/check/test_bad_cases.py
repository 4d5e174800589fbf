"""Every rule fails on a bad case: a check that cannot fail is no check.

A case is a folder below tests/cases/bad: files that replace or join those of tests/cases/good, and expected.txt with
the problems that ``check`` must print, one a line, place and all.
"""

from __future__ import annotations

import os
import shutil
from pathlib import Path

import pytest

from generator.check import check
from generator.check.rules import RULES
from generator.tree import read_tree

CASES = Path(__file__).parents[1] / "cases"
FOLDERS = sorted(path.parent for path in (CASES / "bad").rglob("expected.txt"))


def problems_of(case: Path, tmp_path: Path) -> list[str]:
    data = tmp_path / "chemistry"
    shutil.copytree(CASES / "good", data)
    shutil.copytree(case, data, dirs_exist_ok=True, ignore=shutil.ignore_patterns("expected.txt", "remove.txt"))
    if (case / "remove.txt").exists():
        for name in (case / "remove.txt").read_text("utf-8").split():
            (data / name).unlink()
    return [str(problem) for problem in check(read_tree(data))]


def test_the_good_case_has_no_problem(tmp_path):
    data = tmp_path / "chemistry"
    shutil.copytree(CASES / "good", data)
    assert check(read_tree(data)) == []


@pytest.mark.parametrize("case", FOLDERS, ids=lambda path: path.relative_to(CASES / "bad").as_posix())
def test_bad_case(case, tmp_path):
    found = problems_of(case, tmp_path)
    expected = case / "expected.txt"
    if os.environ.get("UPDATE_EXPECTED") == "1":
        expected.write_text("\n".join(found) + "\n", "utf-8")
    assert found and found == expected.read_text("utf-8").splitlines()


def test_every_rule_has_a_bad_case():
    shown = "\n".join(path.read_text("utf-8") for path in (folder / "expected.txt" for folder in FOLDERS))
    without = [rule.__name__ for rule in RULES if f"[{rule.__name__.replace('_', '-')}]" not in shown]
    assert without == []
