"""The closed set of mathematical forms: value and slope of one term.

A kernel takes (term, x, temperature_k, order) and returns the bare form (order 0)
or its derivative by x (order 1), without amplitude or temperature factor. The usual
argument is u = offset + rate (x - centre) / width. Term fields may be arrays that
broadcast against x, which is how equal forms are evaluated in one call.
"""

from __future__ import annotations

from collections.abc import Callable

import numpy as np

from .spline import piecewise

GAS_J_MOL_K = 8.31446261815324  # CODATA 2018, exact by definition of the SI
FARADAY_C_MOL = 96485.33212331001  # likewise
_LN10 = np.log(10.0)


def horner(coefficients, u, order=0):
    """Polynomial with ascending coefficients at u (order 1: its derivative)."""
    if order:
        coefficients = [i * c for i, c in enumerate(coefficients)][1:]
    total = np.zeros_like(u)
    for coefficient in reversed(coefficients):
        total = total * u + coefficient
    return total


def _u(term, x):
    return term.offset + term.rate * (x - term.centre) / term.width


def _gain(term):
    return term.rate / term.width


def _constant(term, x, temperature_k, order):
    return np.zeros_like(x) if order else np.ones_like(x)


def _polynomial(term, x, temperature_k, order):
    value = horner(term.coefficients, _u(term, x), order)
    return value * _gain(term) if order else value


def _rational(term, x, temperature_k, order):
    u = _u(term, x)
    top, bottom = horner(term.coefficients, u), horner(term.denominator, u)
    if not order:
        return top / bottom
    top_slope = horner(term.coefficients, u, 1)
    bottom_slope = horner(term.denominator, u, 1)
    return _gain(term) * (top_slope * bottom - top * bottom_slope) / bottom**2


def _power(term, x, temperature_k, order):
    u = _u(term, x)
    if not order:
        return u**term.exponent
    return _gain(term) * term.exponent * u ** (term.exponent - 1.0)


def _exponential(term, x, temperature_k, order):
    value = np.exp(_u(term, x))
    return value * _gain(term) if order else value


def _exponential_of_power(term, x, temperature_k, order):
    """exp(offset + rate (x - centre)^exponent / width)."""
    from_centre = x - term.centre
    value = np.exp(term.offset + _gain(term) * from_centre**term.exponent)
    if not order:
        return value
    return value * _gain(term) * term.exponent * from_centre ** (term.exponent - 1.0)


def _exponential_of_polynomial(term, x, temperature_k, order):
    u = _u(term, x)
    value = np.exp(horner(term.coefficients, u))
    return value * horner(term.coefficients, u, 1) * _gain(term) if order else value


def _gaussian(term, x, temperature_k, order):
    """exp(-rate (x - centre)^2 / width)."""
    from_centre = x - term.centre
    value = np.exp(-_gain(term) * from_centre**2)
    return -2.0 * _gain(term) * from_centre * value if order else value


def _tanh(term, x, temperature_k, order):
    u = _u(term, x)
    return _gain(term) * _sech2(u) if order else np.tanh(u)


def _sech2(u):
    decay = np.exp(-2.0 * np.abs(u))  # no overflow for any u
    return 4.0 * decay / (1.0 + decay) ** 2


def _sech_squared(term, x, temperature_k, order):
    u = _u(term, x)
    value = _sech2(u)
    return -2.0 * _gain(term) * value * np.tanh(u) if order else value


def _arctan(term, x, temperature_k, order):
    u = _u(term, x)
    return _gain(term) / (1.0 + u * u) if order else np.arctan(u)


def _logarithm(term, x, temperature_k, order):
    u = _u(term, x)
    return _gain(term) / u if order else np.log(u)


def _logit(term, x, temperature_k, order):
    u = _u(term, x)
    return _gain(term) / (u * (1.0 - u)) if order else np.log(u / (1.0 - u))


def _polynomial_of_log10(term, x, temperature_k, order):
    u = _u(term, x)
    value = horner(term.coefficients, np.log10(u), order)
    return value * _gain(term) / (u * _LN10) if order else value


def _redlich_kister(term, x, temperature_k, order):
    """-mu/F of a regular-solution expansion, flat (two phases) inside the gap."""
    thermal = GAS_J_MOL_K * term.mixing_temperature_k
    mixed, s = x * (1.0 - x), 1.0 - 2.0 * x
    if order:
        mu = thermal / mixed
    else:
        mu = term.energy_j_mol + thermal * np.log(x / (1.0 - x))
    for i, energy in enumerate(term.coefficients):
        mu = mu + energy * _mixing(i, s, mixed, order)
    plateau = 0.0 if order else term.gap_energy_j_mol
    inside = (x > term.gap_from) & (x < term.gap_to)
    return -np.where(inside, plateau, mu) / FARADAY_C_MOL


def _mixing(i, s, mixed, order):
    """Partial molar excess term i of the expansion (order 1: its slope by x)."""
    if not order:
        return s ** (i + 1) - (2 * i * mixed * s ** (i - 1) if i else 0.0)
    curve = 4 * i * (i - 1) * mixed * s ** (i - 2) if i > 1 else 0.0
    return -2.0 * (2 * i + 1) * s**i + curve


def _table(term, x, temperature_k, order):
    return piecewise(term)(x, order)


def _temperature_power(term, x, temperature_k, order):
    """(T / temperature_origin)^exponent."""
    value = (temperature_k / term.temperature_origin_k) ** term.exponent
    return np.zeros_like(x) if order else value + np.zeros_like(x)


def _polynomial_in_x_and_temperature(term, x, temperature_k, order):
    """Row j is a polynomial in u; the rows are coefficients of T^j."""
    u = _u(term, x)
    rows = [horner(row, u, order) for row in term.rows]
    value = sum(row * temperature_k**j for j, row in enumerate(rows))
    return value * _gain(term) if order else value


def _vogel_fulcher_tammann(term, x, temperature_k, order):
    """10^(a + b / (T - t0 - g x) + h x) with coefficients a, b, t0, g, h."""
    a, b, t0, g, h = term.coefficients
    above = temperature_k - t0 - g * x
    value = 10.0 ** (a + b / above + h * x)
    return value * _LN10 * (b * g / above**2 + h) if order else value


def _nernst_einstein(term, x, temperature_k, order):
    """R T / (F^2 x): conductivity to diffusivity of a salt at concentration x."""
    value = GAS_J_MOL_K * temperature_k / (FARADAY_C_MOL**2 * x)
    return -value / x if order else value


Kernel = Callable[..., np.ndarray]
KERNELS: dict[str, Kernel] = {
    "constant": _constant,
    "polynomial": _polynomial,
    "rational": _rational,
    "power": _power,
    "exponential": _exponential,
    "exponential-of-power": _exponential_of_power,
    "exponential-of-polynomial": _exponential_of_polynomial,
    "gaussian": _gaussian,
    "tanh": _tanh,
    "sech-squared": _sech_squared,
    "arctan": _arctan,
    "logarithm": _logarithm,
    "logit": _logit,
    "polynomial-of-log10": _polynomial_of_log10,
    "redlich-kister": _redlich_kister,
    "table": _table,
    "temperature-power": _temperature_power,
    "polynomial-in-x-and-temperature": _polynomial_in_x_and_temperature,
    "vogel-fulcher-tammann": _vogel_fulcher_tammann,
    "nernst-einstein": _nernst_einstein,
}
