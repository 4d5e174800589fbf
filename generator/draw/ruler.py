"""The voltage ruler: empty, storage, nominal and full on one axis that is the same for every chemistry.

Horizontal places are percentages of the drawing's width and vertical ones are pixels, so that one drawing is sharp
and its lettering one size on a phone and on a desk. Looks come from the style sheet: there are classes, no styles.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from html import escape

from generator.draw.axis import CELL_AXIS, Axis, axis_for, volts_text
from generator.draw.spread import spread


@dataclass(frozen=True, slots=True)
class RulerRow:
    """Voltages of one cell or pack [V]; None where there is no such figure. ``href`` makes the name a link."""

    name: str
    empty_v: float | None
    storage_v: float | None
    nominal_v: float
    full_v: float | None
    href: str | None = None


LABEL_GAP = 16.0  # percent: 46 px of a 288 px column, the width of the longest label
_LABEL_EDGE = 7.5
_NARROW_PX = 320  # the column of a small phone, for which names are fitted
_CHARACTER_PX = 7.0
_NUMBER_PX = 42
_ROW_PX = 42


def pack_axis(rows: Iterable[RulerRow]) -> Axis:
    """Return an axis for packs that holds every row with room on either side."""
    return axis_for(volts for row in rows for _, volts in _named(row))


def ruler_svg(rows: Sequence[RulerRow], *, id: str, title: str, axis: Axis = CELL_AXIS) -> str:
    """Return inline SVG: one row as a fully labelled ruler, several as aligned rows with names.

    ``id`` must be unique in the page; ``title`` is the accessible name, and the numbers in words its description.
    Raises ValueError when there is no row.
    """
    if not rows:
        raise ValueError("a ruler needs at least one row")
    if len(rows) == 1:
        height, body = _SINGLE_PX, _single(rows[0], axis, id)
    else:
        height, body = _HEAD_PX + _ROW_PX * len(rows) + 4, _several(rows, axis, id)
    role = "group" if any(row.href for row in rows) else "img"
    return "\n".join(
        (
            f'<svg class="ruler" width="100%" height="{height}" role="{role}" aria-labelledby="{id}-t {id}-d">',
            f'<title id="{id}-t">{escape(title)}</title>',
            f'<desc id="{id}-d">{escape(" ".join(map(in_words, rows)))}</desc>',
            f'<defs><pattern id="{id}-h" width="5" height="5" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">'
            '<line class="ruler-hatch" x1="0" y1="0" x2="0" y2="5"/></pattern></defs>',
            *body,
            "</svg>",
        )
    )


def in_words(row: RulerRow) -> str:
    """Return the row's numbers as a sentence."""
    return f"{row.name}: " + ", ".join(f"{word} {volts_text(volts)} V" for word, volts in _named(row)) + "."


def _named(row: RulerRow) -> list[tuple[str, float]]:
    named = (("empty", row.empty_v), ("storage", row.storage_v), ("nominal", row.nominal_v), ("full", row.full_v))
    return [(name, volts) for name, volts in named if volts is not None]


# One cell, everything named ------------------------------------------------------------------------------------

_SINGLE_PX = 116
_TOP, _BOTTOM = 38, 62


def _single(row: RulerRow, axis: Axis, id: str) -> list[str]:
    return [
        *_zone_names(row.empty_v, row.full_v),
        *_band(row, axis, id),
        *_scale(axis, 31, _TOP),
        *_labels(row, axis),
    ]


def _zone_names(empty_v: float | None, full_v: float | None) -> list[str]:
    left = '<text class="ruler-zone" x="0" y="12">\u2190 over-discharge</text>'
    right = '<text class="ruler-zone end" x="100%" y="12">over-charge \u2192</text>'
    return [text for text, volts in ((left, empty_v), (right, full_v)) if volts is not None]


def _band(row: RulerRow, axis: Axis, id: str) -> list[str]:
    left, right = _ends(row, axis)
    high = _BOTTOM - _TOP
    return [
        _box("ruler-band", 0, 100, _TOP, high),
        *_beyond(row, axis, id, _TOP, high),
        _box("ruler-use", left, right, _TOP, high),
    ]


def _beyond(row: RulerRow, axis: Axis, id: str, y: int, high: int) -> list[str]:
    fill = f' fill="url(#{id}-h)"'
    left = [] if row.empty_v is None else [_box("ruler-over", 0, axis.place(row.empty_v), y, high, fill)]
    right = [] if row.full_v is None else [_box("ruler-over", axis.place(row.full_v), 100, y, high, fill)]
    return left + right


def _ends(row: RulerRow, axis: Axis) -> tuple[float, float]:
    low = row.empty_v if row.empty_v is not None else row.nominal_v
    high = row.full_v if row.full_v is not None else row.nominal_v
    return axis.place(low), axis.place(high)


def _box(kind: str, left: float, right: float, y: int, high: int, more: str = "") -> str:
    return f'<rect class="{kind}" x="{left:g}%" width="{round(right - left, 2):g}%" y="{y}" height="{high}"{more}/>'


def _scale(axis: Axis, text_y: int, top: int) -> list[str]:
    lengths = {v: 4 for v in axis.ticks(axis.minor_v)}
    lengths |= {v: 7 for v in axis.ticks(axis.minor_v * 5)} | {v: 10 for v in axis.ticks(axis.major_v)}
    ticks = [_upright("ruler-tick", axis.place(v), top, top + long) for v, long in sorted(lengths.items())]
    return ticks + [_number(axis, v, text_y) for v in axis.ticks(axis.major_v)]


def _number(axis: Axis, volts: float, y: int) -> str:
    place = axis.place(volts)
    side = " end" if place > 97 else " start" if place < 3 else ""
    return f'<text class="ruler-scale{side}" x="{place:g}%" y="{y}">{volts:g} V</text>'


def _upright(kind: str, place: float, top: int, bottom: int) -> str:
    return f'<line class="{kind}" x1="{place:g}%" x2="{place:g}%" y1="{top}" y2="{bottom}"/>'


def _labels(row: RulerRow, axis: Axis) -> list[str]:
    marks = sorted((axis.place(volts), name, volts) for name, volts in _named(row))
    places = spread([mark[0] for mark in marks], LABEL_GAP, _LABEL_EDGE, 100 - _LABEL_EDGE)
    parts = []
    for (place, name, volts), at in zip(marks, places, strict=True):
        parts += [
            _upright(f"ruler-mark {name}", place, _TOP - 3, _BOTTOM + 5),
            f'<line class="ruler-leader" x1="{place:g}%" y1="{_BOTTOM + 5}" x2="{at:g}%" y2="{_BOTTOM + 18}"/>',
            f'<text class="ruler-name" x="{at:g}%" y="{_BOTTOM + 31}">{name}</text>',
            f'<text class="ruler-volts" x="{at:g}%" y="{_BOTTOM + 48}">{volts_text(volts)} V</text>',
        ]
    return parts


# Several, one below the other ----------------------------------------------------------------------------------

_HEAD_PX = 46


def _several(rows: Sequence[RulerRow], axis: Axis, id: str) -> list[str]:
    bottom = _HEAD_PX + _ROW_PX * len(rows)
    grid = [_upright("ruler-grid", axis.place(v), _HEAD_PX - 4, bottom) for v in axis.ticks(axis.major_v)]
    parts = [*_zone_names(1, 1), *grid, *_scale(axis, 28, 32)]
    for index, row in enumerate(rows):
        parts += _row(row, axis, id, _HEAD_PX + index * _ROW_PX)
    return parts


def _row(row: RulerRow, axis: Axis, id: str, y: int) -> list[str]:
    left, right = _ends(row, axis)
    nominal = axis.place(row.nominal_v)
    parts = [
        *_beyond(row, axis, id, y + 32, 5),
        _box("ruler-use", left, right, y + 20, 17),
        f'<text class="ruler-nominal" x="{nominal:g}%" y="{y + 15}">{volts_text(row.nominal_v)}</text>',
        _upright("ruler-mark nominal", nominal, y + 17, y + 37),
    ]
    if row.storage_v is not None:
        parts.append(_upright("ruler-mark storage", axis.place(row.storage_v), y + 20, y + 37))
    if row.empty_v is not None:
        parts.append(_end_text("end", left, -5, y, volts_text(row.empty_v)))
    if row.full_v is not None:
        parts.append(_end_text("start", right, 5, y, volts_text(row.full_v)))
    return [*parts, _row_name(row, axis, left, right, y)]


def _end_text(side: str, place: float, shift: int, y: int, text: str) -> str:
    return f'<text class="ruler-end {side}" x="{place:g}%" dx="{shift}" y="{y + 29}">{text}</text>'


def _row_name(row: RulerRow, axis: Axis, left: float, right: float, y: int) -> str:
    """Return the name on the emptier side of the bar where it fits on a phone; else above the bar, off the nominal."""
    side, at, free = ("start", "0", left) if left >= 100 - right else ("end", "100%", 100 - right)
    line = 29
    if len(row.name) * _CHARACTER_PX > _NARROW_PX * free / 100 - _NUMBER_PX:
        side, at = ("start", "0") if axis.place(row.nominal_v) > 50 else ("end", "100%")
        line = 14
    text = f'<text class="ruler-row {side}" x="{at}" y="{y + line}">{escape(row.name)}</text>'
    return f'<a href="{escape(row.href)}">{text}</a>' if row.href else text
