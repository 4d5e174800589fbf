"""The picture a link to a chemistry or a printed voltage shows elsewhere: its voltages on the ruler, 1200 x 630 PNG."""

from __future__ import annotations

import io
import json
from collections.abc import Mapping, Sequence
from dataclasses import asdict, dataclass
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
# A picture of few colours: paper, ink, the zone of use, and the steps from the paper to what is drawn smoothly on it.
_PAPER, _INK, _SOFT, _USE, _HATCH = "#f8f3e8", "#211d18", "#5c5347", "#cfdcd6", "#a8503f"
_STEPS = 15
# The number of each colour; those drawn smoothly have the steps towards them below it.
_SMOOTH = (_INK, _SOFT, _HATCH)
_PALETTE = {_PAPER: 0, _USE: 1, **{colour: 1 + _STEPS * (place + 1) for place, colour in enumerate(_SMOOTH)}}
_FONTS = ("DejaVu Serif", "DejaVu Sans")  # the second has letters the first lacks; both come with matplotlib
_SLANTED = ("DejaVu Serif:italic",)
# Left and right end of the ruler and the line of its scale, in pixels from the left and the top.
_LEFT, _RIGHT, _LINE, _THICK = 72, 1128, 403, 38
_LABEL_PX = 145
_HATCH_PX, _FINER = 13, 3  # from line to line; drawn so many times larger, then reduced, which smooths the slope


def preview_png(preview: Preview, cache: Cache) -> bytes:
    """Return the picture; the same content gives the same bytes, and comes from the cache when it was drawn before."""
    made_by = (version_of("pillow"), version_of("matplotlib"))
    key = key_of("preview", json.dumps(asdict(preview)), code_digest((Path(__file__).parent,)), *made_by)
    return cache.get_or_make(key, lambda: draw(preview))


@dataclass(frozen=True, slots=True)
class _Sheet:
    """The picture as numbers of the palette, and how densely each smooth colour covers it, 0 to 255."""

    picture: Image
    covers: Mapping[str, Image]

    def bar(self, left: int, top: int, right: int, bottom: int, colour: str) -> None:
        """Fill a rectangle, both ends included."""
        self.picture.paste(_PALETTE[colour], (left, top, right + 1, bottom + 1))


def draw(preview: Preview) -> bytes:
    """Draw the picture."""
    from PIL import Image

    size = (WIDTH_PX, HEIGHT_PX)
    sheet = _Sheet(Image.new("L", size, _PALETTE[_PAPER]), {colour: Image.new("L", size, 0) for colour in _SMOOTH})
    _words(sheet, preview)
    _ruler(sheet, preview)
    for colour, cover in sheet.covers.items():
        steps = cover.point([(level * _STEPS + 127) // 255 for level in range(256)])
        numbers = steps.point([_PALETTE[colour] - _STEPS + step for step in range(_STEPS + 1)] + [0] * (255 - _STEPS))
        sheet.picture.paste(numbers, mask=steps.point([0] + [255] * 255))
    sheet.picture.putpalette(_palette())
    out = io.BytesIO()
    sheet.picture.save(out, format="png")
    return out.getvalue()


@once
def _palette() -> bytes:
    from PIL.ImageColor import getrgb

    paper, found = getrgb(_PAPER), [getrgb(_PAPER), getrgb(_USE)]
    for colour in map(getrgb, _SMOOTH):
        found += [tuple(round(p + (c - p) * step / _STEPS) for p, c in zip(paper, colour, strict=True)) for step in range(1, _STEPS + 1)]
    return bytes(part for colour in found for part in colour)


def _words(sheet: _Sheet, preview: Preview) -> None:
    size = 105 if len(preview.short) <= 10 else max(1050 // len(preview.short), 42)
    _text(sheet, _LEFT, 44, preview.short, size, _INK, "la")
    if preview.name != preview.short:
        _text(sheet, _LEFT, 176, preview.name, min(37, 37 * 52 // max(len(preview.name), 1)), _SOFT, "la")
    _text(sheet, _LEFT, 523, preview.window, 35, _INK, "lm")
    sheet.bar(_LEFT, 556, _RIGHT, 557, _INK)
    _text(sheet, _LEFT, 589, "Cell Almanac", 29, _INK, "lm")
    _text(sheet, _RIGHT, 589, "every value with its source", 29, _SOFT, "rm", _SLANTED)


def _ruler(sheet: _Sheet, preview: Preview) -> None:
    axis, top = preview.axis, _LINE - _THICK
    low, high = _LEFT, _RIGHT
    empty = low if preview.empty_v is None else _place(preview.empty_v, axis)
    # Where no full voltage is stated (a primary cell) what lies above its marks is left blank, neither use nor warning.
    known = max((_place(volt, axis) for _, volt in preview.marks), default=empty)
    full = known if preview.full_v is None else _place(preview.full_v, axis)
    for start, end in ((low, empty), (full, low if preview.full_v is None else high)):
        if end > start:
            sheet.covers[_HATCH].paste(_hatched().crop((0, 0, end - start, _THICK)), (start, top))
    if full > empty:
        sheet.bar(empty, top, full, _LINE - 1, _USE)
    sheet.bar(low, _LINE, high, _LINE + 1, _INK)
    for volt in axis.ticks(axis.major_v):
        place = _place(volt, axis)
        sheet.bar(place - 1, _LINE, place, _LINE + 13, _INK)
        _text(sheet, place, _LINE + 18, f"{volt:g} V", 24, _SOFT, "ma")
    places = [_place(volt, axis) for _, volt in preview.marks]
    for (name, volt), place, label in zip(preview.marks, places, label_places(places), strict=True):
        sheet.bar(place - 1, top - 10, place + 1, _LINE - 1, _INK)
        _pen(sheet.picture).line((place, top - 10, label, top - 34), fill=_PALETTE[_INK], width=2)
        _text(sheet, label, top - 38, name, min(22, 22 * 14 // len(name)), _SOFT, "md")
        _text(sheet, label, top - 64, f"{volts_text(volt)} V", 33, _INK, "md")


def _text(sheet: _Sheet, x: float, y: float, text: str, size: int, colour: str, anchor: str, fonts: tuple[str, ...] = _FONTS) -> None:
    """Write one line; ``anchor`` says which of its points is at (x, y): l, m or r, then a (top), m, s (baseline) or d (foot)."""
    runs = [("".join(letters), _font(name, size)) for name, letters in groupby(drawable(text, fonts), key=lambda letter: first_with(letter, fonts))]
    widths = [font.getlength(run) for run, font in runs]
    x -= sum(widths) * {"l": 0.0, "m": 0.5, "r": 1.0}[anchor[0]]
    for (run, font), width in zip(runs, widths, strict=True):
        _pen(sheet.covers[colour]).text((x, y), run, fill=255, font=font, anchor=f"l{anchor[1]}")
        x += width


def _pen(picture: Image) -> ImageDraw:
    from PIL import ImageDraw

    return ImageDraw.Draw(picture)


@once
def _font(name: str, size: int) -> FreeTypeFont:
    from PIL import ImageFont

    # The basic layout is the same on every machine; the other one depends on a library that may be there or not.
    return ImageFont.truetype(file_of(name), size, layout_engine=ImageFont.Layout.BASIC)


@once
def _hatched() -> Image:
    from PIL import Image

    width, height = (_RIGHT - _LEFT) * _FINER, _THICK * _FINER
    strip = Image.new("L", (width, height), 0)
    pen = _pen(strip)
    for foot in range(-height, width, _HATCH_PX * _FINER):
        pen.line((foot, height, foot + height, 0), fill=255, width=5)
    return strip.reduce(_FINER)


def _place(volts: float, axis: Axis) -> int:
    return round(_LEFT + (_RIGHT - _LEFT) * axis.place(volts) / 100)


def label_places(places: Sequence[float]) -> list[float]:
    """Return where the labels of ascending marks stand, none over another, in pixels."""
    edge = _LABEL_PX / 2
    return spread(places, _LABEL_PX, edge, WIDTH_PX - edge)
