"""Nickel cells in series: where to stop a discharge so that the weakest is not reversed, and how a charge is known to be over."""

from __future__ import annotations

from dataclasses import dataclass

from generator.compute.pack import SERIES
from generator.compute.span import Span, span_of
from generator.model.library import Library
from generator.model.subject import Stated, Subject

# Up to here a maker prints the rule; beyond, it is the same arithmetic and nobody's word.
# Evergreen NC23AA400, section 3, battery pack condition: 1 to 6 cells and 7 to 10 cells.
SOURCED_CELLS = 10
TERMINATION = (
    "negative-delta-v",
    "temperature-rise-rate",
    "charge-termination-temperature",
    "charge-time",
    "charge-factor",
    "trickle-rate",
)


@dataclass(frozen=True, slots=True)
class StringLine:
    """Volts of ``cells`` in series [V].

    ``cutoff_v`` is where to stop; ``weakest_at_cell_cutoff_v`` what the weakest cell may stand at when the string is
    stopped at the cell's own cut-off times the cells while all others are still at the nominal voltage: below zero it
    is reversed. ``full_v`` is at rest and None where the record has none; ``fall_mv`` the fall that ends a fast charge.
    """

    cells: int
    empty_v: float
    cutoff_v: float
    nominal_v: float
    full_v: Span | None
    weakest_at_cell_cutoff_v: float
    fall_mv: Span | None
    sourced: bool


def string_cutoff_v(cells: int, cell_cutoff_v: float, nominal_v: float) -> float:
    """Return where to stop a string [V]: its cells' cut-off, or the nominal voltage of one cell fewer, whichever is higher.

    A maker's rule is 1.0 V times the cells up to six and 1.2 V times one cell fewer from seven to ten; with those
    figures it is the same as this maximum. Raises ValueError below one cell.
    """
    if cells < 1:
        raise ValueError(f"a string needs at least one cell, not {cells}")
    return max(cells * cell_cutoff_v, (cells - 1) * nominal_v)


def weakest_v(cells: int, string_v: float, others_v: float) -> float:
    """Return the voltage of the weakest cell [V] when the string shows ``string_v`` and every other cell ``others_v``."""
    return string_v - (cells - 1) * others_v


def is_string_chemistry(subject: Subject) -> bool:
    """Whether the rule for strings is known for the chemistry: nickel cells without a voltage limit on charge."""
    return subject.family == "nickel" and subject.figure("pack-cutoff-voltage") is not None


def string_table(subject: Subject) -> tuple[StringLine, ...]:
    """Return the lines for 1 to 24 cells; empty where the rule is not known or a voltage is missing."""
    cutoff, nominal = subject.volts("discharge-cutoff-voltage"), subject.volts("nominal-voltage")
    if not is_string_chemistry(subject) or cutoff is None or nominal is None:
        return ()
    full, fall = (span_of(subject.figure(q)) for q in ("open-circuit-voltage-full", "negative-delta-v"))
    return tuple(_line(n, cutoff, nominal, full, fall) for n in SERIES)


def _line(n: int, cutoff: float, nominal: float, full: Span | None, fall: Span | None) -> StringLine:
    empty = n * cutoff
    return StringLine(
        cells=n,
        empty_v=round(empty, 3),
        cutoff_v=round(string_cutoff_v(n, cutoff, nominal), 3),
        nominal_v=round(n * nominal, 3),
        full_v=full.times(n) if full else None,
        weakest_at_cell_cutoff_v=round(weakest_v(n, empty, nominal), 3),
        fall_mv=fall.times(n, 0) if fall else None,
        sourced=n <= SOURCED_CELLS,
    )


def charge_hours(c_rate: float, charge_factor_percent: float) -> float:
    """Return the hours of a charge by the clock: the charge to give back over the rate. Raises ValueError for no current."""
    if c_rate <= 0:
        raise ValueError("a charge needs a current")
    return charge_factor_percent / 100.0 / c_rate


@dataclass(frozen=True, slots=True)
class ClockCharge:
    """A charge ended by the clock: the stated rate and charge factor, and the hours they give."""

    rate: Stated
    factor: Stated
    hours: float


def clock_charge(subject: Subject, library: Library) -> ClockCharge | None:
    """Return the slow charge by the clock; the charge factor is the chemistry's own or that of nickel cells of any kind."""
    rate, practice = subject.figure("charge-rate-standard"), library.practices.get("nickel")
    factor = subject.figure("charge-factor") or (practice.figure("charge-factor") if practice else None)
    if rate is None or factor is None or rate.typical is None or factor.typical is None:
        return None
    return ClockCharge(rate, factor, round(charge_hours(rate.typical, factor.typical), 1))


def termination(subject: Subject) -> tuple[Stated, ...]:
    """Return the stated figures that end a charge, standard cells first within each quantity."""
    return tuple(s for quantity in TERMINATION for s in subject.stated if s.quantity.id == quantity)
