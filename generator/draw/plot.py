"""A plot as plain data, and how it is drawn: lines with labels of their own that never collide."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from generator.draw import style
from generator.draw.spread import spread

_LEFT, _RIGHT, _BOTTOM, _TOP = 40, 46, 46, 24  # margins in points
_FAN_PT = 34  # labels stand this far below the lowest end
_LETTER_PT = 6.6  # width of a letter, with slack for the reader's own font
_LINE_PT = 15


@dataclass(frozen=True, slots=True)
class Line:
    """One curve. ``tone`` picks colour and dash; None draws it in ink, dotted. ``stopped`` puts a cross at its end."""

    x: tuple[float, ...]
    y: tuple[float, ...]
    label: str
    tone: int | None
    stopped: bool = False
    points: bool = False


@dataclass(frozen=True, slots=True)
class Level:
    """A horizontal line, or a band from ``low`` to ``high``, with its name at the right edge."""

    low: float
    high: float
    label: str


@dataclass(frozen=True, slots=True)
class Plot:
    """Everything a figure shows. ``labels`` is where line names stand: fan (under the ends), right, or key."""

    lines: tuple[Line, ...]
    levels: tuple[Level, ...]
    x_name: str
    y_name: str
    x_range: tuple[float, float]
    y_range: tuple[float, float]
    x_ticks: tuple[float, ...]
    y_ticks: tuple[float, ...]
    labels: str
    rest_label: str | None = None
    right_pt: int = _RIGHT
    log_x: bool = False


def figure_of(plot: Plot):
    """Return the matplotlib figure of a plot, in the light palette."""
    import matplotlib
    from matplotlib.backends.backend_svg import FigureCanvasSVG
    from matplotlib.figure import Figure

    with matplotlib.rc_context(style.settings()):
        figure = Figure(figsize=(style.WIDTH_PT / 72, style.HEIGHT_PT / 72), dpi=72)
        FigureCanvasSVG(figure)
        axes = figure.add_axes(_box(plot))
        _frame(axes, plot)
        for level in plot.levels:
            _level(axes, level, plot)
        for line in plot.lines:
            _line(axes, line)
        _rest_label(axes, plot)
        _LABELS[plot.labels](axes, plot)
    return figure


def _box(plot: Plot) -> tuple[float, float, float, float]:
    wide, high = style.WIDTH_PT, style.HEIGHT_PT
    return _LEFT / wide, _BOTTOM / high, (wide - _LEFT - plot.right_pt) / wide, (high - _BOTTOM - _TOP) / high


def _frame(axes, plot: Plot) -> None:
    axes.set_xscale("log" if plot.log_x else "linear")
    axes.set(xlim=plot.x_range, ylim=plot.y_range)
    axes.set_xticks(plot.x_ticks, [f"{x:g}" for x in plot.x_ticks])
    axes.set_yticks(plot.y_ticks, [f"{y:.1f}".replace("-", "\u2212") for y in plot.y_ticks])
    axes.minorticks_off()
    axes.grid(axis="y", color=style.LIGHT["grid"], linewidth=0.7)
    axes.tick_params(length=3, width=0.7, color=style.LIGHT["soft"], labelcolor=style.LIGHT["soft"], labelsize=style.SMALL_PT)
    for side in ("top", "right"):
        axes.spines[side].set_visible(False)
    for side in ("left", "bottom"):
        axes.spines[side].set(color=style.LIGHT["soft"], linewidth=0.7)
    axes.set_xlabel(plot.x_name, color=style.LIGHT["soft"], fontsize=style.SMALL_PT)
    _write(axes, plot, -_LEFT + 4, axes_high(plot) + 9, plot.y_name, style.LIGHT["soft"], "left", style.SMALL_PT)


def axes_wide(plot: Plot) -> float:
    """Width of the plotted area in points."""
    return style.WIDTH_PT - _LEFT - plot.right_pt


def axes_high(plot: Plot) -> float:
    """Height of the plotted area in points."""
    return style.HEIGHT_PT - _BOTTOM - _TOP


def _x_pt(plot: Plot, axes, x: float) -> float:
    return (axes.transData.transform((x, plot.y_range[0]))[0]) - _LEFT


def _y_pt(plot: Plot, y: float) -> float:
    low, high = plot.y_range
    return (y - low) / (high - low) * axes_high(plot)


def _write(axes, plot: Plot, x_pt: float, y_pt: float, text: str, colour: str, side: str = "center", size: float = style.FONT_PT) -> None:
    at = (x_pt / axes_wide(plot), y_pt / axes_high(plot))
    axes.text(*at, text, transform=axes.transAxes, color=colour, ha=side, va="baseline", fontsize=size)


def _rule(axes, plot: Plot, start: tuple[float, float], end: tuple[float, float], colour: str, wide: float = 0.6, dashes="-") -> None:
    pairs = [(x / axes_wide(plot), y / axes_high(plot)) for x, y in (start, end)]
    axes.plot(*zip(*pairs), transform=axes.transAxes, color=colour, linewidth=wide, linestyle=dashes, clip_on=False, scalex=False, scaley=False, gid="rule")


def _level(axes, level: Level, plot: Plot) -> None:
    colour = style.LIGHT["mark"]
    for volts in {level.low, level.high}:
        axes.axhline(volts, color=colour, linewidth=0.9, gid="level")
    if level.high > level.low:
        axes.axhspan(level.low, level.high, color=colour, alpha=0.13, linewidth=0)
    words = level.label.split("\n")
    middle = _y_pt(plot, (level.low + level.high) / 2)
    for row, word in enumerate(words):
        y = middle - 4 + _LINE_PT * ((len(words) - 1) / 2 - row) * 0.9
        _write(axes, plot, axes_wide(plot) + 4, y, word, colour, "left", style.SMALL_PT)


def _line(axes, line: Line) -> None:
    colour, dashes, wide = _look(line)
    axes.plot(line.x, line.y, color=colour, linestyle=dashes, linewidth=wide, gid="curve", label=line.label)
    if line.points:
        axes.plot(line.x, line.y, linestyle="none", marker="o", markersize=3.5, color=colour, gid="points")
    if line.stopped:
        axes.plot(line.x[-1:], line.y[-1:], linestyle="none", marker="x", markersize=7, markeredgewidth=1.6, color=colour, gid="stop")


def _look(line: Line):
    if line.tone is None:
        return style.LIGHT["ink"], (0, (1, 1.8)), 1.3
    return style.line_colour(line.tone), style.line_dash(line.tone), 1.7


def _rest_label(axes, plot: Plot) -> None:
    """The name of the ink line above it, where it runs highest over its right half."""
    rest = next((line for line in plot.lines if line.tone is None), None)
    if rest is None or not plot.rest_label:
        return
    spot = min(range(len(rest.x)), key=lambda i: abs(rest.x[i] - 40))
    left = _x_pt(plot, axes, rest.x[spot])
    over = max(y for x, y in zip(rest.x, rest.y, strict=True) if x >= rest.x[spot] - 2)
    _write(axes, plot, left, _y_pt(plot, over) + 6, plot.rest_label, style.LIGHT["ink"], "left", style.SMALL_PT)


def _named(plot: Plot) -> list[Line]:
    return [line for line in plot.lines if line.tone is not None]


def _fan(axes, plot: Plot) -> None:
    """Names in a row below the ends of their lines, tied to them by hairlines that cannot cross: ends keep their order."""
    lines = sorted(_named(plot), key=lambda line: line.x[-1])
    if not lines:
        return
    ends = [(_x_pt(plot, axes, line.x[-1]), _y_pt(plot, line.y[-1])) for line in lines]
    row = max(min(y for _, y in ends) - _FAN_PT, 6.0)
    gap = max(len(line.label) for line in lines) * _LETTER_PT + 6
    places = spread([x for x, _ in ends], min(gap, axes_wide(plot) / max(len(lines), 1)), gap / 2, axes_wide(plot) + plot.right_pt - gap / 2)
    for line, (x, y), at in zip(lines, ends, places, strict=True):
        colour = _look(line)[0]
        _rule(axes, plot, (x, y - 2), (at, row + 12), colour)
        _write(axes, plot, at, row, line.label, colour)


def _right(axes, plot: Plot) -> None:
    """Names beside the right ends of their lines, spread upright."""
    lines = sorted(_named(plot), key=lambda line: (line.y[-1], line.x[-1]))
    ends = [(_x_pt(plot, axes, line.x[-1]), _y_pt(plot, line.y[-1])) for line in lines]
    places = spread([y for _, y in ends], _LINE_PT, 4, axes_high(plot) - 4)
    edge = axes_wide(plot)
    for line, (x, y), at in zip(lines, ends, places, strict=True):
        colour = _look(line)[0]
        _rule(axes, plot, (x + 2, y), (edge + 6, at), colour)
        _write(axes, plot, edge + 9, at - 4, line.label, colour, "left", style.SMALL_PT)


def _key(axes, plot: Plot) -> None:
    """Names with a sample of the line in the emptier corner at the left, the first line's lowest."""
    lines = _named(plot)
    step = _LINE_PT + 1
    start = 12 if _room_below(axes, plot) >= step * len(lines) else axes_high(plot) - step * len(lines)
    for row, line in enumerate(lines):
        colour, dashes, wide = _look(line)
        y = start + row * step
        _rule(axes, plot, (8, y + 4), (38, y + 4), colour, wide, dashes)
        _write(axes, plot, 44, y, line.label, colour, "left", style.SMALL_PT)


def _room_below(axes, plot: Plot) -> float:
    """Points between the axis and the lowest line over the left half of the figure."""
    middle = axes_wide(plot) / 2
    heights = (_y_pt(plot, y) for line in plot.lines for x, y in zip(line.x, line.y, strict=True) if _x_pt(plot, axes, x) <= middle)
    return min(heights, default=axes_high(plot)) - 12


_LABELS = {"fan": _fan, "right": _right, "key": _key}


def at_half(x: Sequence[float], y: Sequence[float]) -> float:
    """Return the value of the line nearest to x = 50, for ordering names as lines lie."""
    return y[min(range(len(x)), key=lambda i: abs(x[i] - 50))]
