"""Sentences about discharge curves: the model, how far it holds, where a curve stopped."""

from __future__ import annotations

from collections.abc import Sequence

from generator.compute.curves import CellCurves, Curve
from generator.draw.curve_parts import degrees, rate_text
from generator.model.published import Published
from generator.pages.format import number

MODELS = {
    "DFN": "the porous-electrode (DFN) model",
    "porous lead-acid": "a porous lead-acid model (its acid is used up)",
}
KINDS = {
    "porous-electrode": "computed discharge, porous-electrode model",
    "lead-acid-porous": "computed discharge, porous lead-acid model",
    "table-with-resistance": "measured points with resistance",
    "open-circuit": "open-circuit function of electrodes, not of a cell",
}
_BASES = {
    "read": "read in the source",
    "reported": "reported by another document",
    "recalled": "recalled, not checked",
    "not-known": "not known to us",
}


def model_words(curves: CellCurves) -> str:
    """Return which model made the curves."""
    name = curves.curves[0].model
    return MODELS.get(name, f"the {name} model")


def basis_words(cell: Published) -> str:
    """Return how well the validated rates are known."""
    return _BASES.get(cell.rate_basis, "not known to us")


def reach(cell: Published, curves: CellCurves) -> str:
    """Return for which rates and temperatures curves are shown, as one sentence."""
    rates = f"Shown up to {rate_text(max(c.c_rate for c in curves.curves))}"
    warmth = curves.temperatures_c()
    where = f"at {degrees(warmth[0])} only" if len(warmth) == 1 else f"from {degrees(warmth[0])} to {degrees(warmth[-1])}"
    return f"{rates} and {where}; how far measurement bears out the rates: {basis_words(cell)}."


def stops(curves: CellCurves) -> tuple[str, ...]:
    """Return where curves end before the cut-off voltage, slowest and coldest first, for example

    "2 C at 0 degC: stops at 11 % and 3.67 V".
    """
    early = [curve for curve in curves.curves if curve.stopped_because != "cutoff-voltage"]
    early.sort(key=lambda curve: (curve.temperature_c, curve.c_rate))
    return tuple(_stop(curve, curves) for curve in early)


def _stop(curve: Curve, curves: CellCurves) -> str:
    share = 100.0 * curve.capacity_ah[-1] / curves.reference_ah
    return f"{rate_text(curve.c_rate)} at {degrees(curve.temperature_c)} (at {share:.0f} % and {number(round(curve.voltage_v[-1], 2), 2)} V)"


def joined(words: Sequence[str]) -> str:
    """Return words as a list in a sentence."""
    return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} and {words[-1]}"
