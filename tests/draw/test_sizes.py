"""Cell sizes: to one scale, with volumes that agree with hand work and with a maker's own figure."""

from __future__ import annotations

import re

import pytest

from generator.draw.sizes import sizes_svg
from generator.model.size import sizes_from

_RECT = re.compile(r'<rect class="size-body [a-z-]+" x="([\d.]+)" y="([\d.]+)" width="([\d.]+)" height="([\d.]+)"')


def made_up(**fields):
    figure = {"key": "one", "grade": "practice", "diameter_max_mm": 10, "length_max_mm": 40, **fields}
    item = {"id": "drum", "name": "<b>Drum</b>", "shape": "cylinder", "use": "primary", "also_called": [], "stated": "one", "figures": [figure]}
    return sizes_from({"sizes": [item]})["drum"]


def test_outlines_are_to_one_scale_on_one_line(library):
    sizes = [s for s in library.sizes.values() if s.use == "lithium-ion"]
    drawn = [tuple(map(float, found)) for found in _RECT.findall(sizes_svg(sizes, id="x", title="Sizes"))]
    assert len(drawn) == len(sizes)
    for size, (_, y, width, height) in zip(sizes, drawn, strict=True):
        assert width == pytest.approx(size.across_mm, abs=0.01) and height == pytest.approx(size.length_mm, abs=0.01)
        assert y + height == pytest.approx(drawn[0][1] + drawn[0][3], abs=0.02)
    rights = [x + width for x, _, width, _ in drawn]
    assert all(right < left for right, (left, *_) in zip(rights, drawn[1:]))  # none covers its neighbour


def test_a_hostile_name_stays_text():
    svg = sizes_svg([made_up()], id="x", title="<i>")
    assert "<b>" not in svg and "&lt;b&gt;Drum&lt;/b&gt;" in svg and "&lt;i&gt;" in svg
    assert "style=" not in svg


def test_no_size_is_refused():
    with pytest.raises(ValueError, match="at least one size"):
        sizes_svg([], id="x", title="")


def test_volume_of_a_cylinder_by_hand():
    """pi/4 * (10 mm)^2 * 40 mm = 3.1416 cm3."""
    assert made_up().volume_cm3 == pytest.approx(3.14159, abs=1e-4)


def test_volume_of_the_nine_volt_block_against_its_maker(library):
    """Duracell's MN1604 sheet prints 22.8 cm3; the block of its largest sides is within 2 % of it."""
    assert library.sizes["nine-volt"].volume_cm3 == pytest.approx(22.8, rel=0.02)


# Largest outlines: the size table of Duracell's selection list (D, C, AA, AAA, N, AAAA), which repeats IEC 60086-2.
@pytest.mark.parametrize("size, diameter", [("d", 34.2), ("c", 26.2), ("aa", 14.5), ("aaa", 10.5), ("n", 12.0), ("aaaa", 8.3)])
def test_household_diameters(library, size, diameter):
    assert library.sizes[size].across_mm == diameter


# Linden's Handbook, 4th ed., table 4.4b: HR 15/51 is 14.5 x 50.5 mm, interchangeable with R6.
def test_aa_length(library):
    assert library.sizes["aa"].length_mm == 50.5
