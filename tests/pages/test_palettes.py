"""Both palettes of the style sheet reach the contrast of WCAG 2.2 AA, computed by its own formula."""

from __future__ import annotations

import re

import pytest

from generator.build import ROOT

CSS = (ROOT / "docs" / "assets" / "almanac.css").read_text("utf-8")
BLOCKS = {
    "paper": re.search(r'\[data-md-color-scheme="default"\] \{(.*?)\}', CSS, re.DOTALL).group(1),
    "night": re.search(r'\[data-md-color-scheme="slate"\] \{(.*?)\}', CSS, re.DOTALL).group(1),
}


def colours(block: str) -> dict[str, str]:
    return dict(re.findall(r"--([a-z-]+):\s*(#[0-9a-f]{6})\b", block))


def luminance(colour: str) -> float:
    """Relative luminance, WCAG 2.2 definition (sRGB)."""
    channels = (int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5))
    red, green, blue = (c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in channels)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(a: str, b: str) -> float:
    high, low = sorted((luminance(a), luminance(b)), reverse=True)
    return (high + 0.05) / (low + 0.05)


def test_formula_agrees_with_known_pairs():
    # WCAG: black on white is 21:1; #767676 is the lightest grey that passes 4.5:1 on white (4.54).
    assert contrast("#000000", "#ffffff") == pytest.approx(21)
    assert contrast("#767676", "#ffffff") == pytest.approx(4.54, abs=0.01)


@pytest.mark.parametrize("palette", BLOCKS)
@pytest.mark.parametrize("text", ("ink", "soft", "link", "rubric"))
@pytest.mark.parametrize("ground", ("paper", "sheet", "rubric-wash"))
def test_text_reaches_aa(palette, text, ground):
    found = colours(BLOCKS[palette])
    assert contrast(found[text], found[ground]) >= 4.5


@pytest.mark.parametrize("palette", BLOCKS)
@pytest.mark.parametrize(("mark", "ground"), (("mark", "use"), ("mark", "sheet"), ("hatch", "sheet"), ("hatch", "paper"), ("focus", "paper"), ("line-strong", "paper")))
def test_drawn_parts_reach_three_to_one(palette, mark, ground):
    found = colours(BLOCKS[palette])
    assert contrast(found[mark], found[ground]) >= 3


def test_both_palettes_define_the_same_colours():
    assert set(colours(BLOCKS["paper"])) == set(colours(BLOCKS["night"]))


def test_no_font_or_picture_comes_from_elsewhere():
    assert "@import" not in CSS and "url(" not in CSS and "@font-face" not in CSS
