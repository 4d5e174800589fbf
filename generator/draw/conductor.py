"""Current that a conductor carries against its cross-section, one line a rise of temperature, as inline SVG."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from html import escape

from markupsafe import Markup

WIDTH, HEIGHT = 430, 300
LEFT, RIGHT, TOP, BOTTOM = 34, 86, 24, 42


@dataclass(frozen=True, slots=True)
class Curve:
    """One line: its name and its points (x, y)."""

    name: str
    points: tuple[tuple[float, float], ...]


def chart_svg(curves: Sequence[Curve], *, id: str, title: str, x_name: str, y_name: str, x_ticks: Sequence[float], y_ticks: Sequence[float]) -> Markup:
    """Return the chart; both axes start at 0 and end at their last tick. Names stand at the right ends of the lines."""
    parts = _frame(x_name, y_name, x_ticks, y_ticks)
    for number, curve in enumerate(curves):
        path = "L".join(f"{_x(x, x_ticks)} {_y(y, y_ticks)}" for x, y in curve.points)
        parts.append(f'<path class="case dash-{number % 5}" d="M{path}"/>')
    ends = _apart([_y(curve.points[-1][1], y_ticks) for curve in curves])
    parts += [f'<text x="{WIDTH - RIGHT + 6}" y="{y + 4:g}">{escape(curve.name)}</text>' for curve, y in zip(curves, ends, strict=True)]
    said = "; ".join(f"{c.name}: {c.points[0][1]:.3g} at {c.points[0][0]:g}, {c.points[-1][1]:.3g} at {c.points[-1][0]:g}" for c in curves)
    head = f'<svg class="string-plot" role="img" aria-labelledby="{id}-t" viewBox="0 0 {WIDTH} {HEIGHT}" width="{WIDTH}" height="{HEIGHT}">'
    return Markup("\n".join((head, f'<title id="{id}-t">{escape(title)}. {escape(said)}.</title>', *parts, "</svg>")))


def _x(x: float, ticks: Sequence[float]) -> float:
    return round(LEFT + (WIDTH - LEFT - RIGHT) * x / ticks[-1], 1)


def _y(y: float, ticks: Sequence[float]) -> float:
    return round(HEIGHT - BOTTOM - (HEIGHT - TOP - BOTTOM) * min(y / ticks[-1], 1.0), 1)


def _frame(x_name: str, y_name: str, x_ticks: Sequence[float], y_ticks: Sequence[float]) -> list[str]:
    left, right = LEFT, WIDTH - RIGHT
    parts = [f'<text x="0" y="{TOP - 10}">{escape(y_name)}</text>']
    for tick in y_ticks:
        y = _y(tick, y_ticks)
        parts.append(f'<line class="{"grid" if tick else "axis"}" x1="{left}" x2="{right}" y1="{y}" y2="{y}"/>')
        parts.append(f'<text class="end" x="{left - 6}" y="{y + 4:g}">{tick:g}</text>')
    for tick in x_ticks:
        parts.append(f'<text class="middle" x="{_x(tick, x_ticks)}" y="{HEIGHT - BOTTOM + 16}">{tick:g}</text>')
    parts.append(f'<text class="middle" x="{(left + right) / 2:g}" y="{HEIGHT - 8}">{escape(x_name)}</text>')
    return parts


def _apart(places: Sequence[float], gap: float = 16.0) -> list[float]:
    """The places moved apart, in their own order, so that names do not touch."""
    order = sorted(range(len(places)), key=lambda i: places[i])
    made, last = list(places), -math.inf
    for i in order:
        made[i] = last = max(places[i], last + gap)
    return made
