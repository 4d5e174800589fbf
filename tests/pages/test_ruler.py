"""The voltage ruler: marks stand where the volts say, labels never collide, nothing lies outside."""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.draw.axis import CELL_AXIS, Axis, axis_for, volts_text
from generator.draw.ruler import LABEL_GAP, RulerRow, in_words, pack_axis, ruler_svg
from generator.draw.spread import spread

LFP = RulerRow("LFP", 2.5, 3.3, 3.2, 3.65)


def parsed(rows, **more) -> ET.Element:
    return ET.fromstring(ruler_svg(rows, id="r", title="T", **more))


def marks(svg: ET.Element) -> dict[str, float]:
    lines = (e for e in svg.iter("line") if e.get("class", "").startswith("ruler-mark"))
    return {e.get("class").removeprefix("ruler-mark "): percent(e.get("x1")) for e in lines}


def percent(text: str) -> float:
    assert text.endswith("%") or text == "0"
    return float(text.rstrip("%"))


def test_marks_stand_where_the_volts_say():
    # The axis is linear from 0.5 to 5.0 V, so 2.5 V lies 2.0/4.5 of the way along it.
    found = marks(parsed([LFP]))
    assert found == {"empty": 44.44, "storage": 62.22, "nominal": 60.0, "full": 70.0}


def test_numbered_ticks_stand_at_whole_volts():
    svg = parsed([LFP])
    numbers = {e.text: percent(e.get("x")) for e in svg.iter("text") if e.get("class").startswith("ruler-scale")}
    assert numbers == {"1 V": 11.11, "2 V": 33.33, "3 V": 55.56, "4 V": 77.78, "5 V": 100.0}
    assert sum(e.get("class") == "ruler-tick" for e in svg.iter("line")) == 46  # every 0.1 V, ends included


def test_hatching_covers_exactly_what_lies_beyond():
    boxes = [e for e in parsed([LFP]).iter("rect") if e.get("class") == "ruler-over"]
    spans = [(percent(e.get("x")), percent(e.get("width"))) for e in boxes]
    assert spans == [(0.0, 44.44), (70.0, 30.0)]
    assert all(e.get("fill") == "url(#r-h)" for e in boxes)


def test_a_cell_that_is_never_charged_has_no_upper_zone():
    svg = parsed([RulerRow("Alkaline", 0.9, None, 1.5, None)])
    assert "over-charge" not in "".join(svg.itertext())
    assert set(marks(svg)) == {"empty", "nominal"}


@st.composite
def rows(draw) -> RulerRow:
    volts = sorted(draw(st.lists(st.integers(550, 4950), min_size=4, max_size=4)))
    low, a, b, high = (v / 1000 for v in volts)
    storage, nominal = draw(st.permutations([a, b]))
    return RulerRow("X", low, storage, nominal, high)


@given(rows())
def test_labels_never_collide_and_stay_inside(row):
    svg = parsed([row])
    places = sorted(percent(e.get("x")) for e in svg.iter("text") if e.get("class") == "ruler-name")
    assert len(places) == 4
    assert all(b - a >= LABEL_GAP - 0.011 for a, b in zip(places, places[1:], strict=False))
    assert places[0] >= 7 and places[-1] <= 93


@given(rows())
def test_description_gives_every_number(row):
    words = in_words(row)
    for volts in (row.empty_v, row.storage_v, row.nominal_v, row.full_v):
        assert f" {volts_text(volts)} V" in words


@given(st.lists(rows(), min_size=2, max_size=6), st.integers(1, 24))
def test_rows_share_one_axis_and_packs_scale(found, series):
    packs = [RulerRow(r.name, r.empty_v * series, r.storage_v * series, r.nominal_v * series, r.full_v * series) for r in found]
    axis = pack_axis(packs)
    assert axis.low_v < min(r.empty_v for r in packs) and axis.high_v > max(r.full_v for r in packs)
    svg = parsed(packs, axis=axis)
    bars = [e for e in svg.iter("rect") if e.get("class") == "ruler-use"]
    for row, bar in zip(packs, bars, strict=True):
        assert percent(bar.get("x")) == axis.place(row.empty_v)
        assert percent(bar.get("x")) + percent(bar.get("width")) == pytest.approx(axis.place(row.full_v), abs=0.011)


@given(st.lists(st.floats(0.6, 900), min_size=1, max_size=8))
def test_axis_is_numbered_in_1_2_5_and_not_too_often(volts):
    axis = axis_for(volts)
    mantissa = float(f"{axis.major_v:e}".partition("e")[0])
    assert mantissa in (1, 2, 5)
    assert axis.low_v <= min(volts) and axis.high_v >= max(volts) and axis.low_v >= 0
    assert 2 <= len(axis.ticks(axis.major_v)) <= 8


@pytest.mark.parametrize("volts", [[], [0], [-3.7]])
def test_axis_refuses_what_is_no_voltage(volts):
    with pytest.raises(ValueError, match="above zero"):
        axis_for(volts)


def test_no_rows_is_an_error():
    with pytest.raises(ValueError, match="at least one row"):
        ruler_svg([], id="r", title="T")


def test_hostile_names_stay_text():
    name = '<script>alert(1)</script>" onload="x'
    svg = parsed([RulerRow(name, 1, 1.1, 1.2, 1.4, href='a"b&c'), LFP])
    assert not list(svg.iter("script"))
    assert name in "".join(svg.itertext())
    assert [e.get("href") for e in svg.iter("a")] == ['a"b&c']


def test_drawing_carries_no_styles_and_a_name_and_description():
    text = ruler_svg([LFP, LFP], id="r", title="T")
    assert not re.search(r"\sstyle=|<style", text)
    svg = ET.fromstring(text)
    assert svg.get("role") == "img" and svg.get("aria-labelledby") == "r-t r-d"
    ids = [e.get("id") for e in svg.iter() if e.get("id")]
    assert len(ids) == len(set(ids)) and {"r-t", "r-d"} <= set(ids)


def test_a_drawing_with_links_is_not_one_image():
    assert parsed([RulerRow("A", 1, None, 1.2, 1.4, href="a/"), LFP]).get("role") == "group"


# Isotonic regression of 1, 3, 2, 4, 3, 5 is 1, 2.5, 2.5, 3.5, 3.5, 5 (pool adjacent violators by hand).
def test_spread_is_isotonic_regression_when_there_is_no_gap():
    assert spread([1, 3, 2, 4, 3, 5], 0, 0, 10) == [1, 2.5, 2.5, 3.5, 3.5, 5]


@given(st.lists(st.floats(0, 100), min_size=1, max_size=5), st.lists(st.floats(-3, 3), min_size=5, max_size=5))
def test_spread_is_nearest(places, push):
    places = sorted(places)
    best = spread(places, 16, 7, 93)
    assert all(b - a >= 16 - 0.011 for a, b in zip(best, best[1:], strict=False))
    assert best[0] >= 7 - 0.011 and best[-1] <= 93 + 0.011
    cost = sum((a - b) ** 2 for a, b in zip(places, best, strict=True))
    other = [b + p for b, p in zip(best, push, strict=False)]
    allowed = other[0] >= 7 and other[-1] <= 93 and all(b - a >= 16 for a, b in zip(other, other[1:], strict=False))
    if allowed:
        assert sum((a - b) ** 2 for a, b in zip(places, other, strict=True)) >= cost - 1


def test_spread_refuses_what_cannot_fit():
    with pytest.raises(ValueError, match="do not fit"):
        spread([1, 2, 3], 50, 0, 99)


@pytest.mark.parametrize(("volts", "text"), [(3.2, "3.20"), (3.635, "3.635"), (12.6, "12.6"), (12.65, "12.65"), (9.9, "9.90"), (48, "48.0")])
def test_volts_are_written_with_what_they_have(volts, text):
    assert volts_text(volts) == text


def test_axis_holds_what_lies_outside_at_its_ends():
    assert (CELL_AXIS.place(0.1), CELL_AXIS.place(9.0)) == (0.0, 100.0)
    assert Axis(0, 10, 5, 1).ticks(5) == [0, 5, 10]
