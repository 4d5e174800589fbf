"""What the building pages show, computed once: tap windows, parallel counts, trip tables, test factors, string histories."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from generator.compute.board_tables import BoardTables, board_tables
from generator.compute.capacity_test import Factor, TestPlan, factors, test_plan
from generator.compute.curves import CUTOFFS_V, CellCurves
from generator.compute.match import Match, match_cells
from generator.compute.measurements import read_measurements
from generator.compute.sample_cells import PARALLEL, SAMPLE, SERIES
from generator.compute.string import OpenCircuit, StringCell, StringStop, Usable, Window, string_cutoff, usable
from generator.compute.taps import CellVoltages
from generator.model.library import Library
from generator.model.subject import Subject

GENERAL = "lithium-ion"
STRING_CELL = "chen-2020"
CURRENT_C = 0.5
PLANS_AH = (1.3, 1.5, 2.0, 2.5, 3.0, 3.5, 4.0, 5.0, 20.0, 100.0)
DAYS = (0, 30, 90, 180, 365, 730)
PLOT_DAYS = tuple(range(0, 731, 10))


@dataclass(frozen=True, slots=True)
class Case:
    """A string of five cells: how they differ, what it gives at DAYS [Ah] and over PLOT_DAYS, and what a cut-off of the
    whole string at 2.5 V and 2.8 V a cell does to its weakest cell."""

    id: str
    title: str
    lesson: str
    cells: tuple[StringCell, ...]
    usable_ah: tuple[float, ...]
    plotted_ah: tuple[float, ...]
    at_start: Usable
    stops: tuple[tuple[float, StringStop], ...]


@dataclass(frozen=True, slots=True)
class Strings:
    """``cell``: the published cell whose open-circuit curve all cases share. ``cases`` in order of the page."""

    cell: str
    curve: OpenCircuit
    window: Window
    cases: tuple[Case, ...]


@dataclass(frozen=True, slots=True)
class Building:
    """``taps``: voltages of one cell by chemistry. ``single_ah``: smallest and largest capacity of one cell by size.
    ``factors``: capacity of other tests against the standard one. ``plans``: test currents by
    rated capacity. ``board``: what a board would do. ``sample``: the made-up cells, grouped. ``floor_v``: below it a found
    lithium-ion cell is refused. ``strings``: None without the published cell."""

    taps: tuple[CellVoltages, ...]
    single_ah: Mapping[str, tuple[float, float]]
    factors: tuple[Factor, ...]
    plans: tuple[TestPlan, ...]
    board: BoardTables
    sample: Match
    floor_v: float | None
    strings: Strings | None


# Invented purchases: a pack of ten cells of which none, three or six are refused.
WORTH_CASES = tuple(
    {"price": 12.0, "cells": 10, "rejects": rejects, "mean_ah": 1.9, "nominal_v": 3.6, "usable_share": 0.97, "new_price": 4.0, "new_ah": 2.5}
    for rejects in (0, 3, 6)
)


def building(library: Library, curves: Mapping[str, CellCurves]) -> Building:
    """Return everything the building pages show."""
    return Building(
        taps=tap_windows(library),
        single_ah=single_capacities(library),
        factors=tuple(f for f in factors(curves.values()) if f.cutoff_v in CUTOFFS_V),
        plans=tuple(test_plan(rated_ah) for rated_ah in PLANS_AH),
        board=board_tables(),
        sample=match_cells(read_measurements(SAMPLE.splitlines())[0], SERIES, PARALLEL, general_floor_v(library)),
        floor_v=general_floor_v(library),
        strings=strings(curves[STRING_CELL]) if STRING_CELL in curves else None,
    )


def tap_windows(library: Library) -> tuple[CellVoltages, ...]:
    """Return the window of every rechargeable chemistry with both ends stated; the general floor where it lies below empty."""
    found = []
    for subject in library.chemistries.values():
        empty, full = subject.volts("discharge-cutoff-voltage"), full_v(subject)
        if subject.rechargeable and empty and full and empty < full:
            found.append(CellVoltages(subject.id, subject.abbreviation, empty, full, floor_v(library, subject, empty)))
    return tuple(found)


def full_v(subject: Subject) -> float | None:
    """Return the voltage of a full cell: the charge limit, or at rest where a chemistry has no limit of voltage (nickel)."""
    at_rest = [value.typical for value in subject.values_of("open-circuit-voltage-full") if value.typical is not None]
    return subject.volts("charge-voltage-max") or max(at_rest, default=None)


def floor_v(library: Library, subject: Subject, empty_v: float) -> float | None:
    """Return the voltage below which a found cell is refused: the chemistry's own, else the general lithium-ion one."""
    own = subject.volts("overdischarge-floor")
    floors = (own, general_floor_v(library) if subject.family == GENERAL else None)
    return next((floor for floor in floors if floor is not None and floor < empty_v), None)


def general_floor_v(library: Library) -> float | None:
    """Return the stated floor of lithium-ion cells in general [V]."""
    general = library.practices.get(GENERAL)
    return general.volts("overdischarge-floor") if general else None


def single_capacities(library: Library) -> dict[str, tuple[float, float]]:
    """Return the smallest and largest single-cell capacity [Ah] among the recorded products of each five-digit size."""
    found: dict[str, list[float]] = {}
    for value in library.values():
        size = value.condition.size or ""
        if value.quantity.id == "nominal-capacity" and len(size) == 5 and size.isdigit():
            scale = 1.0 if value.unit.symbol == "Ah" else 0.001
            found.setdefault(size, []).extend(n * scale for n in (value.min, value.typical, value.max) if n)
    return {size: (min(all_ah), max(all_ah)) for size, all_ah in sorted(found.items()) if len(all_ah) >= 3}


def _cells(capacity=(5.0,) * 5, charge=(0.5,) * 5, leakage=(0.02,) * 5, resistance=(30.0,) * 5) -> tuple[StringCell, ...]:
    rows = zip(capacity, charge, leakage, resistance, strict=True)
    return tuple(StringCell(ah, ah * share, ma, mohm) for ah, share, ma, mohm in rows)


# Invented cells of the 5 Ah class, one kind of difference at a time.
CASES = (
    ("matched", "Five equal cells", "Equal leakage costs nothing: all cells sink together, and the charger lifts them together.", _cells()),
    ("capacity", "Capacities 5.0, 4.9, 4.8, 4.7, 4.2 Ah", "The string is its weakest cell, and stays so.", _cells(capacity=(5.0, 4.9, 4.8, 4.7, 4.2))),
    ("charge", "Equal cells, charges 5 % above and below", "The whole 10 % is lost until someone balances once. No cell is at fault.", _cells(charge=(0.45, 0.475, 0.5, 0.525, 0.55))),
    ("leak-half", "One cell leaks 0.5 mA, the others 0.02 mA", "The only loss that grows: 0.48 mA is 4.2 Ah a year.", _cells(leakage=(0.5, 0.02, 0.02, 0.02, 0.02))),
    ("leak-two", "One cell leaks 2 mA", "Dead within months, though every cell still tests 5 Ah.", _cells(leakage=(2.0, 0.02, 0.02, 0.02, 0.02))),
    ("resistance", "One cell has 150 milliohm, the others 30", "It meets both limits early under load; at a small current little is lost.", _cells(resistance=(150.0, 30.0, 30.0, 30.0, 30.0))),
    (
        "mixed",
        "Salvage: capacities 5.0 to 4.4 Ah, charges 3 % apart, one leaks 0.5 mA, one has 90 milliohm",
        "First the tired cell limits, later the leaking one.",
        _cells((5.0, 4.8, 4.7, 4.6, 4.4), (0.5, 0.53, 0.47, 0.5, 0.5), (0.02, 0.5, 0.02, 0.02, 0.02), (30.0, 35.0, 40.0, 90.0, 45.0)),
    ),
)
CUTOFFS_A_CELL_V = (2.5, 2.8)


def strings(curves: CellCurves) -> Strings:
    """Return the histories of CASES with the open-circuit curve of a published cell, at CURRENT_C of 5 Ah."""
    curve = OpenCircuit(tuple(1.0 - s for s in reversed(curves.share_discharged)), tuple(reversed(curves.open_circuit_v)))
    window = Window(curve.voltage_v[0], curve.voltage_v[-1], CURRENT_C * 5.0)
    return Strings(curves.cell, curve, window, tuple(_case(*case, curve, window) for case in CASES))


def _case(id: str, title: str, lesson: str, cells: tuple[StringCell, ...], curve: OpenCircuit, window: Window) -> Case:
    after = {day: usable(cells, curve, window, 24.0 * day) for day in {*DAYS, *PLOT_DAYS}}
    return Case(
        id=id,
        title=title,
        lesson=lesson,
        cells=cells,
        usable_ah=tuple(round(after[day].capacity_ah, 3) for day in DAYS),
        plotted_ah=tuple(round(after[day].capacity_ah, 4) for day in PLOT_DAYS),
        at_start=after[0],
        stops=tuple((volts, string_cutoff(cells, curve, window, volts * len(cells))) for volts in CUTOFFS_A_CELL_V),
    )
