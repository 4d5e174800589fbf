"""Why an explanation of a label stands where it stands: one plain sentence."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import TYPE_CHECKING

from generator.model.label import Label

if TYPE_CHECKING:
    from generator.compute.label_candidates import Candidate

CLOSE_V = 0.05  # a difference below this is rounding and not worth a word


def volts_text(volts: float) -> str:
    """Return a voltage without trailing zeros, to the millivolt: 10.8, 12, 3.635."""
    return f"{round(volts, 3):g}"


def full_text(volts: float) -> str:
    """Return a highest voltage with two decimals, rounded down so that it is never above the limit."""
    return f"{math.floor(round(volts * 1000) / 10) / 100:.2f}"


def empty_text(volts: float) -> str:
    """Return a lowest voltage with two decimals, rounded up so that it is never below the limit."""
    return f"{math.ceil(round(volts * 1000) / 10) / 100:.2f}"


def cells(series: int) -> str:
    """Return "one cell" or "3 cells"."""
    return "one cell" if series == 1 else f"{series} cells"


def reason(volts: float, best: Candidate, evidence: Sequence[Label], usual: bool) -> str:
    """Return the arithmetic of the best-fitting candidate and what is known of such packs, as one sentence."""
    return f"{_capital(_arithmetic(volts, best))}; {_standing(best.series, evidence, usual)}."


def _arithmetic(volts: float, best: Candidate) -> str:
    many, each, total = cells(best.series), volts_text(best.per_cell_v), volts_text(best.volts)
    if best.reading == "class":
        return f"{many} with a nominal voltage of {total} V, sold as {volts_text(volts)} V"
    if best.reading == "full" and best.per_cell_v != best.kind.full_v:
        return f"{many} counted at {each} V, a rounded highest voltage, not the nominal one"
    if best.reading == "full":
        return f"{many} fully charged to {each} V each, {total} V: a charger's output or a highest voltage"
    gap = volts - best.volts
    off = "" if abs(gap) < CLOSE_V else f", {volts_text(abs(gap))} V {'below' if gap > 0 else 'above'} the print"
    return f"{many} at a nominal {each} V make {total} V{off}"


def _standing(series: int, evidence: Sequence[Label], usual: bool) -> str:
    if not evidence:
        count = f"{cells(series)} in series {'is' if series == 1 else 'are'} {'usual' if usual else 'unusual'}"
        return f"no source here names such a label, {'though' if usual else 'and'} {count}"
    sources = {entry.evidence.source for entry in evidence if entry.evidence.source and entry.evidence.grade in ("read", "reported")}
    if sources:
        return f"{len(sources)} source{'s' * (len(sources) != 1)} here name{'s' * (len(sources) == 1)} such a label"
    grades = {entry.evidence.grade for entry in evidence}
    if "derived" in grades:
        return "worked from what a source says of similar packs"
    return "common practice, no published source" if "practice" in grades else "from memory, not yet checked"


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]
