"""From measured cells to a pack: refuse what must not be used, group the rest, say what the spread costs."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from generator.compute.grouping import group_cells
from generator.compute.measurements import MeasuredCell
from generator.compute.plain import plain

# Against the middle of the set. Common practice without a published source: a cell far from its mates is not one of them.
RESISTANCE_RATIO_MAX = 2.0
SELF_DISCHARGE_RATIO_MAX = 3.0
# A voltmeter's last digit and the cell still settling look like a loss of this size [mV/day]; below it nobody is refused.
SELF_DISCHARGE_NOISE = 1.0
# A middle means something from this many cells on.
LEAST_TO_COMPARE = 5
# A used cell this far below the middle of its set is pointed out.
WEAK_SHARE = 0.6
# Cells further apart than this must not be joined as they are: 0.05 V across two cells of 25 mOhm drives 1 A.
MAX_JOIN_DIFFERENCE_V = 0.05
MAX_COUNT = 100_000


class TooFewCells(ValueError):
    """The cells do not suffice; the message says how many there are, are needed and were refused."""


@dataclass(frozen=True, slots=True)
class Reject:
    """A cell left out. ``refused``: it must not be used; otherwise it is merely not needed."""

    cell: str
    reason: str
    refused: bool


@dataclass(frozen=True, slots=True)
class Group:
    """Cells to be joined in parallel, their capacity together [mAh] and their resistance together [mOhm], where measured."""

    cells: tuple[str, ...]
    capacity_mah: float
    resistance_mohm: float | None


@dataclass(frozen=True, slots=True)
class Match:
    """A grouping of cells.

    ``usable_capacity_mah``: of the string, its weakest group. ``bound_mah``: no grouping of the cells does better;
    ``optimal``: this one is proven the best. ``spread_mah``: strongest less weakest group. ``wasted_mah`` and
    ``wasted_share``: capacity of the used cells that the string cannot use. ``notes``: what to look at again.
    """

    series: int
    parallel: int
    groups: tuple[Group, ...]
    rejects: tuple[Reject, ...]
    usable_capacity_mah: float
    bound_mah: float
    optimal: bool
    spread_mah: float
    wasted_mah: float
    wasted_share: float
    notes: tuple[str, ...]


def match_cells(cells: Sequence[MeasuredCell], series: int, parallel: int, floor_v: float | None) -> Match:
    """Return the grouping of cells into ``series`` groups of ``parallel`` that wastes least.

    ``floor_v``: a cell found below it is refused; None refuses none by voltage. Raises TooFewCells, or ValueError for
    counts outside 1 to 100 000.
    """
    if not (1 <= series <= MAX_COUNT and 1 <= parallel <= MAX_COUNT):
        raise ValueError(f"cells in series and in parallel are counted from 1 to {MAX_COUNT}")
    refused = refusals(cells, floor_v)
    fit = [cell for cell, reason in zip(cells, refused, strict=True) if reason is None]
    no = tuple(Reject(cell.cell, reason, True) for cell, reason in zip(cells, refused, strict=True) if reason)
    if len(fit) < series * parallel:
        raise TooFewCells(_too_few(len(fit), series, parallel, no))
    scale = 10 ** max(_decimals(cell.capacity_mah) for cell in fit)
    whole = [_whole(cell.capacity_mah, scale) for cell in fit]
    found = group_cells(whole, series, parallel)
    sums = [sum(whole[i] for i in group) for group in found.groups]
    weakest, total = min(sums), sum(sums)
    spare = tuple(Reject(fit[i].cell, _spare_reason(whole[i], whole, found.groups), False) for i in found.spare)
    return Match(
        series=series,
        parallel=parallel,
        groups=tuple(Group(tuple(fit[i].cell for i in group), s / scale, _together([fit[i] for i in group])) for group, s in zip(found.groups, sums, strict=True)),
        rejects=no + spare,
        usable_capacity_mah=weakest / scale,
        bound_mah=found.bound / scale,
        optimal=found.optimal,
        spread_mah=(max(sums) - weakest) / scale,
        wasted_mah=(total - series * weakest) / scale,
        wasted_share=(total - series * weakest) / total,
        notes=_notes([fit[i] for group in found.groups for i in group], parallel),
    )


def refusals(cells: Sequence[MeasuredCell], floor_v: float | None) -> list[str | None]:
    """Return for each cell why it must not be used, or None."""
    resistance = _middle([c.resistance_mohm for c in cells])
    leak = _middle([c.self_discharge_mv_per_day for c in cells])
    return [_voltage(c, floor_v) or _leakage(c, leak) or _resistance(c, resistance) for c in cells]


def _voltage(cell: MeasuredCell, floor_v: float | None) -> str | None:
    if cell.voltage_v is None or floor_v is None or cell.voltage_v >= floor_v:
        return None
    return f"found at {plain(cell.voltage_v)} V, below the floor of {plain(floor_v)} V: recycle it, do not charge it"


def _leakage(cell: MeasuredCell, middle: float | None) -> str | None:
    loss = cell.self_discharge_mv_per_day
    if loss is None or middle is None:
        return None
    limit = max(SELF_DISCHARGE_RATIO_MAX * middle, middle + SELF_DISCHARGE_NOISE)
    return f"loses {plain(loss)} mV a day, the middle of the set {plain(middle)}: it leaks, recycle it" if loss > limit else None


def _resistance(cell: MeasuredCell, middle: float | None) -> str | None:
    ohms = cell.resistance_mohm
    if ohms is None or middle is None or ohms <= RESISTANCE_RATIO_MAX * middle:
        return None
    return f"resistance {plain(ohms)} mOhm, more than {plain(RESISTANCE_RATIO_MAX)} times the middle of the set, {plain(middle)}: worn or damaged"


def _middle(figures: Sequence[float | None]) -> float | None:
    """The median (the lower of two), or None where too few cells were measured to speak of a middle."""
    given = sorted(figure for figure in figures if figure is not None)
    return given[(len(given) - 1) // 2] if len(given) >= LEAST_TO_COMPARE else None


def _together(cells: Sequence[MeasuredCell]) -> float | None:
    if any(cell.resistance_mohm is None for cell in cells):
        return None
    return round(1.0 / sum(1.0 / cell.resistance_mohm for cell in cells), 4)


def _decimals(figure: float) -> int:
    """Decimals of a capacity, at most three: a microampere-hour."""
    return next((d for d in range(3) if _whole(figure, 10**d) / 10**d == figure), 3)


def _whole(figure: float, scale: int) -> int:
    """Half up, as the page's script rounds."""
    return math.floor(figure * scale + 0.5)


def _spare_reason(cap: int, whole: Sequence[int], groups: Sequence[Sequence[int]]) -> str:
    weakest_used = min(whole[i] for group in groups for i in group)
    return "weaker than every cell used" if cap < weakest_used else "not needed: the weakest group would gain nothing; keep it for another pack"


def _too_few(fit: int, series: int, parallel: int, refused: Sequence[Reject]) -> str:
    text = f"{series}S{parallel}P needs {series * parallel} cells, but only {fit} may be used"
    if not refused:
        return f"{text}."
    shown = "; ".join(f"{r.cell}: {r.reason}" for r in refused[:5])
    more = f"; and {len(refused) - 5} more" if len(refused) > 5 else ""
    return f"{text}, {len(refused)} refused ({shown}{more})."


def _notes(used: Sequence[MeasuredCell], parallel: int) -> tuple[str, ...]:
    notes = []
    middle = _middle([cell.capacity_mah for cell in used])
    weak = [cell.cell for cell in used if middle is not None and cell.capacity_mah < WEAK_SHARE * middle]
    if weak:
        notes.append(f"Below {WEAK_SHARE:.0%} of the middle of the cells used: {_names(weak)}. Measure again, or leave out.")
    volts = [cell.voltage_v for cell in used if cell.voltage_v is not None]
    if parallel > 1 and volts and max(volts) - min(volts) > MAX_JOIN_DIFFERENCE_V:
        notes.append(f"Voltages from {plain(min(volts))} to {plain(max(volts))} V: bring the cells of a group to one voltage before joining them, or a large current flows.")
    return tuple(notes)


def _names(names: Sequence[str]) -> str:
    return ", ".join(names[:10]) + (f" and {len(names) - 10} more" if len(names) > 10 else "")
