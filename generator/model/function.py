"""Function forms as data: what a published curve fit is made of.

A function is value(x, T) = outer(sum of terms) * product of factors
* exp(E/R (1/T_ref - 1/T)), every piece a named mathematical form with
coefficients. No expression text is ever evaluated.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, fields
from typing import Any

FORMS = (
    "constant",
    "polynomial",
    "rational",
    "power",
    "exponential",
    "exponential-of-power",
    "exponential-of-polynomial",
    "gaussian",
    "tanh",
    "sech-squared",
    "arctan",
    "logarithm",
    "logit",
    "polynomial-of-log10",
    "redlich-kister",
    "table",
    "temperature-power",
    "polynomial-in-x-and-temperature",
    "vogel-fulcher-tammann",
    "nernst-einstein",
)


@dataclass(frozen=True, slots=True, eq=False)
class Term:
    """One mathematical form with its coefficients.

    Most forms act on u = offset + rate * (x - centre) / width, all times
    `amplitude`, times exp(-boltzmann_k / T) and
    (1 + temperature_slope_per_k * (T - temperature_origin_k)).
    `generator.compute.forms` states the formula of each form.
    """

    form: str
    amplitude: float = 1.0
    coefficients: tuple[float, ...] = ()
    denominator: tuple[float, ...] = ()
    rows: tuple[tuple[float, ...], ...] = ()
    offset: float = 0.0
    rate: float = 1.0
    centre: float = 0.0
    width: float = 1.0
    exponent: float = 1.0
    boltzmann_k: float = 0.0
    temperature_slope_per_k: float = 0.0
    temperature_origin_k: float = 298.15
    table_x: tuple[float, ...] = ()
    table_y: tuple[float, ...] = ()
    interpolation: str = "linear"
    energy_j_mol: float = 0.0
    mixing_temperature_k: float = 300.0
    gap_from: float = 1.0
    gap_to: float = 1.0
    gap_energy_j_mol: float = 0.0


@dataclass(frozen=True, slots=True, eq=False)
class Function:
    """A published function of x (stoichiometry, or mol/m3) and temperature.

    x is multiplied by `x_scale` before any term sees it. `outer` are ascending
    polynomial coefficients applied to the sum of the terms (empty: the sum itself).
    `activation_energy_j_mol` 0 means no Arrhenius factor. `valid_from`/`valid_to`
    are in the units of x before scaling. Compared and hashed by identity.
    """

    unit: str
    terms: tuple[Term, ...]
    factors: tuple[Term, ...] = ()
    outer: tuple[float, ...] = ()
    x_scale: float = 1.0
    activation_energy_j_mol: float = 0.0
    arrhenius_reference_k: float = 298.15
    valid_from: float | None = None
    valid_to: float | None = None

    @property
    def is_constant(self) -> bool:
        """True where neither x nor temperature changes the value."""
        plain = all(_is_plain_constant(term) for term in self.terms + self.factors)
        return plain and self.activation_energy_j_mol == 0.0


def _is_plain_constant(term: Term) -> bool:
    varies = term.boltzmann_k or term.temperature_slope_per_k
    return term.form == "constant" and not varies


def constant(value: float, unit: str = "1") -> Function:
    """A function that is `value` everywhere."""
    return Function(unit=unit, terms=(Term("constant", amplitude=float(value)),))


def term_from_data(data: Mapping[str, Any]) -> Term:
    """Build a Term from one checked mapping of a cell file."""
    known = {field.name for field in fields(Term)}
    return Term(**{key: _plain(data[key]) for key in data if key in known})


def function_from_data(data: Mapping[str, Any]) -> Function:
    """Build a Function from one checked mapping of a cell file."""
    return Function(
        unit=data["unit"],
        terms=tuple(term_from_data(term) for term in data["terms"]),
        factors=tuple(term_from_data(term) for term in data.get("factors", ())),
        outer=_plain(data.get("outer", ())),
        x_scale=float(data.get("x_scale", 1.0)),
        activation_energy_j_mol=float(data.get("activation_energy_j_mol", 0.0)),
        arrhenius_reference_k=float(data.get("arrhenius_reference_k", 298.15)),
        valid_from=data.get("valid_from"),
        valid_to=data.get("valid_to"),
    )


def _plain(value: Any) -> Any:
    if isinstance(value, str):
        return value
    if isinstance(value, list | tuple):
        return tuple(_plain(item) for item in value)
    return float(value)
