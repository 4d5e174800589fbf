"""The figures of discharge curves: which lines stand on which axes, and what each says to a reader who cannot see it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from generator.compute.curves import REFERENCE_C, CellCurves
from generator.compute.nominal import LABELS_V, NominalStudy
from generator.compute.open_circuit import FunctionCurve
from generator.compute.results import Results
from generator.compute.table_cell import TableCurve
from generator.draw.curve_parts import (
    ALL_VOLT,
    BY_TABLE,
    COLD_C,
    OVERLAY_C,
    PERCENTS,
    TAKEN,
    VOLTS,
    Figure,
    by_height,
    degrees,
    discharge_line,
    nominal_levels,
    nominal_said,
    percent_plot,
    published_by,
    rate_text,
    rest_line,
    said,
    short_name,
    table_names,
    volts_range,
)
from generator.draw.plot import Level, Line, Plot, at_half
from generator.model.library import Library
from generator.model.published import Published
from generator.model.subject import Subject

_BASIS = ("read", "reported", "recalled", "not-known", None)


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


# Figures of one cell ---------------------------------------------------------------------------------------------


def rates_figure(cell: Published, curves: CellCurves, subject: Subject | None) -> Figure:
    """All rates at 25 degrees Celsius with the voltage at rest and the label's nominal voltage."""
    family = curves.family()
    lines = (rest_line(curves), *(discharge_line(curve, curves, rate_text(curve.c_rate), i) for i, curve in enumerate(family)))
    plot = percent_plot(lines, nominal_levels(subject), volts_range(cell), "fan", "at rest (open circuit)")
    told = "; ".join(said(curve, curves, rate_text(curve.c_rate)) for curve in family)
    return Figure(f"{cell.id}-rates", plot, f"Discharge curves of {cell.name} at {REFERENCE_C:g} \u00b0C. {told}.{nominal_said(subject)}")


def temperatures_figure(cell: Published, curves: CellCurves) -> Figure:
    """All temperatures at one rate."""
    rate = COLD_C if curves.curve(COLD_C) else OVERLAY_C
    family = curves.at_rate(rate)
    lines = tuple(discharge_line(curve, curves, degrees(curve.temperature_c), i) for i, curve in enumerate(family))
    plot = percent_plot(lines, (), volts_range(cell), "fan")
    told = "; ".join(said(curve, curves, degrees(curve.temperature_c)) for curve in family)
    return Figure(f"{cell.id}-temperatures", plot, f"Discharge of {cell.name} at {rate_text(rate)}. {told}.")


def table_figure(cell: Published, tables: Sequence[TableCurve], subject: Subject | None) -> Figure:
    """Measured points at rest and, with the measured resistance, under one slow rate."""
    lines, names = [], table_names(tables)
    for table, told in zip(tables, names, strict=True):
        name = f"{told}, " if told else ""
        x = tuple(100.0 * (1.0 - share) for share in table.state_of_charge)
        rate = rate_text(table.c_rate)
        lines += [Line(x, table.open_circuit_v, f"{name}at rest", len(lines), points=True), Line(x, table.loaded_v, f"{name}{rate}", len(lines) + 1)]
    plot = percent_plot(by_height(lines), nominal_levels(subject), volts_range(cell), "key", x_name=BY_TABLE)
    told = "; ".join(f"{line.label} {line.y[0]:.2f} V first, {at_half(line.x, line.y):.2f} V near half, {line.y[-1]:.2f} V last" for line in lines)
    return Figure(f"{cell.id}-table", plot, f"Measured voltage of {cell.name} per cell. {told}.{nominal_said(subject)}")


def functions_figure(cell: Published, functions: Sequence[FunctionCurve]) -> Figure:
    """Published open-circuit functions of single electrodes, each over its own range."""
    lines = by_height([Line(f.x, f.voltage_v, f.name, i) for i, f in enumerate(functions)])
    inner = [y for line in lines for x, y in zip(line.x, line.y, strict=True) if 0.08 <= x <= 0.92]
    low, high = (min(inner) - 0.3) // 0.5 * 0.5, -(-(max(inner) + 0.1) // 0.5) * 0.5
    ticks = tuple(low + 0.5 * i for i in range(round((high - low) / 0.5) + 1))
    x_name, grid = "stoichiometry: share of places filled", (0.0, 0.2, 0.4, 0.6, 0.8, 1.0)
    y_name = "volts, one electrode at rest"
    plot = Plot(tuple(lines), (), x_name, y_name, (0.0, 1.0), (low, high), grid, ticks, "key", right_pt=16)
    told = "; ".join(f"{line.label}: {line.y[len(line.y) // 2]:.2f} V in the middle of its range" for line in lines)
    return Figure(f"{cell.id}-functions", plot, f"{cell.name}. {told}.")


# Figures of several cells ----------------------------------------------------------------------------------------


def overlay_figure(subject: Subject, library: Library, results: Results) -> Figure | None:
    """All computed cells of one chemistry at 0.2 C; None where there are fewer than two."""
    found = [(library.cells[c.cell], c) for c in results.curves_of(subject.id) if c.curve(OVERLAY_C)]
    if len(found) < 2:
        return None
    named = [discharge_line(curves.curve(OVERLAY_C), curves, short_name(cell), i) for i, (cell, curves) in enumerate(found)]
    plot = percent_plot(by_height(named), nominal_levels(subject), volts_range(found[0][0]), "key")
    told = "; ".join(said(curves.curve(OVERLAY_C), curves, short_name(cell)) for cell, curves in found)
    return Figure(f"{subject.id}-cells", plot, f"{len(found)} {subject.abbreviation} cells at {rate_text(OVERLAY_C)}, {REFERENCE_C:g} \u00b0C. {told}.")


def all_figure(library: Library, results: Results) -> Figure:
    """One cell a chemistry at 0.2 C, all on one axis."""
    lines = []
    for subject in library.chemistries.values():
        cell = best_cell(subject, library, results)
        if cell:
            lines.append(_standing(cell, subject, results, len(lines)))
    ticks = tuple(1.0 + 0.5 * i for i in range(7))
    margin = 18 + round(6.4 * max((len(line.label) for line in lines), default=0))
    plot = Plot(tuple(lines), (), TAKEN, VOLTS, (0.0, 106.0), ALL_VOLT, PERCENTS, ticks, "right", right_pt=margin)
    told = "; ".join(f"{line.label} {at_half(line.x, line.y):.2f} V at half charge" for line in lines)
    return Figure("all-chemistries", plot, f"Discharge at {rate_text(OVERLAY_C)} of one cell of each chemistry. {told}.")


def _standing(cell: Published, subject: Subject, results: Results, tone: int) -> Line:
    if cell.id in results.curves:
        curves = results.curves[cell.id]
        return discharge_line(curves.curve(OVERLAY_C), curves, subject.abbreviation, tone)
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
    told = "; ".join(f"{line.label}: {line.y[0]:.2f} V at {line.x[0]:g} C, {line.y[-1]:.2f} V at {line.x[-1]:g} C" for line in lines)
    return Figure("nominal-voltage", plot, f"Average voltage of a full discharge over its rate at 25 \u00b0C. {told}. Lines mark 3.6 and 3.7 V.")
