"""Chemistries compared by ranges: bars on one axis.

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
NARROW_PX = 300  # the column of a small phone, for which labels are fitted
LETTER_PX = 6.4


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


def short(figure: float) -> str:
    """Return a number with at most three figures, two below one: 0.083, 4.2, 269, 25 000."""
    if figure == 0:
        return "0"
    places = (2 if abs(figure) >= 1 else 1) - math.floor(math.log10(abs(figure)))
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
    return svg_of(parts, bottom + 4, id, title, desc, linked=any(row.href for row in rows))


def svg_of(parts: Sequence[str], height: int, id: str, title: str, desc: str, *, linked: bool) -> str:
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
    if (100 - right) * NARROW_PX / 100 - 8 >= len(text) * LETTER_PX:
        return f'<text class="ruler-end start" x="{right:g}%" dx="8" y="{y + 14}">{text}</text>'
    if (left - _NAME_PERCENT) * NARROW_PX / 100 - 8 >= len(text) * LETTER_PX:
        return f'<text class="ruler-end end" x="{left:g}%" dx="-8" y="{y + 14}">{text}</text>'
    return f'<text class="ruler-end range-in" x="{(left + right) / 2:g}%" y="{y + 14}">{text}</text>'
