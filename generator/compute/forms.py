"""Evaluate published functions of (x, temperature): value and analytic slope by x.

x is a stoichiometry or an electrolyte concentration in mol/m3, of any shape;
temperature in kelvin is a number or broadcasts against x. A pole or a point outside
the domain of a logarithm or power gives inf or nan as numpy does.
"""

from __future__ import annotations

from functools import lru_cache
from types import SimpleNamespace

import numpy as np

from generator.model.function import Function, Term

from .form_kernels import GAS_J_MOL_K, KERNELS, horner

_STACKABLE = ("tanh", "exponential", "gaussian", "sech-squared", "arctan", "power")
_STACKED_FIELDS = ("amplitude", "offset", "rate", "centre", "width", "exponent")


def evaluate(function: Function, x, temperature_k) -> np.ndarray:
    """Value of `function`, in its unit, with the shape of x."""
    return _derivative(function, x, temperature_k, 0)[0]


def slope(function: Function, x, temperature_k) -> np.ndarray:
    """Analytic d(value)/dx, with the shape of x."""
    return _derivative(function, x, temperature_k, 1)[1]


def value_and_slope(function: Function, x, temperature_k):
    """(value, d(value)/dx), both with the shape of x, cheaper than two calls."""
    return _derivative(function, x, temperature_k, 1)


def exchange_current_a_m2(kinetics, maximum_mol_m3, x, electrolyte_mol_m3, temperature_k):
    """Exchange-current density i0 of an insertion reaction, A/m2.

    x is the surface stoichiometry; see generator.model.cell.Kinetics for the formula.
    """
    rate = kinetics.scale * evaluate(kinetics.rate, x, temperature_k)
    salt = electrolyte_mol_m3 / kinetics.electrolyte_reference_mol_m3
    host = x * (1.0 - x) * (maximum_mol_m3 / kinetics.solid_reference_mol_m3) ** 2
    return rate * salt**kinetics.electrolyte_exponent * host**kinetics.solid_exponent


def _derivative(function, x, temperature_k, order):
    x = np.asarray(x, dtype=float) * function.x_scale
    terms, factors = _prepared(function)
    value = _sum(terms, x, temperature_k, 0)
    gain = _sum(terms, x, temperature_k, 1) * function.x_scale if order else None
    if function.outer:
        if order:
            gain = gain * horner(function.outer, value, 1)
        value = horner(function.outer, value)
    for factor in factors:
        part = _one(factor, x, temperature_k, 0)
        if order:
            gain = gain * part + value * _one(factor, x, temperature_k, 1) * function.x_scale
        value = value * part
    if function.activation_energy_j_mol == 0.0:
        return value, gain
    arrhenius = _arrhenius(function, temperature_k)
    return value * arrhenius, gain * arrhenius if order else None


def _arrhenius(function, temperature_k):
    """exp(E/R (1/T_ref - 1/T))."""
    inverse = 1.0 / function.arrhenius_reference_k - 1.0 / temperature_k
    return np.exp(function.activation_energy_j_mol / GAS_J_MOL_K * inverse)


def _sum(terms, x, temperature_k, order):
    total = np.zeros_like(x)
    for term in terms:
        total = total + _one(term, x, temperature_k, order)
    return total


def _one(term, x, temperature_k, order):
    if isinstance(term, SimpleNamespace):
        return KERNELS[term.form](term, x[..., None], temperature_k, order) @ term.amplitude
    value = term.amplitude * KERNELS[term.form](term, x, temperature_k, order)
    if term.boltzmann_k:
        value = value * np.exp(-term.boltzmann_k / temperature_k)
    if term.temperature_slope_per_k:
        above = temperature_k - term.temperature_origin_k
        value = value * (1.0 + term.temperature_slope_per_k * above)
    return value


@lru_cache(maxsize=1024)
def _prepared(function: Function):
    """Terms with equal temperature-free forms stacked into one, and the factors."""
    groups: dict[str, list[Term]] = {}
    rest: list[Term] = []
    for term in function.terms:
        fixed = not (term.boltzmann_k or term.temperature_slope_per_k)
        home = groups.setdefault(term.form, []) if fixed and term.form in _STACKABLE else rest
        home.append(term)
    stacked = [_stack(group) for group in groups.values()]
    return tuple(rest + stacked), function.factors


def _stack(group):
    if len(group) == 1:
        return group[0]
    columns = {name: np.array([getattr(term, name) for term in group]) for name in _STACKED_FIELDS}
    return SimpleNamespace(form=group[0].form, **columns)
