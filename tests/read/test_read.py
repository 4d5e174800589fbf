"""The reader takes JSON types only and always says where."""

from __future__ import annotations

import json
import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from generator.read import MAX_BYTES, Document, read_bytes, read_file, read_text


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("1", 1),
        ("-2", -2),
        ("1.50", 1.5),
        ("1e3", 1000.0),
        ("1E-3", 0.001),
        ("true", True),
        ("null", None),
        ("~", None),
        ("no", "no"),
        ("on", "on"),
        ("010", "010"),
        ("0x1F", "0x1F"),
        ("1_000", "1_000"),
        ("+1", "+1"),
        (".5", ".5"),
        ("5.", "5."),
        (".nan", ".nan"),
        ("-.inf", "-.inf"),
        ("1e999", "1e999"),
        ("2020-01-01", "2020-01-01"),
        ("12:30:00", "12:30:00"),
        ("'1'", "1"),
        ('"true"', "true"),
    ],
)
def test_json_types_only(text, expected):
    value = read_text(f"a: {text}\n", "t.yml").data["a"]
    assert value == expected and type(value) is type(expected)


def test_positions_of_keys_and_values():
    document = read_text("a:\n  - b: 1\n    c: {d: two}\n", "t.yml")
    assert (document.mark(("a", 0, "c", "d")).line, document.mark(("a", 0, "c", "d")).column) == (3, 12)
    assert document.key_mark(("a", 0, "c")).column == 5
    assert document.mark(("a", 7, "nowhere")) == document.mark(("a",))


def test_too_large(tmp_path):
    path = tmp_path / "big.yml"
    path.write_bytes(b"a: " + b"x" * MAX_BYTES)
    assert [p.id for p in read_file(path, "big.yml").problems] == ["file-too-large"]


def test_missing_file(tmp_path):
    assert [p.id for p in read_file(tmp_path / "none.yml", "none.yml").problems] == ["file-unreadable"]


def test_not_utf8_says_where():
    (problem,) = read_bytes("a: 1\nb: é".encode("latin-1"), "t.yml").problems
    assert (problem.id, problem.line, problem.column) == ("not-utf-8", 2, 4)


def test_hostile_growth_is_refused():
    bomb = "a: &a [x, x]\nb: &b [*a, *a]\nc: [*b, *b]\n"
    assert [p.id for p in read_text(bomb, "t.yml").problems] == ["anchor"]
    assert [p.id for p in read_text("[" * 40 + "]" * 40, "t.yml").problems] == ["too-deep"]
    assert read_text("[" * 5000, "t.yml").problems


json_values = st.recursive(
    st.none() | st.booleans() | st.integers(-(10**12), 10**12) | st.floats(allow_nan=False, allow_infinity=False) | st.text(st.characters(codec="utf-8", exclude_categories=("Cc", "Cf", "Cs")), max_size=20),
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(st.text(st.characters(min_codepoint=97, max_codepoint=122), min_size=1, max_size=8), inner, max_size=4),
    max_leaves=12,
)


@given(json_values)
@settings(max_examples=150, deadline=None)
def test_json_reads_back_as_itself(value):
    """YAML 1.2 contains JSON; here the two agree exactly, which PyYAML's own typing does not give."""
    read = read_text(json.dumps({"value": value}, ensure_ascii=False), "t.yml")
    assert read.problems == () and read.data == {"value": value}


@given(st.text(max_size=200) | st.binary(max_size=200))
@settings(max_examples=300, deadline=None)
def test_any_text_is_read_or_refused_with_a_place(text):
    document = read_bytes(text, "t.yml") if isinstance(text, bytes) else read_text(text, "t.yml")
    assert isinstance(document, Document)
    for problem in document.problems:
        assert problem.line >= 1 and problem.column >= 1 and problem.message and problem.hint


def test_numbers_are_finite():
    assert math.isfinite(read_text("a: 1e308", "t.yml").data["a"])
