"""Discharge curves: the index with the overlay, and one page a published cell."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from generator.compute.curves import REFERENCE_C, CellCurves
from generator.compute.readings import curve_resistance, volts_at
from generator.compute.results import Results
from generator.compute.table_cell import TableCurve
from generator.draw.curve_parts import COLD_C, OVERLAY_C, Figure, degrees, rate_text, short_name, table_names
from generator.draw.curves import all_figure, best_cell, cell_figures, overlay_figure
from generator.model.library import Library
from generator.model.published import Published
from generator.model.subject import Subject
from generator.pages import cell_parameters, curve_words
from generator.pages.comparison import ordered
from generator.pages.environment import render, to_root

PERCENTS = tuple(range(0, 101, 10))


@dataclass(frozen=True, slots=True)
class NumberColumn:
    """One curve of the table of numbers: volts at PERCENTS, then where it ended."""

    title: str
    volts: tuple[float | None, ...]
    end_percent: float
    end_v: float


@dataclass(frozen=True, slots=True)
class Block:
    """What a chemistry's page shows of curves: the figures of the cell that stands for it, and of all its cells."""

    cell: Published
    figure: Figure
    overlay: Figure | None
    others: tuple[Published, ...]
    model: str
    reach: str
    stops: tuple[str, ...]


def pages(library: Library, results: Results) -> Mapping[str, str]:
    """Return the pages of curves by path."""
    made = {"curves/index.md": _index(library, results)}
    for cell in library.cells.values():
        path = f"{cell.page}index.md"
        made[path] = render("curve.md.j2", library=library, root=to_root(path), words=curve_words, **_view(cell, library, results))
    return made


def block(subject: Subject, library: Library, results: Results) -> Block | None:
    """Return what a chemistry's page shows of curves; None where no published cell or function of it was found."""
    cells = [cell for cell in library.cells_of(subject.id) if drawable(cell, library, results)]
    cell = best_cell(subject, library, results) or next(iter(cells), None)
    if cell is None:
        return None
    shown = cell_figures(cell, library, results)
    curves = results.curves.get(cell.id)
    return Block(
        cell=cell,
        figure=shown[0],
        overlay=overlay_figure(subject, library, results),
        others=tuple(other for other in cells if other is not cell),
        model=curve_words.model_words(curves) if curves else "",
        reach=curve_words.reach(cell, curves) if curves else "",
        stops=curve_words.stops(curves) if curves else (),
    )


# The index -------------------------------------------------------------------------------------------------------


def _index(library: Library, results: Results) -> str:
    subjects = ordered(library.chemistries.values())
    groups = [(subject, [cell for cell in library.cells_of(subject.id) if drawable(cell, library, results)]) for subject in subjects]
    overlays = [(subject, found) for subject in subjects if (found := overlay_figure(subject, library, results))]
    context = {
        "groups": [(subject, cells) for subject, cells in groups if cells],
        "overlays": overlays,
        "all": all_figure(library, results),
        "choices": _choices(groups, library, results),
        "rates": sorted({curve.c_rate for curves in results.curves.values() for curve in curves.curves}),
        "temperatures": sorted({t for curves in results.curves.values() for t in curves.temperatures_c()}),
        "reach": {id: (max(c.c_rate for c in found.curves), found.temperatures_c()) for id, found in results.curves.items()},
    }
    return render("curves.md.j2", library=library, root=to_root("curves/index.md"), words=curve_words, short_name=short_name, **context)


def drawable(cell: Published, library: Library, results: Results) -> bool:
    """Whether there is a figure of a cell."""
    return bool(cell_figures(cell, library, results))


def _choices(groups, library: Library, results: Results) -> list[dict[str, object]]:
    """Cells that can be laid over one another: those with a cell voltage; the one that stands for its chemistry first."""
    chosen = []
    for subject, cells in groups:
        best = best_cell(subject, library, results)
        for cell in sorted(cells, key=lambda c: c is not best):
            if cell.id in results.curves or cell.id in results.tables:
                chosen.append({"id": cell.id, "name": short_name(cell), "chemistry": subject.abbreviation, "first": cell is best and subject.id in _FIRST})
    return chosen


_FIRST = ("nmc", "lco", "lfp")  # laid over one another before the reader has chosen


# One cell --------------------------------------------------------------------------------------------------------


def _view(cell: Published, library: Library, results: Results) -> dict[str, object]:
    curves, tables = results.curves.get(cell.id), results.tables.get(cell.id, ())
    subject = library.chemistries.get(cell.chemistry)
    return {
        "cell": cell,
        "subject": subject,
        "short": short_name(cell),
        "figures": {figure.name.removeprefix(f"{cell.id}-"): figure for figure in cell_figures(cell, library, results)},
        "curves": curves,
        "tables": list(zip(table_names(tables), tables, strict=True)) if tables else [],
        "functions": results.functions.get(cell.id, ()),
        "numbers": _numbers(curves) if curves else [],
        "cold": _cold(curves) if curves and len(curves.temperatures_c()) > 1 else [],
        "cold_rate": rate_text(COLD_C if curves and curves.curve(COLD_C) else OVERLAY_C),
        "percents": PERCENTS,
        "averages": [a for a in curves.averages if a.temperature_c == REFERENCE_C] if curves else [],
        "resistance": curve_resistance(curves, cell.nominal_capacity_ah) if curves else None,
        "printed": [s for s in subject.stated if s.quantity.group == "resistance"] if subject else [],
        "parts": cell_parameters.parts(cell.data),
        "table_rows": table_rows,
    }


def _numbers(curves: CellCurves) -> list[NumberColumn]:
    whole = curves.reference_ah
    charge = tuple(share * curves.window_ah for share in curves.share_discharged)
    rest = _column("at rest", charge, curves.open_circuit_v, whole)
    return [rest, *(_column(rate_text(c.c_rate), c.capacity_ah, c.voltage_v, whole) for c in curves.family())]


def _cold(curves: CellCurves) -> list[NumberColumn]:
    rate = COLD_C if curves.curve(COLD_C) else OVERLAY_C
    return [_column(degrees(c.temperature_c), c.capacity_ah, c.voltage_v, curves.reference_ah) for c in curves.at_rate(rate)]


def _column(title: str, charge_ah, volts, whole_ah: float) -> NumberColumn:
    found = (volts_at(percent, charge_ah, volts, whole_ah) for percent in PERCENTS)
    shown = tuple(None if v is None else round(v, 3) for v in found)
    return NumberColumn(title, shown, round(100 * charge_ah[-1] / whole_ah, 1), round(volts[-1], 3))


def table_rows(table: TableCurve):
    """Return the rows of a measured table: charge left in percent, volts at rest, volts under load, milliohms."""
    return zip((round(100 * s, 1) for s in table.state_of_charge), table.open_circuit_v, table.loaded_v, table.resistance_mohm, strict=True)
