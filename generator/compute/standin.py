"""What can stand in for a lead-acid battery or a nickel pack: series counts whose window fits what the equipment sees.

The equipment was built around the old battery, so the old battery's own window is all that is known of its
tolerance: from the end of the discharge to the highest voltage of the charge. A stand-in must not go above it; where it
falls below, the equipment switches off and charge is left over. The cell's own limits hold at all times.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

import numpy as np

from generator.compute.curves import CellCurves
from generator.compute.nickel_pack import string_cutoff_v
from generator.compute.span import span_of
from generator.model.library import Library
from generator.model.subject import Stated, Subject

CANDIDATES = ("nmc", "lfp", "lto", "sodium-ion-layered")
LEAD_VOLTS = (6, 12, 24, 36, 48)
NICKEL_CELLS = (6, 7, 8, 10, 12, 15, 20)  # 7.2, 8.4, 9.6, 12, 14.4, 18 and 24 V
LEAD, NICKEL = "lead-acid-agm", "nimh"
SHARE_RATE_C = 0.2
TOLERANCE_V = 0.005  # half of the last digit that is printed

FITS, LOWER, NEVER = "fits", "charge lower", "never"
# Counts are listed while the nominal voltage is as near to the old one as this share of it: who replaces 12 V thinks of
# packs called 9.6 to 14.4 V; those that never fit are named when they are near enough to be tried.
_NEAR = {FITS: 0.25, LOWER: 0.16, NEVER: 0.25}
HALF_PERCENT = 50.0


@dataclass(frozen=True, slots=True)
class OldBattery:
    """What is replaced: ``cells`` in series and the window the equipment sees [V].

    ``basis`` are the stated figures of a cell that the ends rest on, lower end first.
    """

    id: str
    name: str
    subject: Subject
    cells: int
    nominal_v: float
    low_v: float
    high_v: float
    basis: tuple[Stated, ...]


@dataclass(frozen=True, slots=True)
class Candidate:
    """``series`` cells of one chemistry against an old battery [V].

    ``ceiling_v`` is the highest voltage that both the equipment's window and the cells allow, ``ceiling_cell_v`` the
    same per cell; ``floor_cell_v`` is what a cell is at when the equipment gives up. ``used_percent`` is the share of
    the full charge between the two, None where no computed curve is at hand.
    """

    subject: Subject
    series: int
    empty_v: float
    nominal_v: float
    full_v: float
    ceiling_v: float
    ceiling_cell_v: float
    floor_cell_v: float
    verdict: str
    used_percent: float | None
    curve_cell: str | None


@dataclass(frozen=True, slots=True)
class Replacement:
    """One old battery and the series counts that come near, by chemistry."""

    old: OldBattery
    candidates: tuple[Candidate, ...]


def old_batteries(library: Library) -> tuple[OldBattery, ...]:
    """Return lead-acid batteries of 6 to 48 V and nickel packs of 7.2 to 24 V whose records state both ends."""
    lead, nickel = library.chemistries.get(LEAD), library.chemistries.get(NICKEL)
    found = [_lead(lead, volts) for volts in LEAD_VOLTS] if lead else []
    found += [_nickel(nickel, cells) for cells in NICKEL_CELLS] if nickel else []
    return tuple(old for old in found if old)


def _lead(subject: Subject, volts: int) -> OldBattery | None:
    low, high, nominal = (subject.figure(q) for q in ("discharge-cutoff-voltage", "absorption-voltage", "nominal-voltage"))
    if not (low and high and nominal):
        return None
    cells = round(volts / nominal.typical)
    # The lower end of a range for the upper bound: what the equipment has surely seen.
    return OldBattery(
        f"lead-{volts}", f"{volts} V lead-acid", subject, cells, float(volts),
        round(cells * span_of(low).high, 2), round(cells * span_of(high).low, 2), (low, high),
    )  # fmt: skip


def _nickel(subject: Subject, cells: int) -> OldBattery | None:
    low, high, nominal = (subject.figure(q) for q in ("discharge-cutoff-voltage", "open-circuit-voltage-full", "nominal-voltage"))
    if not (low and high and nominal):
        return None
    volts = round(cells * nominal.typical, 2)
    bottom = round(string_cutoff_v(cells, low.typical, nominal.typical), 2)
    return OldBattery(f"nickel-{f'{volts:g}'.replace('.', '-')}", f"{volts:g} V nickel", subject, cells, volts, bottom, round(cells * span_of(high).low, 2), (low, high))


def replacement(old: OldBattery, chemistries: Iterable[Subject], curves: Mapping[str, CellCurves]) -> Replacement:
    """Return the candidates for one old battery: by chemistry, from the largest count that is full within the window up."""
    return Replacement(old, tuple(c for subject in chemistries for c in _candidates(old, subject, _curves_for(subject, curves))))


def replacements(library: Library, curves: Mapping[str, CellCurves]) -> tuple[Replacement, ...]:
    """Return every old battery with its candidates."""
    chemistries = [library.chemistries[id] for id in CANDIDATES if id in library.chemistries]
    return tuple(replacement(old, chemistries, curves) for old in old_batteries(library))


def _candidates(old: OldBattery, subject: Subject, curve: CellCurves | None) -> list[Candidate]:
    empty, nominal, full = (subject.volts(q) for q in ("discharge-cutoff-voltage", "nominal-voltage", "charge-voltage-max"))
    if None in (empty, nominal, full):
        return []
    first = max(int((old.high_v + TOLERANCE_V) / full), 1)
    counts = range(first, int(old.high_v / empty) + 1)
    made = (_candidate(old, subject, series, (empty, nominal, full), curve) for series in counts)
    return [found for found in made if abs(found.nominal_v - old.nominal_v) <= _NEAR[found.verdict] * old.nominal_v]


def _candidate(old: OldBattery, subject: Subject, series: int, cell_v: tuple[float, float, float], curve: CellCurves | None) -> Candidate:
    empty, nominal, full = cell_v
    ceiling = min(series * full, old.high_v)
    floor = max(old.low_v / series, empty)
    used = used_percent(curve, ceiling / series, floor) if curve else None
    found = verdict(old, series, nominal, full)
    return Candidate(
        subject=subject,
        series=series,
        empty_v=round(series * empty, 2),
        nominal_v=round(series * nominal, 2),
        full_v=round(series * full, 2),
        ceiling_v=round(ceiling, 2),
        ceiling_cell_v=round(ceiling / series, 3),
        floor_cell_v=round(floor, 3),
        verdict=NEVER if used is not None and used < HALF_PERCENT else found,
        used_percent=used,
        curve_cell=curve.cell if curve else None,
    )


def verdict(old: OldBattery, series: int, nominal_v: float, full_v: float) -> str:
    """Return FITS, LOWER (only when charged below full) or NEVER, for cells of these voltages.

    The nominal voltage must lie in the window: below it the equipment takes a half-full pack for empty; and where the
    window ends at or below it the pack could never be more than about half charged. Where a computed curve says that
    less than half of the charge can be used, that decides.
    """
    within_low = series * nominal_v >= old.low_v - TOLERANCE_V
    if not within_low:
        return NEVER
    if series * full_v <= old.high_v + TOLERANCE_V:
        return FITS
    return LOWER if series * nominal_v < old.high_v - TOLERANCE_V else NEVER


# How much of the charge is used -----------------------------------------------------------------------------------


def _curves_for(subject: Subject, curves: Mapping[str, CellCurves]) -> CellCurves | None:
    """The first computed cell of the chemistry, by id, with a curve at the rate asked: one cell, not an average."""
    return next((c for c in curves.values() if c.chemistry == subject.id and c.curve(SHARE_RATE_C)), None)


def used_percent(curve: CellCurves, ceiling_v: float, floor_v: float) -> float:
    """Return the share of the full charge [percent] between two voltages of a cell.

    The upper end is read at rest, because a charge held at a voltage ends there; the lower on the 0.2 C curve at 25 degC.
    """
    rest_v = np.asarray(curve.open_circuit_v)[::-1]
    taken_out = float(np.interp(ceiling_v, rest_v, np.asarray(curve.share_discharged)[::-1])) * curve.window_ah
    load = curve.curve(SHARE_RATE_C)
    given = float(np.interp(floor_v, np.asarray(load.voltage_v)[::-1], np.asarray(load.capacity_ah)[::-1]))
    return round(100.0 * max(given - taken_out, 0.0) / curve.reference_ah)
