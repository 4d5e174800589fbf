"""What a lead-acid charger does to the cells that stand in for the battery it was made for."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from generator.compute.lead_acid_tables import at_temperature
from generator.compute.span import Span, span_of
from generator.compute.standin import TOLERANCE_V, Candidate
from generator.model.library import Library
from generator.model.subject import Stated, Subject

COLD_C = 0.0  # where lithium-ion may no longer be charged and a compensated lead-acid charger gives more
KINDS = ("lead-acid-gel", "lead-acid-agm", "lead-acid-flooded")


@dataclass(frozen=True, slots=True)
class ChargerSetting:
    """What a lead-acid charger puts out on a battery of ``cells`` [V], and what says so."""

    name: str
    volts: Span
    basis: tuple[Stated, ...]
    keeps_on: bool


def charger_settings(library: Library, cells: int) -> tuple[ChargerSetting, ...]:
    """Return the stages of lead-acid chargers for ``cells`` in series: by kind, equalising, float and in the cold."""
    made = []
    for id in KINDS:
        subject = library.chemistries.get(id)
        if subject:
            made += _settings(subject, cells)
    return tuple(made)


def _settings(subject: Subject, cells: int) -> Iterator[ChargerSetting]:
    named = (("absorption", "absorption-voltage", False), ("float", "float-voltage", True), ("equalise", "equalise-voltage", False))
    for name, quantity, keeps_on in named:
        stated = subject.figure(quantity)
        if stated:
            yield ChargerSetting(f"{subject.abbreviation}, {name}", span_of(stated).times(cells, 2), (stated,), keeps_on)
    cold = _cold(subject, cells)
    if cold:
        yield cold


def _cold(subject: Subject, cells: int) -> ChargerSetting | None:
    stated, step = subject.figure("absorption-voltage"), subject.figure("temperature-compensation")
    values = {v.condition.temperature_c for v in subject.values if stated and v.id in stated.value_ids}
    if not (stated and step) or len(values) != 1:
        return None
    # The strongest compensation of the span: the higher voltage is the one that could hurt.
    volts = at_temperature(span_of(stated).high, values.pop(), span_of(step).low, COLD_C)
    top = round(cells * volts, 2)
    return ChargerSetting(f"{subject.abbreviation}, absorption at {COLD_C:g} \u00b0C", Span(top, top), (stated, step), False)


def per_cell(setting: ChargerSetting, series: int) -> float:
    """Return the highest voltage of a stage per cell of the stand-in [V]: an upper bound errs to the safe side."""
    return round(setting.volts.high / series, 3)


def over_limit(setting: ChargerSetting, candidate: Candidate) -> bool:
    """Whether a stage drives cells of the candidate above their highest charging voltage."""
    return setting.volts.high > candidate.full_v + TOLERANCE_V
