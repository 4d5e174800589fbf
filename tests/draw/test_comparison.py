"""Drawings of ranges: places follow figures, names never meet, sizes stay small."""

from __future__ import annotations

import gzip
import re
from xml.etree import ElementTree

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from generator.draw.comparison import Bar, BarRow, Scale, bars_svg, in_words, short
from generator.draw.energy_map import Box, map_svg
from generator.pages.comparison import ordered
from generator.pages.ranges import CYCLES, range_plots

LOG = Scale(1, 100, (1, 10, 100), "C")


@pytest.mark.parametrize(("figure", "text"), [(0.08333, "0.083"), (4.2, "4.2"), (269.6, "270"), (25000, "25\u202f000"), (0, "0"), (-20, "\u221220"), (0.5, "0.5"), (1300, "1300")])
def test_short_numbers(figure, text):
    assert short(figure) == text


def test_a_decade_is_half_of_two():
    assert LOG.share(10) == pytest.approx(0.5)
    assert LOG.share(0.1) == 0 and LOG.share(1000) == 1
    assert Scale(-60, 90, (), "", log=False).share(15) == pytest.approx(0.5)


def test_bars_stand_where_the_figures_say():
    svg = ElementTree.fromstring(bars_svg([BarRow("A", (Bar(1, 10),)), BarRow("B", (Bar(10, 10),))], LOG, id="x", title="T"))
    bar = svg.find("rect")
    assert (bar.get("x"), bar.get("width")) == ("38%", "29.5%")
    assert svg.find("circle").get("cx") == "67.5%"
    assert "A: 1 to 10 C. B: 10 C." in svg.find("desc").text


def test_open_ends_are_said():
    assert in_words(Bar(3, 3, open_low=True), "%") == "at most 3 %"
    assert in_words(Bar(500, 500, open_high=True), "cycles") == "at least 500 cycles"


def test_names_are_escaped():
    text = bars_svg([BarRow('<b>"&', (Bar(1, 2),), 'a"b/')], LOG, id="x", title="<T>")
    assert "<b>" not in text and "<T>" not in text
    ElementTree.fromstring(text)


def test_nothing_to_draw_is_refused():
    with pytest.raises(ValueError, match="at least one"):
        bars_svg([], LOG, id="x", title="T")
    with pytest.raises(ValueError, match="at least one"):
        map_svg([], LOG, LOG, id="x", title="T")


@settings(deadline=None, max_examples=40)
@given(st.lists(st.tuples(st.floats(1, 100), st.floats(1, 100)), min_size=1, max_size=10))
def test_names_on_the_map_never_meet(points):
    boxes = [Box(f"cell {i}", Bar(x, x), Bar(y, y)) for i, (x, y) in enumerate(points)]
    svg = ElementTree.fromstring(map_svg(boxes, LOG, LOG, id="x", title="T"))
    spots = []
    for text in svg.iter("text"):
        if "range-name" in text.get("class"):
            wide = len(text.text) * 6.4
            x, y = float(text.get("x").rstrip("%")) * 3 + float(text.get("dx") or 0), float(text.get("y"))
            left = {"start": x, "middle": x - wide / 2, "end": x - wide}[text.get("class").split()[-1]]
            spots.append((left, left + wide, y - 10, y + 3))
    assert len(spots) == len(boxes)
    for i, a in enumerate(spots):
        assert a[0] >= -0.5 and a[1] <= 300.5
        for b in spots[i + 1 :]:
            assert not (a[0] < b[1] - 0.5 and b[0] < a[1] - 0.5 and a[2] < b[3] - 0.5 and b[2] < a[3] - 0.5)


def test_a_full_map_says_how_many_names_it_lacks():
    boxes = [Box(f"Chemistry {n}", Bar(10, 12), Bar(10, 12)) for n in range(400)]
    svg = ElementTree.fromstring(map_svg(boxes, LOG, LOG, id="x", title="T"))
    texts = [text.text for text in svg.iter("text")]
    named = sum(text.startswith("Chemistry ") for text in texts)
    assert 10 < named < 400 and f"no room for {400 - named} more names" in texts
    assert svg.find("desc").text.count("Chemistry ") == 400


def test_every_drawing_is_light_and_names_every_chemistry_once(library):
    subjects = ordered(library.chemistries.values())
    for plot in range_plots(subjects):
        assert len(gzip.compress(plot.drawing.encode())) <= 6 * 1024, plot.id
        svg = ElementTree.fromstring(plot.drawing)
        names = [t.text for t in svg.iter("text") if re.search(r"ruler-row", t.get("class"))]
        assert len(names) == len(set(names))
        wanted = {s.abbreviation for s in subjects if s.rechargeable or plot.id != "range-cycles"}
        assert set(names) | set(plot.without) == wanted
        assert "style=" not in plot.drawing


def test_no_figure_lies_off_the_axis(library):
    for subject in library.chemistries.values():
        for value in subject.values_of("cycle-life"):
            for n in (value.min, value.typical, value.max):
                assert n is None or CYCLES.low <= n <= CYCLES.high
