"""The picture a link to a chemistry or a printed voltage shows elsewhere: its voltages on the ruler, 1200 x 630 PNG."""

from __future__ import annotations

import io
import json
from collections.abc import Sequence
from dataclasses import asdict
from importlib.metadata import version
from pathlib import Path
from typing import TYPE_CHECKING

from generator.cache import Cache, code_digest, key_of
from generator.draw.axis import Axis, volts_text
from generator.draw.letters import drawable
from generator.draw.preview_data import Preview
from generator.draw.spread import spread

# Drawing takes matplotlib 0.3 s to load, so it is loaded only when a picture is not in the cache.
if TYPE_CHECKING:
    from matplotlib.figure import Figure
    from matplotlib.lines import Line2D
    from matplotlib.patches import Rectangle

WIDTH_PX, HEIGHT_PX, DPI = 1200, 630, 100
_PAPER, _INK, _SOFT, _USE, _HATCH = "#f8f3e8", "#211d18", "#5c5347", "#cfdcd6", "#a8503f"
_FONTS = ("DejaVu Serif", "DejaVu Sans")  # the second has letters the first lacks; both come with matplotlib
# The picture has few colours: a palette of this many makes a file a third the size and is written faster.
_COLOURS = 48
_STYLE = {"hatch.linewidth": 1.2, "text.parse_math": False}
# Left and right end of the ruler and its height, as shares of the picture.
_LEFT, _RIGHT, _LINE = 0.06, 0.94, 0.36
_LABEL_PX = 145


def preview_png(preview: Preview, cache: Cache) -> bytes:
    """Return the picture; the same content gives the same bytes, and comes from the cache when it was drawn before."""
    key = key_of("preview", json.dumps(asdict(preview)), code_digest((Path(__file__).parent,)), version("matplotlib"))
    return cache.get_or_make(key, lambda: draw(preview))


def draw(preview: Preview) -> bytes:
    """Draw the picture."""
    import matplotlib
    from matplotlib.backends.backend_agg import FigureCanvasAgg
    from matplotlib.figure import Figure

    with matplotlib.rc_context(_STYLE):
        figure = Figure(figsize=(WIDTH_PX / DPI, HEIGHT_PX / DPI), dpi=DPI, facecolor=_PAPER)
        canvas = FigureCanvasAgg(figure)
        _words(figure, preview)
        _ruler(figure, preview)
        canvas.draw()
        return _png(canvas.buffer_rgba())


def _png(pixels: memoryview) -> bytes:
    from PIL import Image  # matplotlib writes its own PNG files with it

    picture = Image.frombuffer("RGBA", (WIDTH_PX, HEIGHT_PX), pixels, "raw", "RGBA", 0, 1).convert("RGB")
    out = io.BytesIO()
    picture.quantize(_COLOURS, Image.Quantize.FASTOCTREE, dither=Image.Dither.NONE).save(out, format="png")
    return out.getvalue()


def _text(figure: Figure, x: float, y: float, text: str, **look) -> None:
    shown, fonts = drawable(text, _FONTS)
    figure.text(x, y, shown, family=fonts, **look)


def _words(figure: Figure, preview: Preview) -> None:
    size = 76 if len(preview.short) <= 10 else max(76 * 10 / len(preview.short), 30)
    _text(figure, _LEFT, 0.93, preview.short, size=size, color=_INK, va="top", ha="left")
    if preview.name != preview.short:
        _text(figure, _LEFT, 0.72, preview.name, size=min(27, 27 * 52 / max(len(preview.name), 1)), color=_SOFT, va="top", ha="left")
    _text(figure, _LEFT, 0.17, preview.window, size=25, color=_INK, va="center", ha="left")
    _text(figure, _LEFT, 0.065, "Cell Almanac", size=21, color=_INK, va="center", ha="left")
    _text(figure, _RIGHT, 0.065, "every value with its source", size=21, color=_SOFT, va="center", ha="right", style="italic")
    figure.add_artist(_bar(_LEFT, 0.115, _RIGHT - _LEFT, 0.003, facecolor=_INK))


def _ruler(figure: Figure, preview: Preview) -> None:
    axis = preview.axis
    low, high = (_place(v, axis) for v in (axis.low_v, axis.high_v))
    empty = low if preview.empty_v is None else _place(preview.empty_v, axis)
    full = high if preview.full_v is None else _place(preview.full_v, axis)
    for start, end in ((low, empty), (full, high)):
        if end > start:
            figure.add_artist(_bar(start, _LINE, end - start, 0.06, facecolor="none", edgecolor=_HATCH, hatch="//", linewidth=0))
    figure.add_artist(_bar(empty, _LINE, full - empty, 0.06, facecolor=_USE))
    figure.add_artist(_bar(low, _LINE - 0.003, high - low, 0.003, facecolor=_INK))
    for volt in axis.ticks(axis.major_v):
        place = _place(volt, axis)
        figure.add_artist(_bar(place - 0.0006, _LINE - 0.02, 0.0012, 0.02, facecolor=_INK))
        _text(figure, place, _LINE - 0.03, f"{volt:g} V", size=17, color=_SOFT, va="top", ha="center")
    places = [_place(volt, axis) for _, volt in preview.marks]
    for (name, volt), place, label in zip(preview.marks, places, label_places(places)):
        figure.add_artist(_bar(place - 0.0014, _LINE, 0.0028, 0.075, facecolor=_INK))
        figure.add_artist(_leader(place, _LINE + 0.075, label, _LINE + 0.115))
        _text(figure, label, _LINE + 0.165, f"{volts_text(volt)} V", size=24, color=_INK, va="bottom", ha="center")
        _text(figure, label, _LINE + 0.12, name, size=min(16, 16 * 14 / len(name)), color=_SOFT, va="bottom", ha="center")


def _bar(left: float, bottom: float, width: float, height: float, **look) -> Rectangle:
    from matplotlib.patches import Rectangle

    return Rectangle((left, bottom), width, height, **look)


def _leader(x: float, y: float, to_x: float, to_y: float) -> Line2D:
    from matplotlib.lines import Line2D

    return Line2D((x, to_x), (y, to_y), color=_INK, linewidth=1)


def _place(volts: float, axis: Axis) -> float:
    return _LEFT + (_RIGHT - _LEFT) * axis.place(volts) / 100


def label_places(places: Sequence[float]) -> list[float]:
    """Return where the labels of ascending marks stand, none over another, as shares of the width."""
    edge = _LABEL_PX / 2
    moved = spread([place * WIDTH_PX for place in places], _LABEL_PX, edge, WIDTH_PX - edge)
    return [place / WIDTH_PX for place in moved]
