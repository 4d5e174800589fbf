"""Figures of curves: what is plotted and written on them, their size, and that two draws give the same bytes."""

from __future__ import annotations

import gzip
import re
import xml.etree.ElementTree as ET
from dataclasses import replace

import pytest

from generator.build import CACHE
from generator.cache import NO_CACHE, Cache
from generator.compute.curves import CellCurves, Curve
from generator.compute.results import compute
from generator.draw import files, style
from generator.draw.curve_parts import Figure
from generator.draw.curves import best_cell, cell_figures, figures, rates_figure, temperatures_figure
from generator.draw.files import plotted
from generator.draw.plot import Level, Line, Plot, figure_of

GZIP_BAR = 6 * 1024
PAPER = {"light": "#f8f3e8", "dark": "#111a2b"}
CONTRAST_BAR = 4.5  # WCAG 2.2, 1.4.3, text


@pytest.fixture(scope="module")
def results(library):
    return compute(library, CACHE)


@pytest.fixture(scope="module")
def drawn(library, results):
    return {figure.name: (figure, *plotted(figure, CACHE).values()) for figure in figures(library, results)}


def made_up_curves() -> CellCurves:
    """Two straight discharges, one of which stops early; invented."""
    curves = (
        Curve(0.05, 25.0, (0.0, 1.0, 2.0), (4.0, 3.5, 3.0), "cutoff-voltage", "DFN"),
        Curve(1.0, 25.0, (0.0, 0.5, 1.0), (3.8, 3.5, 3.3), "electrolyte-depleted", "DFN"),
        Curve(1.0, -10.0, (0.0, 0.2, 0.4), (3.6, 3.4, 3.2), "electrolyte-depleted", "DFN"),
    )
    return CellCurves("made-up", "nmc", 2.1, (0.0, 0.5, 1.0), (4.1, 3.6, 3.0), curves, ())


def artists(figure, kind: str):
    (axes,) = figure.axes
    return [line for line in axes.lines if line.get_gid() == kind]


def words(figure) -> list[str]:
    return [text.get_text() for text in figure.axes[0].texts]


def test_rates_are_plotted_over_the_percent_of_the_slowest(library):
    figure = rates_figure(library.cells["chen-2020"], made_up_curves(), None)
    rest, slow, fast = artists(figure_of(figure.plot), "curve")
    assert list(slow.get_xdata()) == [0.0, 50.0, 100.0] and list(slow.get_ydata()) == [4.0, 3.5, 3.0]
    assert list(fast.get_xdata()) == [0.0, 25.0, 50.0]
    assert list(rest.get_xdata()) == [0.0, 52.5, 105.0] and list(rest.get_ydata()) == [4.1, 3.6, 3.0]


def test_lines_are_named_and_early_stops_crossed(library):
    plot = figure_of(rates_figure(library.cells["chen-2020"], made_up_curves(), None).plot)
    assert {"0.05 C", "1 C", "at rest (open circuit)", "volts per cell"} <= set(words(plot))
    (cross,) = artists(plot, "stop")
    assert (list(cross.get_xdata()), list(cross.get_ydata())) == ([50.0], [3.3])


def test_temperatures_are_named_with_a_true_minus(library):
    plot = figure_of(temperatures_figure(library.cells["chen-2020"], made_up_curves()).plot)
    assert {"25 \u00b0C", "\u221210 \u00b0C"} <= set(words(plot))


def test_the_label_of_the_chemistry_is_marked(library, results):
    cell = library.cells["about-energy-2022-lfp"]
    nominal = library.chemistries["lfp"].volts("nominal-voltage")
    (level, *_) = artists(figure_of(cell_figures(cell, library, results)[0].plot), "level")
    assert set(level.get_ydata()) == {nominal}


def test_a_range_of_labels_is_a_band_with_both_ends():
    plot = Plot((), (Level(3.6, 3.7, "label\n3.60 to\n3.70"),), "x", "y", (0, 100), (3, 4), (0, 100), (3, 4), "fan")
    figure = figure_of(plot)
    assert sorted(line.get_ydata()[0] for line in artists(figure, "level")) == [3.6, 3.7]
    assert {"label", "3.60 to", "3.70"} <= set(words(figure))


def test_alternative_text_has_the_numbers_and_the_stop(library):
    alt = rates_figure(library.cells["chen-2020"], made_up_curves(), None).alt
    assert "0.05 C: 3.50 V at half charge, ends at 100 % and 3.00 V" in alt
    assert "1 C: 3.30 V at half charge, ends at 50 % and 3.30 V, stopped because the electrolyte ran out" in alt


def test_every_line_of_a_figure_has_its_own_look(drawn):
    for name, (figure, *_) in drawn.items():
        looks = [(style.line_colour(line.tone), style.line_dash(line.tone)) for line in figure.plot.lines if line.tone is not None]
        assert len(set(looks)) == len(looks), name


def test_lines_of_one_colour_differ_in_their_dashes():
    for tone in range(2 * style.LINES):
        assert style.line_dash(tone) != style.line_dash(tone + style.LINES)


@pytest.mark.parametrize("palette", ["light", "dark"])
def test_every_colour_can_be_read_on_its_paper(palette):
    colours = {"light": style.LIGHT, "dark": style.DARK}[palette]
    for role, colour in colours.items():
        if role != "grid":
            assert contrast(colour, PAPER[palette]) >= CONTRAST_BAR, role


def contrast(one: str, other: str) -> float:
    """Contrast ratio of two colours, WCAG 2.2."""
    light, dark = sorted((luminance(one), luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


def luminance(colour: str) -> float:
    """Relative luminance of an sRGB colour, WCAG 2.2."""
    channels = [int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5)]
    linear = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in channels]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def test_the_two_files_differ_in_colour_only(drawn):
    for name, (_, light, dark) in drawn.items():
        assert re.sub(r"#[0-9a-f]{6}", "#", light) == re.sub(r"#[0-9a-f]{6}", "#", dark), name
        used = set(re.findall(r"(?<=[:\"\s])#[0-9a-f]{6}", light))
        assert used <= set(style.LIGHT.values()) | {"#000000"}, name


def test_every_file_is_small_and_whole(drawn):
    for name, (_, light, dark) in drawn.items():
        for text in (light, dark):
            assert len(gzip.compress(text.encode(), 9)) <= GZIP_BAR, name
            ET.fromstring(text)


def test_no_file_tells_a_date_or_draws_its_letters(drawn):
    for _, light, _ in drawn.values():
        assert "<metadata" not in light and "dc:date" not in light
        assert "<text" in light and "DejaVu" not in light


def test_two_draws_give_the_same_bytes(library, results):
    for figure in cell_figures(library.cells["chen-2020"], library, results):
        assert plotted(figure, NO_CACHE) == plotted(figure, NO_CACHE)


def test_names_in_a_row_keep_their_distance():
    """Eight lines end at nearly one place: names of three characters of 13 pt, some 22 pt wide, stand further apart."""
    lines = tuple(Line((0.0, 100.0 + 0.01 * i), (4.0, 2.5), f"{i} C", i) for i in range(8))
    plot = Plot(lines, (), "x", "y", (0, 106), (1.5, 4.3), (0, 100), (2, 3, 4), "fan")
    figure = figure_of(plot)
    wide = figure.axes[0].get_position().width * style.WIDTH_PT
    places = sorted(text.get_position()[0] * wide for text in figure.axes[0].texts if text.get_text().endswith(" C"))
    assert len(places) == 8
    assert min(b - a for a, b in zip(places, places[1:])) >= 25


# Cache -----------------------------------------------------------------------------------------------------------


@pytest.fixture
def small(monkeypatch):
    drawings = []
    real = files.figure_of
    monkeypatch.setattr(files, "figure_of", lambda plot: drawings.append(plot) or real(plot))
    plot = Plot((Line((0.0, 100.0), (4.0, 3.0), "1 C", 0),), (), "x", "y", (0, 106), (1.5, 4.3), (0, 100), (2, 3, 4), "fan")
    return Figure("made-up", plot, "A line."), drawings


def test_a_kept_figure_is_not_drawn_again_and_a_damaged_one_is(small, tmp_path):
    figure, drawings = small
    first = plotted(figure, Cache(tmp_path))
    assert plotted(figure, Cache(tmp_path)) == first and len(drawings) == 1
    (entry,) = tmp_path.iterdir()
    entry.write_bytes(entry.read_bytes().replace(b"svg", b"gvs", 1))
    assert plotted(figure, Cache(tmp_path)) == first and len(drawings) == 2


def test_other_data_style_or_library_is_drawn_again(small, tmp_path, monkeypatch):
    figure, drawings = small
    plotted(figure, Cache(tmp_path))
    plotted(replace(figure, plot=replace(figure.plot, x_name="other")), Cache(tmp_path))
    assert len(drawings) == 2
    monkeypatch.setattr(files, "version_of", lambda name: "0.0")
    plotted(figure, Cache(tmp_path))
    assert len(drawings) == 3
    monkeypatch.setattr(style, "FONT_PT", 9.0)
    plotted(figure, Cache(tmp_path))
    assert len(drawings) == 4


def test_a_hostile_name_stays_text():
    plot = Plot((Line((0.0, 100.0), (4.0, 3.0), "<script>alert(1)</script> & $x$", 0),), (), "x", "y", (0, 106), (1.5, 4.3), (0, 100), (2, 3, 4), "fan")
    text = plotted(Figure("hostile", plot, ""), NO_CACHE)["assets/figures/hostile-light.svg"]
    root = ET.fromstring(text)
    assert not [e for e in root.iter() if e.tag.endswith("script")]
    assert "<script>alert(1)</script> & $x$" in "".join(root.itertext())


def test_a_computed_cell_stands_for_its_chemistry_before_a_table(library, results):
    assert best_cell(library.chemistries["nmc"], library, results).id == "about-energy-2022-nmc"
    assert best_cell(library.chemistries["lfp"], library, results).id == "about-energy-2022-lfp"
    assert best_cell(library.chemistries["lmo"], library, results) is None
