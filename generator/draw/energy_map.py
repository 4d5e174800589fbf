"""Energy by weight against energy by volume: a box for each chemistry, its name beside it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from html import escape

from generator.draw.comparison import LETTER_PX, NARROW_PX, Bar, Scale, in_words, short, svg_of

_MAP_PX, _MAP_TOP, _MAP_LEFT, _MAP_RIGHT = 420, 24, 9.0, 96.0


@dataclass(frozen=True, slots=True)
class Box:
    """A chemistry on the map of energies: [Wh/L] across, [Wh/kg] upwards."""

    name: str
    across: Bar
    upwards: Bar
    href: str | None = None


def map_svg(boxes: Sequence[Box], across: Scale, upwards: Scale, *, id: str, title: str) -> str:
    """Return inline SVG of boxes with labels that keep clear of one another. Raises ValueError when there is no box."""
    if not boxes:
        raise ValueError("a map needs at least one box")
    parts = [*_map_grid(across, upwards)]
    drawn = [_rectangle(box, across, upwards) for box in boxes]
    parts += [_box_shape(box, place) for box, place in zip(boxes, drawn, strict=True)]
    parts += _box_labels(boxes, drawn)
    desc = " ".join(f"{b.name}: {in_words(b.upwards, upwards.unit)}, {in_words(b.across, across.unit)}." for b in boxes)
    return svg_of(parts, _MAP_PX + 44, id, title, desc, linked=any(box.href for box in boxes))


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
    """Names beside their boxes, each where it meets no name set before it; crowded boxes are named first.

    When the drawing is full the rest go without, and a line says how many.
    """
    taken: list[Spot] = []
    shapes = [_pixels(place) for place in drawn]
    leaders, names = [], []
    for index in sorted(range(len(boxes)), key=lambda i: (-_crowd(i, shapes), i)):
        spot = _spot(boxes[index].name, shapes[index], taken, shapes)
        if spot:
            taken.append(spot)
            leaders += _leader(spot, shapes[index])
            names.append(_label(boxes[index], spot))
    unnamed = len(boxes) - len(names)
    full = [f'<text class="ruler-scale start" x="0" y="{_MAP_PX + 34}">no room for {unnamed} more name{"s" * (unnamed > 1)}</text>'] if unnamed else []
    return [*leaders, *names, *full]


@dataclass(frozen=True, slots=True)
class Spot:
    """Where a name stands on a small phone [px], and how it is anchored to ``at`` [px]: start, middle or end.

    Anchored to its box, a name stays beside it while the drawing grows; names that are clear of one another on the
    narrowest screen then only move apart.
    """

    left: float
    right: float
    top: float
    bottom: float
    at: float
    anchor: str

    @property
    def edges(self) -> tuple[float, float, float, float]:
        return self.left, self.right, self.top, self.bottom


def _pixels(place: tuple[float, float, float, float]) -> tuple[float, float, float, float]:
    left, right, top, bottom = place
    return left * NARROW_PX / 100, right * NARROW_PX / 100, top, bottom


def _crowd(index: int, shapes) -> int:
    return sum(_meets(_grown(shapes[index], 30), other) for place, other in enumerate(shapes) if place != index)


def _grown(shape, by: float):
    left, right, top, bottom = shape
    return left - by, right + by, top - by, bottom + by


def _meets(a, b) -> bool:
    return a[0] < b[1] and b[0] < a[1] and a[2] < b[3] and b[2] < a[3]


_GAP_PX, _TEXT_PX, _STEP_PX = 6, 13.0, 6


def _tries(name: str, shape) -> Iterator[Spot]:
    """Spots above, right, left and below the shape, then farther and farther up and down."""
    left, right, top, bottom = shape
    wide, middle, level = len(name) * LETTER_PX, (left + right) / 2, (top + bottom - _TEXT_PX) / 2
    for step in range(0, _MAP_PX, _STEP_PX):
        for y in (top - _TEXT_PX - 3 - step, bottom + 4 + step):
            yield Spot(middle - wide / 2, middle + wide / 2, y, y + _TEXT_PX, middle, "middle")
        for y in (level - step, level + step):
            yield Spot(right + _GAP_PX, right + _GAP_PX + wide, y, y + _TEXT_PX, right, "start")
            yield Spot(left - _GAP_PX - wide, left - _GAP_PX, y, y + _TEXT_PX, left, "end")


def _spot(name: str, shape, taken: Sequence[Spot], shapes) -> Spot | None:
    """The spot inside the drawing and clear of other names that lies nearest to the shape and over fewest others, if any."""
    edge = _MAP_LEFT * NARROW_PX / 100
    inside = [s for s in _tries(name, shape) if s.left >= edge and s.right <= NARROW_PX and s.top >= _MAP_TOP and s.bottom <= _MAP_PX]
    clear = [s for s in inside if not any(_meets(_grown(s.edges, 1), other.edges) for other in taken)]
    return min(clear, key=lambda s: sum(_meets(s.edges, other) for other in shapes) * 18 + _distance(s, shape), default=None)


def _distance(spot: Spot, shape) -> float:
    across = max(shape[0] - spot.right, spot.left - shape[1], 0)
    upright = max(shape[2] - spot.bottom, spot.top - shape[3], 0)
    return across + upright


def _leader(spot: Spot, shape) -> list[str]:
    """A hairline from a name to the middle of its box, where the name could not stand beside it."""
    if _distance(spot, shape) <= _GAP_PX + 1:
        return []
    x1, y1 = spot.at * 100 / NARROW_PX, (spot.top + spot.bottom) / 2
    x2, y2 = (shape[0] + shape[1]) / 2 * 100 / NARROW_PX, (shape[2] + shape[3]) / 2
    return [f'<line class="ruler-leader" x1="{x1:.2f}%" x2="{x2:.2f}%" y1="{y1:.1f}" y2="{y2:.1f}"/>']


def _label(box: Box, spot: Spot) -> str:
    shift = {"start": f' dx="{_GAP_PX}"', "middle": "", "end": f' dx="{-_GAP_PX}"'}[spot.anchor]
    text = f'<text class="ruler-row range-name {spot.anchor}" x="{spot.at * 100 / NARROW_PX:.2f}%"{shift} y="{spot.bottom - 3:.1f}">{escape(box.name)}</text>'
    return f'<a href="{escape(box.href)}">{text}</a>' if box.href else text
