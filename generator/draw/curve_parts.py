"""What figures of curves are made of: names, axes, lines from curves, and what is said of them in words."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from generator.compute.curves import CellCurves, Curve
from generator.compute.readings import volts_at
from generator.compute.table_cell import TableCurve
from generator.draw.plot import Level, Line, Plot, at_half
from generator.model.library import Library
from generator.model.published import Published
from generator.model.subject import Subject

FOLDER = "assets/figures"
OVERLAY_C = 0.2
COLD_C = 1.0
# One scale a kind of cell, so that figures compare across pages. Lead, nickel and zinc cells stay below 2.4 V.
THREE_VOLT, TWO_VOLT, ALL_VOLT = (1.5, 4.3), (0.8, 2.4), (0.8, 4.4)
_TWO_VOLT_BELOW = 3.0
TAKEN = "charge taken out, % of what 0.05 C delivers at 25 \u00b0C"
BY_TABLE = "charge taken out, % of the table's capacity"
VOLTS = "volts per cell"
PERCENTS = (0.0, 20.0, 40.0, 60.0, 80.0, 100.0)


@dataclass(frozen=True, slots=True)
class Figure:
    """A plotted figure: two files, one a palette, and its alternative text with the numbers."""

    name: str
    plot: Plot
    alt: str

    @property
    def light(self) -> str:
        """Path of the file for light pages."""
        return f"{FOLDER}/{self.name}-light.svg"

    @property
    def dark(self) -> str:
        """Path of the file for dark pages."""
        return f"{FOLDER}/{self.name}-dark.svg"


def short_name(cell: Published) -> str:
    """Return what a figure calls a cell: what it is and who published it."""
    parts = cell.name.replace(" electrode pair", "").split(", ")
    return parts[0] if len(parts) == 1 else f"{parts[0]}, {parts[-1]}"


def volts_range(cell: Published) -> tuple[float, float]:
    """Return the axis a cell's figures share with all of its kind."""
    return TWO_VOLT if cell.voltage_max_v is not None and cell.voltage_max_v < _TWO_VOLT_BELOW else THREE_VOLT


def published_by(library: Library, cell_id: str) -> str:
    """Return a cell's chemistry and publication: "NMC, Chen et al. 2020"."""
    cell = library.cells[cell_id]
    subject = library.chemistries[cell.chemistry]
    return f"{subject.abbreviation}, {library.sources[cell.source].short}"


def rate_text(c_rate: float) -> str:
    """Return a rate as the trade writes it."""
    return f"{c_rate:g} C"


def degrees(celsius: float) -> str:
    """Return a temperature with a true minus sign."""
    return f"{celsius:g} \u00b0C".replace("-", "\u2212")


def table_names(tables: Sequence[TableCurve]) -> list[str]:
    """Return what tells each table from its neighbours: nothing, the temperature, or its key in words."""
    if len(tables) == 1:
        return [""]
    if len({table.temperature_c for table in tables}) == len(tables):
        return [degrees(table.temperature_c) for table in tables]
    return [table.key.replace("-", " ") for table in tables]


def percents(curve: Curve, curves: CellCurves) -> tuple[float, ...]:
    """Return the charge taken out in percent of the C/20 charge."""
    return tuple(round(100.0 * charge / curves.reference_ah, 3) for charge in curve.capacity_ah)


def discharge_line(curve: Curve, curves: CellCurves, label: str, tone: int) -> Line:
    """Return the line of one discharge; a cross stands at its end where it stopped before the cut-off."""
    return Line(percents(curve, curves), curve.voltage_v, label, tone, stopped=curve.stopped_because != "cutoff-voltage")


def rest_line(curves: CellCurves) -> Line:
    """Return the line of the voltage at rest."""
    x = tuple(round(100.0 * share * curves.window_ah / curves.reference_ah, 3) for share in curves.share_discharged)
    return Line(x, curves.open_circuit_v, "at rest", None)


def percent_plot(lines: Sequence[Line], levels: tuple[Level, ...], volts: tuple[float, float], labels: str, rest: str | None = None, x_name: str = TAKEN) -> Plot:
    """Return a plot over the charge taken out in percent, with volts in steps of a half."""
    first = round(-(-volts[0] // 0.5) * 0.5, 1)
    ticks = tuple(first + 0.5 * i for i in range(int((volts[1] - first) / 0.5) + 1))
    return Plot(tuple(lines), levels, x_name, VOLTS, (0.0, 106.0), volts, PERCENTS, ticks, labels, rest)


def by_height(lines: Sequence[Line]) -> tuple[Line, ...]:
    """Lowest first, as they lie at half charge, so that a key reads in the order of the lines."""
    return tuple(sorted(lines, key=lambda line: at_half(line.x, line.y)))


def nominal_levels(subject: Subject | None) -> tuple[Level, ...]:
    """Return the mark of the label's nominal voltage, a band where it is a range; none without a label."""
    ends = nominal_ends(subject)
    if ends is None:
        return ()
    low, high = ends
    words = f"{low:.2f}" if low == high else f"{low:.2f} to\n{high:.2f}"
    return (Level(low, high, f"label\n{words}"),)


def nominal_ends(subject: Subject | None) -> tuple[float, float] | None:
    """Return the lowest and highest stated nominal voltage of standard cells [V], None where there is none."""
    stated = subject.figure("nominal-voltage") if subject else None
    if stated is None:
        return None
    given = [volts for volts in (stated.min, stated.typical, stated.max) if volts is not None]
    return (stated.typical, stated.typical) if stated.typical is not None else (min(given), max(given))


def nominal_said(subject: Subject | None) -> str:
    """Return the mark of the label in words."""
    ends = nominal_ends(subject)
    if ends is None:
        return ""
    return f" Labelled {ends[0]:.2f} V." if ends[0] == ends[1] else f" Labelled {ends[0]:.2f} to {ends[1]:.2f} V."


def said(curve: Curve, curves: CellCurves, name: str) -> str:
    """Return one discharge in words: volts at half charge, and where and why it ends."""
    half = volts_at(50.0, curve.capacity_ah, curve.voltage_v, curves.reference_ah)
    share = 100.0 * curve.capacity_ah[-1] / curves.reference_ah
    middle = f"{half:.2f} V at half charge, " if half is not None else ""
    why = "" if curve.stopped_because == "cutoff-voltage" else ", stopped because the electrolyte ran out"
    return f"{name}: {middle}ends at {share:.0f} % and {curve.voltage_v[-1]:.2f} V{why}"
