"""How far the sources of a chemistry reach on one quantity: ranges for comparing chemistries, never averages."""

from __future__ import annotations

from dataclasses import dataclass

from generator.model.subject import Subject, Value

MONTHS_IN_YEAR = 12


@dataclass(frozen=True, slots=True)
class Reach:
    """The lowest and highest figure any source gives for any kind of a chemistry, and how many values there are.

    ``open_high`` is true when the highest was given as "at least", ``open_low`` when the lowest was "at most".
    ``recalled`` when nothing but memory stands behind it.
    """

    subject: Subject
    low: float
    high: float
    count: int
    open_low: bool
    open_high: bool
    recalled: bool


def reach(subject: Subject, quantity: str, factor: float = 1.0) -> Reach | None:
    """Return the reach of one quantity, times ``factor``; recalled values count only where there are no others."""
    values = list(subject.values_of(quantity))
    credible = [value for value in values if value.grade != "recalled"] or values
    if not credible:
        return None
    low, high = min(map(_lowest, credible)), max(map(_highest, credible))
    return Reach(
        subject=subject,
        low=low * factor,
        high=high * factor,
        count=len(credible),
        open_low=all(v.min is None and v.typical is None for v in credible if _lowest(v) == low),
        open_high=all(v.max is None and v.typical is None for v in credible if _highest(v) == high),
        recalled=all(value.grade == "recalled" for value in credible),
    )


def self_discharge(subject: Subject) -> Reach | None:
    """Return self-discharge per month [percent]; yearly figures, as primary cells have them, divided by twelve."""
    return reach(subject, "self-discharge") or reach(subject, "self-discharge-yearly", 1 / MONTHS_IN_YEAR)


def _lowest(value: Value) -> float:
    return min(number for number in (value.min, value.typical, value.max) if number is not None)


def _highest(value: Value) -> float:
    return max(number for number in (value.min, value.typical, value.max) if number is not None)


@dataclass(frozen=True, slots=True)
class CellPotential:
    """The voltage of a cell [V] from the standard potentials of its electrodes against hydrogen."""

    positive: Value
    negative: Value
    volts: float


def cell_potential(subject: Subject) -> CellPotential | None:
    """Return positive minus negative standard potential, at 25 degC and unit activities; None without both.

    The two are the values of ``electrode-potential`` whose keys end in -positive and -negative.
    """
    ends = {}
    for value in subject.values_of("electrode-potential"):
        for end in ("positive", "negative"):
            if value.key.endswith(f"-{end}") and value.typical is not None:
                ends[end] = value
    if len(ends) < 2:
        return None
    return CellPotential(ends["positive"], ends["negative"], round(ends["positive"].typical - ends["negative"].typical, 3))
