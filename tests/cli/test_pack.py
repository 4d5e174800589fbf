"""``python -m generator pack``."""

from __future__ import annotations

import json

import pytest
from click.testing import CliRunner

from generator.cli import main


def run(*arguments: str):
    return CliRunner().invoke(main, ["pack", *arguments])


def test_text_names_voltages_charger_and_the_data_sheet():
    done = run("lfp", "4S2P", "--load-w", "25")
    assert done.exit_code == 0
    for words in ("empty 10.00 V", "charger: 14.60 V constant voltage", "run time", "fuse", "strip", "rating for transport", "data sheet goes first"):
        assert words in done.output, words


def test_json_holds_inputs_numbers_and_sentences():
    done = run("nmc", "10S4P", "--capacity-ah", "2.5", "--load-a", "300", "--json")
    data = json.loads(done.output)
    assert data["inputs"]["series"] == 10 and data["numbers"]["full_v"] == pytest.approx(42.0)
    assert data["numbers"]["energy_wh"] == pytest.approx(360.0)
    codes = {limit["code"] for limit in data["exceeded"]}
    assert {"model-rate", "passenger-approval", "small"} <= codes
    assert all(limit["sentence"].strip() and "{" not in limit["sentence"] for limit in data["exceeded"])
    assert any("49 CFR" in limit["sentence"] for limit in data["exceeded"])


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (("lfp", "0S2P"), "Cells in series: 0 is outside"),
        (("lfp", "4S1000000P"), "Cells in parallel: 1000000 is outside"),
        (("lfp", "four"), "'four' is not a pack such as 4S2P"),
        (("unobtainium", "4S"), "'unobtainium' is not one of the almanac's"),
        (("lfp", "4S2P", "--load-w", "lots"), "'lots' is not a number"),
        (("lfp", "4S2P", "--load-w", "1", "--load-a", "1"), "give one of"),
        (("lfp", "4S2P", "--cell", "chen-2020"), "'chen-2020' is no published cell of this chemistry"),
    ],
)
def test_bad_input_is_one_sentence_and_exit_1(arguments, words):
    done = run(*arguments)
    assert done.exit_code == 1 and words in done.output and done.output.count("\n") == 1 and "Traceback" not in done.output


def test_primary_cells_are_never_charged():
    done = run("alkaline", "4S1P", "--load-a", "0.1")
    assert done.exit_code == 0 and "never charge" in done.output
