"""Chemistries compared by ranges: bars on one axis, and energy by weight against energy by volume as boxes.

As with the ruler, horizontal places are percentages and vertical ones pixels, so that the lettering keeps its size on a
phone; looks come from the style sheet.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from html import escape

_NAME_PERCENT, _RIGHT_PERCENT = 38.0, 97.0
_HEAD_PX, _ROW_PX, _BAR_PX = 26, 23, 11
_NARROW_PX = 300  # the column of a small phone, for which labels are fitted
_LETTER_PX = 6.4


@dataclass(frozen=True, slots=True)
class Scale:
    """An axis from ``low`` to ``high``, numbered at ``ticks``; logarithmic where figures differ by decades."""

    low: float
    high: float
    ticks: tuple[float, ...]
    unit: str
    log: bool = True

    def share(self, figure: float) -> float:
        """Return where a figure stands, 0 to 1, held inside the axis."""
        low, high, at = (math.log10(n) if self.log else n for n in (self.low, self.high, max(figure, self.low)))
        return min(max((at - low) / (high - low), 0.0), 1.0)


@dataclass(frozen=True, slots=True)
class Bar:
    """One range; ``open_low`` and ``open_high`` where a source says only "at most" or "at least"; ``recalled`` from memory."""

    low: float
    high: float
    open_low: bool = False
    open_high: bool = False
    recalled: bool = False


@dataclass(frozen=True, slots=True)
class BarRow:
    """The bars of one chemistry: one, or two for windows of two kinds, the first drawn full and the second outlined."""

    name: str
    bars: tuple[Bar, ...]
    href: str | None = None


@dataclass(frozen=True, slots=True)
class Box:
    """A chemistry on the map of energies: [Wh/L] across, [Wh/kg] upwards."""

    name: str
    across: Bar
    upwards: Bar
    href: str | None = None


def short(figure: float) -> str:
    """Return a number with at most three figures: 0.083, 4.2, 269, 25 000."""
    if figure == 0:
        return "0"
    places = 2 - math.floor(math.log10(abs(figure)))
    rounded = round(figure, places)
    text = f"{rounded:.{max(places, 0)}f}"
    text = text.rstrip("0").rstrip(".") if "." in text else text
    text = f"{int(text):,}".replace(",", "\u202f") if abs(rounded) >= 10000 else text
    return text.replace("-", "\u2212")


def in_words(bar: Bar, unit: str) -> str:
    """Return a range as readers read it: "2 to 10 %", "at most 3 %", "600 cycles"."""
    if bar.low == bar.high:
        before = "at most " if bar.open_low else "at least " if bar.open_high else ""
        return f"{before}{short(bar.low)} {unit}".strip()
    return f"{short(bar.low)} to {short(bar.high)} {unit}".strip()


def bars_svg(rows: Sequence[BarRow], scale: Scale, *, id: str, title: str) -> str:
    """Return inline SVG of aligned bars. Raises ValueError when there is no row."""
    if not rows:
        raise ValueError("a comparison needs at least one row")
    bottom = _HEAD_PX + _ROW_PX * len(rows)
    parts = [part for tick in scale.ticks for part in _tick(scale, tick, bottom)]
    for index, row in enumerate(rows):
        parts += _bar_row(row, scale, _HEAD_PX + index * _ROW_PX)
    desc = " ".join(f"{row.name}: {', '.join(in_words(bar, scale.unit) for bar in row.bars)}." for row in rows)
    return _svg(parts, bottom + 4, id, title, desc, linked=any(row.href for row in rows))


def _svg(parts: Sequence[str], height: int, id: str, title: str, desc: str, *, linked: bool) -> str:
    return "\n".join(
        (
            f'<svg class="ruler ranges" width="100%" height="{height}" role="{"group" if linked else "img"}" aria-labelledby="{id}-t {id}-d">',
            f'<title id="{id}-t">{escape(title)}</title>',
            f'<desc id="{id}-d">{escape(desc)}</desc>',
            *parts,
            "</svg>",
        )
    )


def _place(scale: Scale, figure: float) -> float:
    return round(_NAME_PERCENT + (_RIGHT_PERCENT - _NAME_PERCENT) * scale.share(figure), 2)


def _tick(scale: Scale, figure: float, bottom: int) -> list[str]:
    at = _place(scale, figure)
    return [
        f'<line class="ruler-grid" x1="{at:g}%" x2="{at:g}%" y1="{_HEAD_PX - 6}" y2="{bottom}"/>',
        f'<text class="ruler-scale" x="{at:g}%" y="14">{short(figure)}</text>',
    ]


def _bar_row(row: BarRow, scale: Scale, y: int) -> list[str]:
    parts = [_name(row, y)]
    for index, bar in enumerate(row.bars):
        parts += _bar(bar, scale, y, outlined=index > 0)
    if len(row.bars) == 1:
        parts.append(_numbers(row.bars[0], scale, y))
    return parts


def _name(row: BarRow, y: int) -> str:
    text = f'<text class="ruler-row start" x="0" y="{y + 14}">{escape(row.name)}</text>'
    return f'<a href="{escape(row.href)}">{text}</a>' if row.href else text


def _bar(bar: Bar, scale: Scale, y: int, *, outlined: bool) -> list[str]:
    left, right = _place(scale, bar.low), _place(scale, bar.high)
    kind = "range-second" if outlined else "range-memory" if bar.recalled else "ruler-use"
    top, high = (y + 1, _BAR_PX + 8) if outlined else (y + 5, _BAR_PX)
    if right - left < 1.0:  # a point: a lozenge of its own, for a bar this thin is not seen
        middle = (left + right) / 2
        return [f'<circle class="{kind}" cx="{middle:g}%" cy="{y + 5 + _BAR_PX / 2:g}" r="5"/>']
    return [f'<rect class="{kind}" x="{left:g}%" width="{round(right - left, 2):g}%" y="{top}" height="{high}"/>']


def _numbers(bar: Bar, scale: Scale, y: int) -> str:
    text = in_words(bar, "")
    left, right = _place(scale, bar.low), _place(scale, bar.high)
    if (100 - right) * _NARROW_PX / 100 - 8 >= len(text) * _LETTER_PX:
        return f'<text class="ruler-end start" x="{right:g}%" dx="8" y="{y + 14}">{text}</text>'
    if (left - _NAME_PERCENT) * _NARROW_PX / 100 - 8 >= len(text) * _LETTER_PX:
        return f'<text class="ruler-end end" x="{left:g}%" dx="-8" y="{y + 14}">{text}</text>'
    return f'<text class="ruler-end range-in" x="{(left + right) / 2:g}%" y="{y + 14}">{text}</text>'


# Energy by weight against energy by volume ------------------------------------------------------------------------

_MAP_PX, _MAP_TOP, _MAP_LEFT, _MAP_RIGHT = 420, 24, 9.0, 96.0


def map_svg(boxes: Sequence[Box], across: Scale, upwards: Scale, *, id: str, title: str) -> str:
    """Return inline SVG of boxes with labels that keep clear of one another. Raises ValueError when there is no box."""
    if not boxes:
        raise ValueError("a map needs at least one box")
    parts = [*_map_grid(across, upwards)]
    drawn = [_rectangle(box, across, upwards) for box in boxes]
    parts += [_box_shape(box, place) for box, place in zip(boxes, drawn, strict=True)]
    parts += _box_labels(boxes, drawn)
    desc = " ".join(f"{b.name}: {in_words(b.upwards, upwards.unit)}, {in_words(b.across, across.unit)}." for b in boxes)
    return _svg(parts, _MAP_PX + 44, id, title, desc, linked=any(box.href for box in boxes))


def _map_x(scale: Scale, figure: float) -> float:
    return round(_MAP_LEFT + (_MAP_RIGHT - _MAP_LEFT) * scale.share(figure), 2)


def _map_y(scale: Scale, figure: float) -> float:
    return round(_MAP_TOP + (_MAP_PX - _MAP_TOP) * (1 - scale.share(figure)), 1)


def _map_grid(across: Scale, upwards: Scale) -> list[str]:
    parts = [f'<text class="ruler-scale start" x="0" y="12">{upwards.unit}</text>']
    for tick in across.ticks:
        x = _map_x(across, tick)
        parts.append(f'<line class="ruler-grid" x1="{x:g}%" x2="{x:g}%" y1="{_MAP_TOP}" y2="{_MAP_PX}"/>')
        parts.append(f'<text class="ruler-scale" x="{x:g}%" y="{_MAP_PX + 16}">{short(tick)}</text>')
    for tick in upwards.ticks:
        y = _map_y(upwards, tick)
        parts.append(f'<line class="ruler-grid" x1="{_MAP_LEFT:g}%" x2="100%" y1="{y:g}" y2="{y:g}"/>')
        parts.append(f'<text class="ruler-scale start" x="0" y="{y + 4:g}">{short(tick)}</text>')
    return [*parts, f'<text class="ruler-scale end" x="100%" y="{_MAP_PX + 34}">{across.unit}</text>']


def _rectangle(box: Box, across: Scale, upwards: Scale) -> tuple[float, float, float, float]:
    """Left and right [percent], top and bottom [px]."""
    left, right = _map_x(across, box.across.low), _map_x(across, box.across.high)
    return left, right, _map_y(upwards, box.upwards.high), _map_y(upwards, box.upwards.low)


def _box_shape(box: Box, place: tuple[float, float, float, float]) -> str:
    left, right, top, bottom = place
    kind = "range-memory" if box.across.recalled or box.upwards.recalled else "ruler-use range-box"
    if right - left < 1.0 and bottom - top < 4:
        return f'<circle class="{kind}" cx="{(left + right) / 2:g}%" cy="{(top + bottom) / 2:g}" r="5"/>'
    # A range in one direction only stays visible: never thinner than a hairline would hide.
    wide, high = max(right - left, 1.2), max(bottom - top, 5.0)
    x, y = (left + right - wide) / 2, (top + bottom - high) / 2
    return f'<rect class="{kind}" x="{x:.2f}%" width="{wide:.2f}%" y="{y:.1f}" height="{high:.1f}"/>'


def _box_labels(boxes: Sequence[Box], drawn: Sequence[tuple[float, float, float, float]]) -> list[str]:
    """Names beside their boxes, each where it meets no name set before it; crowded boxes are named first."""
    taken: list[tuple[float, float, float, float]] = []
    shapes = [_pixels(place) for place in drawn]
    parts = []
    for index in sorted(range(len(boxes)), key=lambda i: (-_crowd(i, shapes), i)):
        spot = _spot(boxes[index].name, shapes[index], taken, shapes)
        taken.append(spot)
        parts.append(_label(boxes[index], spot))
    return parts


def _pixels(place: tuple[float, float, float, float]) -> tuple[float, float, float, float]:
    left, right, top, bottom = place
    return left * _NARROW_PX / 100, right * _NARROW_PX / 100, top, bottom


def _crowd(index: int, shapes) -> int:
    return sum(_meets(_grown(shapes[index], 30), other) for place, other in enumerate(shapes) if place != index)


def _grown(shape, by: float):
    left, right, top, bottom = shape
    return left - by, right + by, top - by, bottom + by


def _meets(a, b) -> bool:
    return a[0] < b[1] and b[0] < a[1] and a[2] < b[3] and b[2] < a[3]


def _spot(name: str, shape, taken, shapes):
    """The first place around the shape that is inside the drawing and clear of other names; of those, the one over fewest shapes."""
    left, right, top, bottom = shape
    wide, high, middle = len(name) * _LETTER_PX, 13.0, (left + right) / 2
    tries = []
    for step in range(0, 90, 6):
        for x, y in (
            (middle - wide / 2, top - high - 3 - step), (right + 6, (top + bottom - high) / 2 + step), (right + 6, (top + bottom - high) / 2 - step),
            (left - wide - 6, (top + bottom - high) / 2 - step), (left - wide - 6, (top + bottom - high) / 2 + step), (middle - wide / 2, bottom + 4 + step),
        ):  # fmt: skip
            tries.append((x, x + wide, y, y + high))
    inside = [t for t in tries if t[0] >= _MAP_LEFT * _NARROW_PX / 100 and t[1] <= _NARROW_PX and t[2] >= _MAP_TOP and t[3] <= _MAP_PX]
    clear = [t for t in inside if not any(_meets(_grown(t, 1), other) for other in taken)]
    if not clear:
        raise ValueError(f"no room for the name {name}")
    return min(clear, key=lambda t: (sum(_meets(t, s) for s in shapes) * 18 + _distance(t, shape)))


def _distance(spot, shape) -> float:
    across = max(shape[0] - spot[1], spot[0] - shape[1], 0)
    upright = max(shape[2] - spot[3], spot[2] - shape[3], 0)
    return across + upright


def _label(box: Box, spot) -> str:
    # The name keeps its width while the drawing grows: anchored at its middle it stays over the same spot.
    x, y = (spot[0] + spot[1]) / 2 * 100 / _NARROW_PX, spot[3] - 3
    text = f'<text class="ruler-row range-name" x="{x:.2f}%" y="{y:.1f}">{escape(box.name)}</text>'
    return f'<a href="{escape(box.href)}">{text}</a>' if box.href else text
