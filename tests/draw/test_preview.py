"""The picture of a link: its size, its sameness, its labels apart."""

from __future__ import annotations

import io

import pytest
from PIL import Image

from generator.cache import Cache
from generator.draw.preview import HEIGHT_PX, WIDTH_PX, draw, label_places, preview_png
from generator.draw.preview_data import Preview, label_preview, preview_of
from tests.made_up import made_up_library

SHOWN = Preview("HST", "Hostilium", (("empty", 2.5), ("nominal, storage", 3.2), ("full", 3.65)), 2.5, 3.65, "Charge only at 0 to 45 \u00b0C")


def test_it_is_a_picture_of_the_promised_size():
    image = Image.open(io.BytesIO(draw(SHOWN)))
    assert (image.format, image.size) == ("PNG", (1200, 630)) == ("PNG", (WIDTH_PX, HEIGHT_PX))
    assert "Software" not in image.info


def test_the_same_content_gives_the_same_bytes():
    assert draw(SHOWN) == draw(SHOWN)


def test_the_cache_is_asked_first(tmp_path):
    cache = Cache(tmp_path)
    first = preview_png(SHOWN, cache)
    (kept,) = list(tmp_path.iterdir())
    assert preview_png(SHOWN, cache) == first and list(tmp_path.iterdir()) == [kept]


def test_what_it_shows_is_what_is_stated(tmp_path):
    subject = made_up_library(tmp_path / "chemistry").chemistries["hostilium"]
    preview = preview_of(subject)
    assert preview.marks == (("empty", 2.5), ("nominal", 3.2), ("full", 3.6)) and preview.window == "Charge only at 0 to 45 \u00b0C"


@pytest.mark.parametrize("name", ["$x^2$ \\frac", "<b>&", "\u03bb", "\u96fb\u6c60 \u05d0\u0e01 x", "\U0001f50b", "x" * 300, "%d {0}"])
def test_no_name_breaks_the_drawing(name):
    assert draw(Preview(name, name, (), None, None, name)).startswith(b"\x89PNG")


@pytest.mark.parametrize("places", [[0.5] * 5, [0.06, 0.07], [0.93, 0.94], [0.2, 0.4, 0.41, 0.42, 0.9]])
def test_labels_stand_apart_and_inside(places):
    labels = label_places([place * WIDTH_PX for place in places])
    assert all(right - left >= 144 for left, right in zip(labels, labels[1:])) and labels[0] > 60 and labels[-1] < WIDTH_PX - 60


def test_a_printed_voltage_shows_the_pack_it_most_likely_means(library):
    """10.8 V is three lithium-ion cells of 3.6 V (IEC 61960 names 3.6 V): 4.2 V each when full."""
    from generator.compute.label import likely, read_label

    found = likely(read_label(10.8, library))
    preview = label_preview(10.8, found, library.chemistries)
    marks = dict(preview.marks)
    assert preview.short == "10.8 V" and preview.name.startswith("3 cells of lithium-ion")
    assert (marks["nominal"], marks["full"], preview.full_v) == (10.8, 12.6, 12.6) and preview.axis.low_v < preview.empty_v
    assert "full 12.6 V" in preview.in_words and "A label proves nothing" in preview.in_words


def test_the_pictures_are_small(library):
    from generator.compute.label import likely, read_label

    for volts in (1.2, 12.0, 48.0):
        assert len(draw(label_preview(volts, likely(read_label(volts, library)), library.chemistries))) <= 40 * 1024
    assert len(draw(preview_of(library.chemistries["lfp"]))) <= 40 * 1024


def test_letters_no_font_has_are_left_out():
    from generator.draw.letters import drawable

    assert drawable("LFP \u00b0C", ("DejaVu Serif",)) == "LFP \u00b0C"
    assert drawable("a\u96fb\u6c60b", ("DejaVu Serif", "DejaVu Sans")) == "a\u2026b"
