"""Markings: the printed examples of the standards, sloppy and hostile input, and what is never guessed."""

from __future__ import annotations

import json
import time
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from generator.build import DATA_DIR
from generator.compute.marking import MAX_LENGTH, MESSAGES, Reader, clean, shown
from generator.model.designation import designations_from
from generator.tree import read_tree

VECTORS = json.loads((Path(__file__).parents[1] / "vectors" / "markings.json").read_text("utf-8"))["vectors"]


@pytest.fixture(scope="module")
def designations():
    return designations_from(d.data for d in read_tree(DATA_DIR).folder("designations"))


@pytest.fixture(scope="module")
def reader(designations):
    return Reader(designations)


@pytest.mark.parametrize("vector", VECTORS, ids=lambda v: v["marking"])
def test_printed_examples(reader, vector):
    answer = reader.read(vector["marking"])
    assert len(answer.readings) == 1 and not answer.unread
    found = answer.readings[0]
    assert list(found.chemistries) == vector["chemistries"]
    assert found.series == vector.get("series") and found.parallel == vector.get("parallel")
    if "size" in vector:
        assert found.size == vector["size"]
    meanings = {part.name: part.meaning for part in found.parts}
    for name, words in vector.get("says", {}).items():
        assert words in meanings[name]


def test_every_example_of_the_data_is_read_by_its_own_file(reader, designations):
    for designation in designations.values():
        for example in designation.examples:
            answer = reader.read(example.marking)
            assert not answer.unread, example.marking
            assert [r.form.split("/")[0] for r in answer.readings] == [designation.id], example.marking


def test_an_example_contains_the_sizes_it_is_said_to_have(reader, library):
    """QCVN 101:2016, table 1: the largest outline rounded up is the number in the name."""
    for marking in ("ICR19/66", "ICR18/68", "ICP9/35/48"):
        found = reader.read(marking).readings[0]
        size = library.sizes[found.size]
        numbers = [int(part.text) for part in found.parts if part.role == "number"]
        figure = next(f for f in size.figures if f.product == marking)
        sides = [figure.diameter_mm[1] or figure.thickness_mm[1], figure.width_mm[1], figure.length_mm[1]]
        largest = [side for side in sides if side is not None]
        assert all(number - 1 < side <= number for number, side in zip(numbers, largest, strict=True)), marking


@pytest.mark.parametrize("typed", ["INR18650-25R", "inr18650-25r", " INR 18650 25R ", "INR18650_25R", "INR18650\u201325R", "INR18650 - 25R"])
def test_sloppy_input_reads_the_same(reader, typed):
    found = reader.read(typed).readings[0]
    assert found.form == "trade-lithium/round" and found.size == "18650"


def test_a_whole_wrapper_text(reader):
    answer = reader.read("Maker INR18650-25R 2500mAh 3.6V Li-ion")
    assert [r.form for r in answer.readings] == ["trade-lithium/round", "trade-names/milliampere-hours", "trade-names/volts", "trade-names/names"]
    assert answer.unread == ("MAKER",) and answer.messages == (MESSAGES["unread"] + "MAKER",)


def test_capacity_is_never_stated_as_fact(reader):
    """The maker's code and the printed capacity both say that only a data sheet or a measurement confirms them."""
    parts = [p for r in reader.read("INR18650-25R 2500mAh").readings for p in r.parts]
    maker, printed = (next(p for p in parts if p.role == role) for role in ("maker", "printed"))
    assert "data sheet" in maker.meaning and "no capacity" in maker.meaning
    assert "claim" in printed.meaning


@pytest.mark.parametrize("typed, message", [("", "empty"), ("   ", "empty"), (",,,", "empty"), ("<b>x</b>", "unknown"), ("\u0661\u0668\u0666\u0665\u0660", "unknown"), ("${7*7}", "unknown")])
def test_what_is_no_marking_gets_a_plain_sentence(reader, typed, message):
    answer = reader.read(typed)
    assert answer.messages == (MESSAGES[message],) and answer.readings == ()


def test_long_input_is_cut_and_says_so(reader):
    answer = reader.read("INR18650 " + "x" * 500)
    assert answer.messages[0] == MESSAGES["cut"] and len(answer.unread[0]) < MAX_LENGTH
    assert answer.readings[0].size == "18650"


def test_no_input_takes_long(reader):
    """Linear time: the worst strings for each pattern are read within a few milliseconds each."""
    hostile = ["INR18650" + "-" * 192, "9" * 200, "A" * 200, "1INR" + "1" * 196, "HR" + "1/" * 99, ("INR18650-" * 30)[:200], " ".join("1" * 100)]
    start = time.process_time()
    for text in hostile * 5:
        reader.read(text)
    assert time.process_time() - start < 2.0


@given(st.text(max_size=260))
@settings(max_examples=300, deadline=None)
def test_any_text_is_answered(text):
    answer = _READER.read(text)
    assert answer.readings or answer.messages
    assert len(clean(text)) <= MAX_LENGTH


_READER = Reader(designations_from(d.data for d in read_tree(DATA_DIR).folder("designations")))


@pytest.mark.parametrize("text, decimals, expected", [("650", 1, "65.0"), ("32", 1, "3.2"), ("7", 1, "0.7"), ("08", 0, "8"), ("0", 0, "0"), ("000", 1, "0.0")])
def test_digits_move_as_text(text, decimals, expected):
    assert shown(text, decimals) == expected
