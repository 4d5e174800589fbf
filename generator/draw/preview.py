"""The picture a link to a chemistry shows elsewhere: its voltages on the almanac's ruler, 1200 x 630 PNG."""

from __future__ import annotations

import io
import json
from collections.abc import Sequence
from dataclasses import asdict, dataclass
from importlib.metadata import version
from pathlib import Path
from typing import TYPE_CHECKING

from generator.cache import Cache, code_digest, key_of
from generator.draw.ruler import CELL_AXIS, Axis
from generator.draw.spread import spread
from generator.model.subject import Subject

# Drawing takes matplotlib 0.3 s to load, so it is loaded only when a picture is not in the cache.
if TYPE_CHECKING:
    from matplotlib.figure import Figure
    from matplotlib.lines import Line2D
    from matplotlib.patches import Rectangle

WIDTH_PX, HEIGHT_PX, DPI = 1200, 630, 100
_PAPER, _INK, _SOFT, _USE, _HATCH = "#f8f3e8", "#211d18", "#5c5347", "#cfdcd6", "#a8503f"
_STYLE = {"font.family": "DejaVu Serif", "hatch.linewidth": 1.2, "text.parse_math": False}
# Left and right end of the ruler and its height, as shares of the picture.
_LEFT, _RIGHT, _LINE = 0.06, 0.94, 0.36
_LABEL_PX = 145


@dataclass(frozen=True, slots=True)
class Preview:
    """Everything the picture shows; ``marks`` are (name, volts), the same volts named together, lowest first."""

    short: str
    name: str
    marks: tuple[tuple[str, float], ...]
    empty_v: float | None
    full_v: float | None
    window: str


_MARKS = (
    ("empty", "discharge-cutoff-voltage"),
    ("storage", "storage-voltage"),
    ("nominal", "nominal-voltage"),
    ("full", "charge-voltage-max"),
    ("never above", "charge-voltage-absolute-max"),
)


def preview_of(subject: Subject) -> Preview:
    """Return what the picture of a chemistry shows."""
    volts: dict[float, list[str]] = {}
    for name, quantity in _MARKS:
        figure = subject.volts(quantity)
        if figure is not None:
            volts.setdefault(figure, []).append(name)
    marks = tuple((", ".join(names), volt) for volt, names in sorted(volts.items()))
    empty, full = subject.volts("discharge-cutoff-voltage"), subject.volts("charge-voltage-max")
    return Preview(subject.abbreviation, subject.name, marks, empty, full, _window(subject))


def _window(subject: Subject) -> str:
    figure = subject.figure("charge-temperature")
    if subject.rechargeable is False:
        return "Never charge: a primary cell"
    if figure is None or figure.min is None or figure.max is None:
        return ""
    return f"Charge only at {figure.min:g} to {figure.max:g} \u00b0C".replace("-", "\u2212")


def preview_png(preview: Preview, cache: Cache) -> bytes:
    """Return the picture; the same content gives the same bytes, and comes from the cache when it was drawn before."""
    key = key_of("preview", json.dumps(asdict(preview)), code_digest((Path(__file__).parent,)), version("matplotlib"))
    return cache.get_or_make(key, lambda: draw(preview))


def draw(preview: Preview, axis: Axis = CELL_AXIS) -> bytes:
    """Draw the picture."""
    import matplotlib
    from matplotlib.backends.backend_agg import FigureCanvasAgg
    from matplotlib.figure import Figure

    with matplotlib.rc_context(_STYLE):
        figure = Figure(figsize=(WIDTH_PX / DPI, HEIGHT_PX / DPI), dpi=DPI, facecolor=_PAPER)
        FigureCanvasAgg(figure)
        _words(figure, preview)
        _ruler(figure, preview, axis)
        out = io.BytesIO()
        figure.savefig(out, format="png", metadata={"Software": None})
    return out.getvalue()


def _words(figure: Figure, preview: Preview) -> None:
    size = 76 if len(preview.short) <= 10 else max(76 * 10 / len(preview.short), 30)
    figure.text(_LEFT, 0.93, preview.short, size=size, color=_INK, va="top", ha="left")
    if preview.name != preview.short:
        figure.text(_LEFT, 0.72, preview.name, size=min(27, 27 * 52 / max(len(preview.name), 1)), color=_SOFT, va="top", ha="left")
    figure.text(_LEFT, 0.17, preview.window, size=25, color=_INK, va="center", ha="left")
    figure.text(_LEFT, 0.065, "Cell Almanac", size=21, color=_INK, va="center", ha="left")
    figure.text(_RIGHT, 0.065, "every value with its source", size=21, color=_SOFT, va="center", ha="right", style="italic")
    figure.add_artist(_bar(_LEFT, 0.115, _RIGHT - _LEFT, 0.003, facecolor=_INK))


def _ruler(figure: Figure, preview: Preview, axis: Axis) -> None:
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
        figure.text(place, _LINE - 0.03, f"{volt:g} V", size=17, color=_SOFT, va="top", ha="center")
    places = [_place(volt, axis) for _, volt in preview.marks]
    for (name, volt), place, label in zip(preview.marks, places, label_places(places)):
        figure.add_artist(_bar(place - 0.0014, _LINE, 0.0028, 0.075, facecolor=_INK))
        figure.add_artist(_leader(place, _LINE + 0.075, label, _LINE + 0.115))
        figure.text(label, _LINE + 0.165, f"{volt:.2f} V", size=24, color=_INK, va="bottom", ha="center")
        figure.text(label, _LINE + 0.12, name, size=min(16, 16 * 14 / len(name)), color=_SOFT, va="bottom", ha="center")


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
