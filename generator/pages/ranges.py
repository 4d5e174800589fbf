"""What the comparison page draws: the reach of every chemistry's figures as bars and boxes."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from markupsafe import Markup

from generator.compute.ranges import Reach, reach, self_discharge
from generator.draw.comparison import Bar, BarRow, Scale, bars_svg
from generator.draw.energy_map import Box, map_svg
from generator.model.subject import Stated, Subject

ACROSS = Scale(25, 1600, (50, 100, 200, 500, 1000), "Wh/L")
UPWARDS = Scale(15, 1000, (20, 50, 100, 200, 500, 1000), "Wh/kg")
RATE = Scale(0.3, 60, (0.5, 1, 2, 5, 10, 20), "C")
SELF_DISCHARGE = Scale(0.03, 30, (0.1, 1, 10), "% a month")
CYCLES = Scale(100, 40000, (100, 1000, 10000), "cycles")
TEMPERATURE = Scale(-60, 90, (-40, -20, 0, 20, 40, 60, 80), "\u00b0C", log=False)


@dataclass(frozen=True, slots=True)
class RangePlot:
    """One drawing of the comparison page. ``without`` names the chemistries for which no figure was found."""

    id: str
    title: str
    note: str
    drawing: Markup
    without: tuple[str, ...]


def range_plots(subjects: Sequence[Subject]) -> tuple[RangePlot, ...]:
    """Return the drawings for which there is anything to draw."""
    charged = [subject for subject in subjects if subject.rechargeable]
    made = (
        _energy(subjects),
        _bars(subjects, RATE, "rate", "Highest continuous discharge rate", "Multiples of the capacity per hour; logarithmic.", lambda s: reach(s, "discharge-rate-max")),
        _windows(subjects),
        _bars(subjects, SELF_DISCHARGE, "self-discharge", "Self-discharge", "Percent in a month; logarithmic. Yearly figures, as primary cells have them, are divided by twelve.", self_discharge),
        _bars(charged, CYCLES, "cycles", "Cycle life", "Cycles; logarithmic. Depths, rates and end points differ: read the evidence before you compare two bars.", lambda s: reach(s, "cycle-life")),
    )  # fmt: skip
    return tuple(plot for plot in made if plot)


def _bars(subjects: Sequence[Subject], scale: Scale, id: str, title: str, note: str, find: Callable[[Subject], Reach | None]) -> RangePlot | None:
    found = [(subject, find(subject)) for subject in subjects]
    rows = [BarRow(subject.abbreviation, (_bar(r),), f"{subject.id}/") for subject, r in found if r]
    without = tuple(subject.abbreviation for subject, r in found if not r)
    if not rows:
        return None
    return RangePlot(f"range-{id}", title, note, Markup(bars_svg(rows, scale, id=f"range-{id}", title=f"{title}, by chemistry")), without)


def _bar(found: Reach) -> Bar:
    return Bar(found.low, found.high, found.open_low, found.open_high, found.recalled)


def _windows(subjects: Sequence[Subject]) -> RangePlot | None:
    """The stated windows: discharging full, charging outlined."""
    rows, without = [], []
    for subject in subjects:
        figures = (subject.figure("discharge-temperature"), subject.figure("charge-temperature") if subject.rechargeable else None)
        bars = tuple(_window(figure) for figure in figures if figure and None not in (figure.min, figure.max))
        if bars:
            rows.append(BarRow(subject.abbreviation, bars if figures[0] else (*bars,), f"{subject.id}/"))
        else:
            without.append(subject.abbreviation)
    if not rows:
        return None
    note = "Cell temperature in \u00b0C, the part common to all credible sources. Filled: discharging (charging where nothing else is stated). Outlined: charging."
    drawing = bars_svg(rows, TEMPERATURE, id="range-temperature", title="Temperature windows, by chemistry")
    return RangePlot("range-temperature", "Temperature windows", note, Markup(drawing), tuple(without))


def _window(stated: Stated) -> Bar:
    return Bar(stated.min, stated.max, recalled=stated.grade == "recalled")


def _energy(subjects: Sequence[Subject]) -> RangePlot | None:
    found = [(subject, reach(subject, "energy-density"), reach(subject, "specific-energy")) for subject in subjects]
    boxes = [Box(s.abbreviation, _bar(across), _bar(up), f"{s.id}/") for s, across, up in found if across and up]
    if not boxes:
        return None
    note = "Watt-hours in a kilogram, upwards, against watt-hours in a litre; both logarithmic. Cells, not packs."
    drawing = map_svg(boxes, ACROSS, UPWARDS, id="range-energy", title="Energy by weight against energy by volume, by chemistry")
    without = tuple(s.abbreviation for s, across, up in found if not (across and up))
    return RangePlot("range-energy", "Energy by weight and by volume", note, Markup(drawing), without)
