"""The picture a link to a chemistry or a printed voltage shows elsewhere: its voltages on the ruler, 1200 x 630 PNG."""

from __future__ import annotations

import io
import json
from collections.abc import Sequence
from dataclasses import asdict
from functools import cache as once
from itertools import groupby
from pathlib import Path
from typing import TYPE_CHECKING

from generator.cache import Cache, code_digest, key_of, version_of
from generator.draw.axis import Axis, volts_text
from generator.draw.letters import drawable, file_of, first_with
from generator.draw.preview_data import Preview
from generator.draw.spread import spread

# Pillow comes with matplotlib, which writes its own pictures with it. Both are loaded only when a picture is not in the cache.
if TYPE_CHECKING:
    from PIL.Image import Image
    from PIL.ImageDraw import ImageDraw
    from PIL.ImageFont import FreeTypeFont

WIDTH_PX, HEIGHT_PX = 1200, 630
_PAPER, _INK, _SOFT, _USE, _HATCH = "#f8f3e8", "#211d18", "#5c5347", "#cfdcd6", "#a8503f"
_FONTS = ("DejaVu Serif", "DejaVu Sans")  # the second has letters the first lacks; both come with matplotlib
_SLANTED = ("DejaVu Serif:italic",)
# The picture has few colours: a palette of this many makes a file a third the size and is written faster.
_COLOURS = 48
# Left and right end of the ruler and the line of its scale, in pixels from the left and the top.
_LEFT, _RIGHT, _LINE, _THICK = 72, 1128, 403, 38
_LABEL_PX = 145
_HATCH_PX, _FINER = 13, 3  # from line to line; drawn so many times larger, then reduced, which smooths the slope


def preview_png(preview: Preview, cache: Cache) -> bytes:
    """Return the picture; the same content gives the same bytes, and comes from the cache when it was drawn before."""
    made_by = (version_of("pillow"), version_of("matplotlib"))
    key = key_of("preview", json.dumps(asdict(preview)), code_digest((Path(__file__).parent,)), *made_by)
    return cache.get_or_make(key, lambda: draw(preview))


def draw(preview: Preview) -> bytes:
    """Draw the picture."""
    from PIL import Image, ImageDraw

    picture = Image.new("RGB", (WIDTH_PX, HEIGHT_PX), _PAPER)
    pen = ImageDraw.Draw(picture)
    _words(pen, preview)
    _ruler(picture, pen, preview)
    out = io.BytesIO()
    picture.quantize(_COLOURS, Image.Quantize.FASTOCTREE, dither=Image.Dither.NONE).save(out, format="png")
    return out.getvalue()


def _words(pen: ImageDraw, preview: Preview) -> None:
    size = 105 if len(preview.short) <= 10 else max(1050 // len(preview.short), 42)
    _text(pen, _LEFT, 44, preview.short, size, _INK, "la")
    if preview.name != preview.short:
        _text(pen, _LEFT, 176, preview.name, min(37, 37 * 52 // max(len(preview.name), 1)), _SOFT, "la")
    _text(pen, _LEFT, 523, preview.window, 35, _INK, "lm")
    pen.rectangle((_LEFT, 556, _RIGHT, 557), fill=_INK)
    _text(pen, _LEFT, 589, "Cell Almanac", 29, _INK, "lm")
    _text(pen, _RIGHT, 589, "every value with its source", 29, _SOFT, "rm", _SLANTED)


def _ruler(picture: Image, pen: ImageDraw, preview: Preview) -> None:
    axis, top = preview.axis, _LINE - _THICK
    low, high = _LEFT, _RIGHT
    empty = low if preview.empty_v is None else _place(preview.empty_v, axis)
    # Where no full voltage is stated (a primary cell) what lies above its marks is left blank, neither use nor warning.
    known = max((_place(volt, axis) for _, volt in preview.marks), default=empty)
    full = known if preview.full_v is None else _place(preview.full_v, axis)
    for start, end in ((low, empty), (full, low if preview.full_v is None else high)):
        if end > start:
            picture.paste(_hatched().crop((0, 0, end - start, _THICK)), (start, top))
    if full > empty:
        pen.rectangle((empty, top, full, _LINE - 1), fill=_USE)
    pen.rectangle((low, _LINE, high, _LINE + 1), fill=_INK)
    for volt in axis.ticks(axis.major_v):
        place = _place(volt, axis)
        pen.rectangle((place - 1, _LINE, place, _LINE + 13), fill=_INK)
        _text(pen, place, _LINE + 18, f"{volt:g} V", 24, _SOFT, "ma")
    places = [_place(volt, axis) for _, volt in preview.marks]
    for (name, volt), place, label in zip(preview.marks, places, label_places(places), strict=True):
        pen.rectangle((place - 1, top - 10, place + 1, _LINE - 1), fill=_INK)
        pen.line((place, top - 10, label, top - 34), fill=_INK, width=2)
        _text(pen, label, top - 38, name, min(22, 22 * 14 // len(name)), _SOFT, "md")
        _text(pen, label, top - 64, f"{volts_text(volt)} V", 33, _INK, "md")


def _text(pen: ImageDraw, x: float, y: float, text: str, size: int, colour: str, anchor: str, fonts: tuple[str, ...] = _FONTS) -> None:
    """Write one line; ``anchor`` says which of its points is at (x, y): l, m or r, then a (top), m, s (baseline) or d (foot)."""
    shown, _ = drawable(text, fonts)
    runs = [("".join(letters), _font(name, size)) for name, letters in groupby(shown, key=lambda letter: first_with(letter, fonts))]
    widths = [font.getlength(run) for run, font in runs]
    x -= sum(widths) * {"l": 0.0, "m": 0.5, "r": 1.0}[anchor[0]]
    for (run, font), width in zip(runs, widths, strict=True):
        pen.text((x, y), run, fill=colour, font=font, anchor=f"l{anchor[1]}")
        x += width


@once
def _font(name: str, size: int) -> FreeTypeFont:
    from PIL import ImageFont

    # The basic layout is the same on every machine; the other one depends on a library that may be there or not.
    return ImageFont.truetype(file_of(name), size, layout_engine=ImageFont.Layout.BASIC)


@once
def _hatched() -> Image:
    from PIL import Image, ImageDraw

    width, height = (_RIGHT - _LEFT) * _FINER, _THICK * _FINER
    strip = Image.new("RGB", (width, height), _PAPER)
    pen = ImageDraw.Draw(strip)
    for foot in range(-height, width, _HATCH_PX * _FINER):
        pen.line((foot, height, foot + height, 0), fill=_HATCH, width=5)
    return strip.reduce(_FINER)


def _place(volts: float, axis: Axis) -> int:
    return round(_LEFT + (_RIGHT - _LEFT) * axis.place(volts) / 100)


def label_places(places: Sequence[float]) -> list[float]:
    """Return where the labels of ascending marks stand, none over another, in pixels."""
    edge = _LABEL_PX / 2
    return spread(places, _LABEL_PX, edge, WIDTH_PX - edge)
