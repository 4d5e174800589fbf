"""The plot of strings without balancing: usable capacity over two years, one line a case."""

from __future__ import annotations

from collections.abc import Sequence

from markupsafe import Markup, escape

from generator.compute.building import PLOT_DAYS, Case
from generator.draw.spread import spread

WIDTH, HEIGHT = 430, 330
LEFT, RIGHT, TOP, BOTTOM = 28, 96, 26, 42
TOP_AH = 5.0
DASHES = 5
# Heights at which falling lines are named, the slowest highest, so that names and lines keep apart.
_SHARES = (0.4, 0.12, 0.26)


def string_svg(cases: Sequence[tuple[Case, str]], id: str) -> Markup:
    """Return the plot as SVG for a page; ``cases`` with the short name of each line. The script draws its own line in it."""
    parts = [*_frame(), *(line for k, (case, _) in enumerate(cases) for line in _line(case, k)), *_names(cases)]
    parts.append(f'<path class="own" id="{id}-own" d=""/>')
    text = "; ".join(f"{name}: {case.usable_ah[0]:.2f} Ah at first, {case.usable_ah[-1]:.2f} Ah after two years" for case, name in cases)
    title = f'<title id="{id}-title">Usable capacity of five cells in series over two years. {escape(text)}.</title>'
    # The width and height keep the room before the style sheet is there.
    head = f'<svg class="string-plot" role="img" aria-labelledby="{id}-title" viewBox="0 0 {WIDTH} {HEIGHT}" width="{WIDTH}" height="{HEIGHT}">'
    return Markup("\n".join((head, title, *parts, "</svg>")))


def x_of(day: float) -> float:
    """Place of a day on the plot."""
    return round(LEFT + (WIDTH - LEFT - RIGHT) * day / PLOT_DAYS[-1], 1)


def y_of(ah: float) -> float:
    """Place of a capacity on the plot."""
    return round(HEIGHT - BOTTOM - (HEIGHT - TOP - BOTTOM) * ah / TOP_AH, 1)


def _frame() -> list[str]:
    left, right = x_of(0), x_of(PLOT_DAYS[-1])
    parts = [f'<text x="0" y="{TOP - 12}">usable Ah</text>']
    for ah in range(int(TOP_AH) + 1):
        parts.append(f'<line class="{"grid" if ah else "axis"}" x1="{left}" x2="{right}" y1="{y_of(ah)}" y2="{y_of(ah)}"/>')
        parts.append(f'<text class="end" x="{left - 6}" y="{y_of(ah) + 4}">{ah}</text>')
    for months in (0, 6, 12, 18, 24):
        x = x_of(months / 24 * PLOT_DAYS[-1])
        parts.append(f'<text class="middle" x="{x}" y="{HEIGHT - BOTTOM + 16}">{months}</text>')
    parts.append(f'<text class="middle" x="{(left + right) / 2:g}" y="{HEIGHT - 8}">months after balancing</text>')
    return parts


def _line(case: Case, number: int) -> list[str]:
    # Straight between the corners: only points where the slope changes are written.
    points = list(zip(PLOT_DAYS, case.plotted_ah, strict=True))
    kept = [p for k, p in enumerate(points) if k in (0, len(points) - 1) or _bends(points[k - 1], p, points[k + 1])]
    path = "L".join(f"{x_of(day)} {y_of(ah)}" for day, ah in kept)
    return [f'<path class="case dash-{number % DASHES}" d="M{path}"/>']


def _bends(before: tuple[float, float], here: tuple[float, float], after: tuple[float, float]) -> bool:
    return abs((here[1] - before[1]) - (after[1] - here[1])) > 1e-3


def _names(cases: Sequence[tuple[Case, str]]) -> list[str]:
    """Names of level lines at the right, pushed apart; of lines that reach nothing beside their slope."""
    level = sorted((item for item in cases if item[0].plotted_ah[-1] > 0), key=lambda item: -item[0].plotted_ah[-1])
    places = spread([y_of(case.plotted_ah[-1]) for case, _ in level], 16, TOP, HEIGHT - BOTTOM)
    right = x_of(PLOT_DAYS[-1]) + 6
    spots = [(right, y + 4, name) for (_, name), y in zip(level, places, strict=True)]
    falling = sorted((item for item in cases if item[0].plotted_ah[-1] <= 0), key=lambda item: -sum(item[0].plotted_ah))
    spots += [(*_beside(case, share), name) for (case, name), share in zip(falling, _SHARES, strict=False)]
    return [f'<text class="name" x="{x:g}" y="{y:g}">{escape(name)}</text>' for x, y, name in spots]


def _beside(case: Case, share: float) -> tuple[float, float]:
    """Where a falling line has that share of its start, a little to the right."""
    day = next(day for day, ah in zip(PLOT_DAYS, case.plotted_ah, strict=True) if ah <= share * case.plotted_ah[0])
    return x_of(day) + 6, y_of(share * case.plotted_ah[0])
