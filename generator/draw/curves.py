"""The figures of discharge curves: which lines stand on which axes, and what each says to a reader who cannot see it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from generator.compute.curves import REFERENCE_C, CellCurves, Curve
from generator.compute.nominal import LABELS_V, NominalStudy
from generator.compute.open_circuit import FunctionCurve
from generator.compute.readings import volts_at
from generator.compute.results import Results
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
_TAKEN = "charge taken out, % of what 0.05 C delivers at 25 \u00b0C"
_BY_TABLE = "charge taken out, % of the table's capacity"
_VOLTS = "volts per cell"
_PERCENTS = (0.0, 20.0, 40.0, 60.0, 80.0, 100.0)
_BASIS = ("read", "reported", "recalled", "not-known", None)


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


def figures(library: Library, results: Results) -> Iterator[Figure]:
    """Yield every figure of curves."""
    for cell in library.cells.values():
        yield from cell_figures(cell, library, results)
    for subject in library.chemistries.values():
        found = overlay_figure(subject, library, results)
        if found:
            yield found
    yield all_figure(library, results)
    yield nominal_figure(library, results.nominal)


def cell_figures(cell: Published, library: Library, results: Results) -> tuple[Figure, ...]:
    """Return the figures of one cell: rates and temperatures, or its table, or its functions."""
    subject = library.chemistries.get(cell.chemistry)
    if cell.id in results.curves:
        curves = results.curves[cell.id]
        cold = (temperatures_figure(cell, curves),) if len(curves.temperatures_c()) > 1 else ()
        return (rates_figure(cell, curves, subject), *cold)
    if cell.id in results.tables:
        return (table_figure(cell, results.tables[cell.id], subject),)
    return (functions_figure(cell, results.functions[cell.id]),) if cell.id in results.functions else ()


def short_name(cell: Published) -> str:
    """Return what a figure calls a cell: what it is and who published it."""
    parts = cell.name.replace(" electrode pair", "").split(", ")
    return parts[0] if len(parts) == 1 else f"{parts[0]}, {parts[-1]}"


def best_cell(subject: Subject, library: Library, results: Results) -> Published | None:
    """Return the published cell that stands for a chemistry.

    Curves before tables; the one whose full voltage is the chemistry's; then the better known rates, the higher rate,
    the more temperatures. Cells that have only an open-circuit function stand for nothing.
    """
    cells = [c for c in library.cells_of(subject.id) if c.id in results.curves or c.id in results.tables]
    full = subject.volts("charge-voltage-max")

    def rank(cell: Published):
        basis = _BASIS.index(cell.rate_basis) if cell.rate_basis in _BASIS else len(_BASIS)
        return cell.id not in results.curves, cell.voltage_max_v != full, basis, -cell.rate_max_c, -len(cell.temperatures_valid_c), cell.id

    return min(cells, key=rank, default=None)


def volts_range(cell: Published) -> tuple[float, float]:
    """Return the axis a cell's figures share with all of its kind."""
    return TWO_VOLT if cell.voltage_max_v is not None and cell.voltage_max_v < _TWO_VOLT_BELOW else THREE_VOLT


# Figures of one cell ---------------------------------------------------------------------------------------------


def rates_figure(cell: Published, curves: CellCurves, subject: Subject | None) -> Figure:
    """All rates at 25 degrees Celsius with the voltage at rest and the label's nominal voltage."""
    family = curves.family()
    lines = (_rest(curves), *(_discharge(curve, curves, rate_text(curve.c_rate), i) for i, curve in enumerate(family)))
    plot = _percent_plot(lines, _nominal(subject), volts_range(cell), "fan", "at rest (open circuit)")
    said = "; ".join(_said(curve, curves, rate_text(curve.c_rate)) for curve in family)
    return Figure(f"{cell.id}-rates", plot, f"Discharge curves of {cell.name} at {REFERENCE_C:g} \u00b0C. {said}.{_nominal_said(subject)}")


def temperatures_figure(cell: Published, curves: CellCurves) -> Figure:
    """All temperatures at one rate."""
    rate = COLD_C if curves.curve(COLD_C) else OVERLAY_C
    family = curves.at_rate(rate)
    lines = tuple(_discharge(curve, curves, degrees(curve.temperature_c), i) for i, curve in enumerate(family))
    plot = _percent_plot(lines, (), volts_range(cell), "fan")
    said = "; ".join(_said(curve, curves, degrees(curve.temperature_c)) for curve in family)
    return Figure(f"{cell.id}-temperatures", plot, f"Discharge of {cell.name} at {rate_text(rate)}. {said}.")


def table_figure(cell: Published, tables: Sequence[TableCurve], subject: Subject | None) -> Figure:
    """Measured points at rest and, with the measured resistance, under one slow rate."""
    lines, names = [], table_names(tables)
    for table, told in zip(tables, names, strict=True):
        name = f"{told}, " if told else ""
        x = tuple(100.0 * (1.0 - share) for share in table.state_of_charge)
        rate = rate_text(table.c_rate)
        lines += [Line(x, table.open_circuit_v, f"{name}at rest", len(lines), points=True), Line(x, table.loaded_v, f"{name}{rate}", len(lines) + 1)]
    plot = _percent_plot(_by_height(lines), _nominal(subject), volts_range(cell), "key", x_name=_BY_TABLE)
    said = "; ".join(f"{line.label} {line.y[0]:.2f} V first, {at_half(line.x, line.y):.2f} V near half, {line.y[-1]:.2f} V last" for line in lines)
    return Figure(f"{cell.id}-table", plot, f"Measured voltage of {cell.name} per cell. {said}.{_nominal_said(subject)}")


def functions_figure(cell: Published, functions: Sequence[FunctionCurve]) -> Figure:
    """Published open-circuit functions of single electrodes, each over its own range."""
    lines = _by_height([Line(f.x, f.voltage_v, f.name, i) for i, f in enumerate(functions)])
    inner = [y for line in lines for x, y in zip(line.x, line.y, strict=True) if 0.08 <= x <= 0.92]
    low, high = (min(inner) - 0.3) // 0.5 * 0.5, -(-(max(inner) + 0.1) // 0.5) * 0.5
    ticks = tuple(low + 0.5 * i for i in range(round((high - low) / 0.5) + 1))
    x_name, grid = "stoichiometry: share of places filled", (0.0, 0.2, 0.4, 0.6, 0.8, 1.0)
    y_name = "volts, one electrode at rest"
    plot = Plot(tuple(lines), (), x_name, y_name, (0.0, 1.0), (low, high), grid, ticks, "key", right_pt=16)
    said = "; ".join(f"{line.label}: {line.y[len(line.y) // 2]:.2f} V in the middle of its range" for line in lines)
    return Figure(f"{cell.id}-functions", plot, f"{cell.name}. {said}.")


# Figures of several cells ----------------------------------------------------------------------------------------


def overlay_figure(subject: Subject, library: Library, results: Results) -> Figure | None:
    """All computed cells of one chemistry at 0.2 C; None where there are fewer than two."""
    found = [(library.cells[c.cell], c) for c in results.curves_of(subject.id) if c.curve(OVERLAY_C)]
    if len(found) < 2:
        return None
    named = [_discharge(curves.curve(OVERLAY_C), curves, short_name(cell), i) for i, (cell, curves) in enumerate(found)]
    plot = _percent_plot(_by_height(named), _nominal(subject), volts_range(found[0][0]), "key")
    said = "; ".join(_said(curves.curve(OVERLAY_C), curves, short_name(cell)) for cell, curves in found)
    return Figure(f"{subject.id}-cells", plot, f"{len(found)} {subject.abbreviation} cells at {rate_text(OVERLAY_C)}, {REFERENCE_C:g} \u00b0C. {said}.")


def all_figure(library: Library, results: Results) -> Figure:
    """One cell a chemistry at 0.2 C, all on one axis."""
    lines = []
    for subject in library.chemistries.values():
        cell = best_cell(subject, library, results)
        if cell:
            lines.append(_standing(cell, subject, results, len(lines)))
    ticks = tuple(1.0 + 0.5 * i for i in range(7))
    margin = 18 + round(6.4 * max((len(line.label) for line in lines), default=0))
    plot = Plot(tuple(lines), (), _TAKEN, _VOLTS, (0.0, 106.0), ALL_VOLT, _PERCENTS, ticks, "right", right_pt=margin)
    said = "; ".join(f"{line.label} {at_half(line.x, line.y):.2f} V at half charge" for line in lines)
    return Figure("all-chemistries", plot, f"Discharge at {rate_text(OVERLAY_C)} of one cell of each chemistry. {said}.")


def _standing(cell: Published, subject: Subject, results: Results, tone: int) -> Line:
    if cell.id in results.curves:
        curves = results.curves[cell.id]
        return _discharge(curves.curve(OVERLAY_C), curves, subject.abbreviation, tone)
    table = results.tables[cell.id][0]
    return Line(tuple(100.0 * (1.0 - share) for share in table.state_of_charge), table.loaded_v, subject.abbreviation, tone)


def nominal_figure(library: Library, study: NominalStudy) -> Figure:
    """Energy-averaged voltage over rate of the layered-oxide cells, with the two labels."""
    lines = []
    for row in (r for r in study.rows if r.layered):
        points = [(rate, volts) for rate, volts in zip(study.rates_c, row.averages_v, strict=True) if volts is not None]
        x, y = zip(*points)
        lines.append(Line(x, y, published_by(library, row.cell), len(lines), points=True))
    levels = tuple(Level(volts, volts, f"{volts:.1f} V") for volts in LABELS_V)
    lines.sort(key=lambda line: line.y[-1])
    ticks = tuple(round(3.3 + 0.1 * i, 1) for i in range(6))
    plot = Plot(tuple(lines), levels, "discharge rate, C", "Wh / Ah, volts per cell", (0.045, 3.3), (3.22, 3.85), study.rates_c, ticks, "key", log_x=True)
    said = "; ".join(f"{line.label}: {line.y[0]:.2f} V at {line.x[0]:g} C, {line.y[-1]:.2f} V at {line.x[-1]:g} C" for line in lines)
    return Figure("nominal-voltage", plot, f"Average voltage of a full discharge over its rate at 25 \u00b0C. {said}. Lines mark 3.6 and 3.7 V.")


def published_by(library: Library, cell_id: str) -> str:
    """Return a cell's chemistry and publication: "NMC, Chen et al. 2020"."""
    cell = library.cells[cell_id]
    subject = library.chemistries[cell.chemistry]
    return f"{subject.abbreviation}, {library.sources[cell.source].short}"


# Parts -----------------------------------------------------------------------------------------------------------


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


def _discharge(curve: Curve, curves: CellCurves, label: str, tone: int) -> Line:
    return Line(percents(curve, curves), curve.voltage_v, label, tone, stopped=curve.stopped_because != "cutoff-voltage")


def _rest(curves: CellCurves) -> Line:
    x = tuple(round(100.0 * share * curves.window_ah / curves.reference_ah, 3) for share in curves.share_discharged)
    return Line(x, curves.open_circuit_v, "at rest", None)


def _percent_plot(lines: Sequence[Line], levels: tuple[Level, ...], volts: tuple[float, float], labels: str, rest: str | None = None, x_name: str = _TAKEN) -> Plot:
    first = round(-(-volts[0] // 0.5) * 0.5, 1)
    ticks = tuple(first + 0.5 * i for i in range(int((volts[1] - first) / 0.5) + 1))
    return Plot(tuple(lines), levels, x_name, _VOLTS, (0.0, 106.0), volts, _PERCENTS, ticks, labels, rest)


def _by_height(lines: Sequence[Line]) -> tuple[Line, ...]:
    """Lowest first, as they lie at half charge, so that a key reads in the order of the lines."""
    return tuple(sorted(lines, key=lambda line: at_half(line.x, line.y)))


def _nominal(subject: Subject | None) -> tuple[Level, ...]:
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


def _nominal_said(subject: Subject | None) -> str:
    ends = nominal_ends(subject)
    if ends is None:
        return ""
    return f" Labelled {ends[0]:.2f} V." if ends[0] == ends[1] else f" Labelled {ends[0]:.2f} to {ends[1]:.2f} V."


def _said(curve: Curve, curves: CellCurves, name: str) -> str:
    half = volts_at(50.0, curve.capacity_ah, curve.voltage_v, curves.reference_ah)
    share = 100.0 * curve.capacity_ah[-1] / curves.reference_ah
    middle = f"{half:.2f} V at half charge, " if half is not None else ""
    why = "" if curve.stopped_because == "cutoff-voltage" else ", stopped because the electrolyte ran out"
    return f"{name}: {middle}ends at {share:.0f} % and {curve.voltage_v[-1]:.2f} V{why}"
