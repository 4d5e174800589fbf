"""Published open-circuit functions as curves: what one electrode, or a whole cell, shows at rest."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from generator.compute import forms
from generator.model.published import NamedFunction, Published

POINTS = 101
_KELVIN = 273.15


@dataclass(frozen=True, slots=True)
class FunctionCurve:
    """One open-circuit function [V] over its published range of ``x``, the stoichiometry.

    ``electrode`` names the electrode whose potential it is; None means the voltage of a whole cell.
    """

    key: str
    name: str
    electrode: str | None
    temperature_c: float
    x: tuple[float, ...]
    voltage_v: tuple[float, ...]
    source: str
    locator: str | None
    grade: str
    note: str | None


def function_curves(cell: Published) -> tuple[FunctionCurve, ...]:
    """Return the curves of a cell of kind open-circuit, empty for every other kind.

    Raises ArithmeticError where a function has no finite value inside its own range.
    """
    return tuple(_curve(cell, named) for named in cell.functions)


def _curve(cell: Published, named: NamedFunction) -> FunctionCurve:
    function, celsius = named.function, cell.temperatures_valid_c[0]
    x = np.linspace(function.valid_from, function.valid_to, POINTS)
    volts = forms.evaluate(function, x, celsius + _KELVIN)
    if not np.isfinite(volts).all():
        raise ArithmeticError(f"{cell.id}: {named.key} has no finite value somewhere in its range")
    return FunctionCurve(
        named.key,
        named.name,
        named.electrode,
        celsius,
        tuple(round(float(v), 6) for v in x),
        tuple(round(float(v), 6) for v in volts),
        named.source,
        named.locator,
        named.grade,
        named.note,
    )
