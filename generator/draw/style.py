"""The look of plotted figures: one size, one lettering, two palettes, and SVG text that is the same in every build.

A figure is drawn once, in the light palette; the dark file is the same text with each colour exchanged. Lettering stays
text, set in the reader's own serif, so that it is sharp, small and can be searched.
"""

from __future__ import annotations

import io
import re

WIDTH_PT, HEIGHT_PT = 400, 350
FONT_PT = 13.0
SMALL_PT = 12.0

# Roles in the light and the dark palette. Every colour stands at 4.5:1 or better on its own paper (lines included), save
# the grid. Six hues that stay apart in the common forms of colour blindness, and each has a dash pattern besides.
LIGHT = {
    "ink": "#211d18",
    "soft": "#5c5347",
    "grid": "#d6ccb7",
    "mark": "#97281b",
    "line-0": "#14507f",
    "line-1": "#9a4a00",
    "line-2": "#00664f",
    "line-3": "#8a2f74",
    "line-4": "#5f5a00",
    "line-5": "#4a3fa0",
}
DARK = {
    "ink": "#ebe4d3",
    "soft": "#b3ad9e",
    "grid": "#35425c",
    "mark": "#f5a48f",
    "line-0": "#8cc4f5",
    "line-1": "#ffb05c",
    "line-2": "#57d3ae",
    "line-3": "#f19bdc",
    "line-4": "#d8d155",
    "line-5": "#bdb4ff",
}
LINES = 6
DASHES = ("-", (0, (7, 2)), (0, (2, 1.6)), (0, (8, 2, 1.5, 2)), (0, (4, 1.5, 1.2, 1.5, 1.2, 1.5)), (0, (1.2, 1.6)))
SERIF = "Charter,'Bitstream Charter','Iowan Old Style','Palatino Linotype',Palatino,'Noto Serif',Cambria,Georgia,serif"

_RC = {
    "svg.fonttype": "none",
    "svg.hashsalt": "cell-almanac",
    "font.family": "DejaVu Serif",
    "font.size": FONT_PT,
    "path.simplify": True,
    "path.simplify_threshold": 0.2,
    "axes.unicode_minus": True,
    "text.parse_math": False,  # a name is a name, whatever signs it holds
}
_METADATA = re.compile(r"\s*<metadata>.*?</metadata>", re.DOTALL)
_COMMENT = re.compile(r"<!--.*?-->", re.DOTALL)
_NUMBERS = re.compile(r'(?<=[\s"])(?P<attribute>d|x|y|points|transform|width|height)="(?P<value>[^"]*)"')
_LONG = re.compile(r"-?\d+\.\d{3,}")
_FONT = re.compile(r"'DejaVu Serif'")


def style_parts() -> str:
    """Return everything of this module that a drawn file depends on, as text for a cache key."""
    return repr((WIDTH_PT, HEIGHT_PT, FONT_PT, SMALL_PT, LIGHT, DARK, DASHES, SERIF, sorted(_RC.items())))


def line_colour(index: int) -> str:
    """Return the light colour of the line at ``index``, turning over after LINES."""
    return LIGHT[f"line-{index % LINES}"]


def line_dash(index: int):
    """Return the dash pattern of the line at ``index``: a colour that comes round again has another pattern."""
    return DASHES[(index + 3 * (index // LINES)) % LINES]


def settings() -> dict:
    """Return the matplotlib settings under which every figure is made and saved."""
    return dict(_RC)


def svg_pair(figure) -> tuple[str, str]:
    """Return (light, dark) SVG text of a matplotlib figure drawn in the light palette."""
    import matplotlib

    with matplotlib.rc_context(settings()):
        out = io.StringIO()
        figure.savefig(out, format="svg", transparent=True, metadata={"Date": None, "Creator": None, "Format": None, "Type": None})
    light = _tidy(out.getvalue())
    return light, _exchange(light)


def _tidy(text: str) -> str:
    """Shorter SVG with the same drawing: no metadata, two decimals, the reader's fonts."""
    text = _COMMENT.sub("", _METADATA.sub("", text))
    text = _NUMBERS.sub(lambda m: f'{m["attribute"]}="{_LONG.sub(_short, m["value"])}"', text)
    text = _FONT.sub(SERIF, text)
    return re.sub(r"\n\s*\n+", "\n", text[text.index("<svg") :])


def _short(found: re.Match) -> str:
    return f"{round(float(found.group()), 2):g}" if abs(float(found.group())) < 10000 else found.group()


def _exchange(light: str) -> str:
    # One pass, so that no colour of the dark palette is taken for one of the light.
    dark = {LIGHT[role]: DARK[role] for role in LIGHT}
    return re.sub("|".join(dark), lambda found: dark[found.group()], light)
