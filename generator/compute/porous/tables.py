"""Tables of a cell's functions of stoichiometry, one row a temperature and electrode.

Row = 2 * temperature index + (0 for the negative, 1 for the positive electrode).
"""

from __future__ import annotations

from functools import partial

import numpy as np

from generator.compute import forms
from generator.model.cell import FARADAY_C_MOL, CellModel, Electrode

from .lookup import Lookup, breakpoints, lookup

SALT_SPAN = 6.0  # times the initial concentration


def potential_table(cell: CellModel, kelvin: np.ndarray) -> Lookup:
    """Open-circuit potential with its entropic shift from the reference, V.

    Raises ValueError where it is not finite between 0 and 1.
    """

    def one(electrode: Electrode, x, temperature):
        value, gain = forms.value_and_slope(electrode.potential, x, temperature)
        heat, heat_gain = forms.value_and_slope(electrode.entropy, x, temperature)
        warm = temperature - cell.reference_temperature_k
        return value + warm * heat, gain + warm * heat_gain

    functions = [f for e in pair_of(cell) for f in (e.potential, e.entropy)]
    table = lookup(breakpoints(functions), _rows(cell, kelvin, one))
    if np.isnan(table.coefficients).any():
        raise ValueError(f"{cell.id}: an open-circuit potential is not finite")
    return table


def diffusivity_table(cell: CellModel, kelvin: np.ndarray):
    """D / R^2 in 1/s: (table, or None where no row varies; value at 1/2 (rows,)).

    Raises ValueError where it is not positive.
    """

    def one(electrode: Electrode, x, temperature):
        value, gain = forms.value_and_slope(electrode.diffusivity, x, temperature)
        square = electrode.particle_radius_m**2
        return value / square, gain / square

    table, middle = _varying(cell, kelvin, one, [e.diffusivity for e in pair_of(cell)])
    if not (middle > 0.0).all() or (table and not (table.coefficients[:, 0] > 0.0).all()):
        raise ValueError(f"{cell.id}: a particle diffusivity is not positive")
    return table, middle


def log_rate_table(cell: CellModel, kelvin: np.ndarray):
    """ln of i0 in A/m2 without its powers of c_e and th (1 - th), as above."""

    def one(electrode: Electrode, x, temperature):
        kinetics = electrode.kinetics
        value, gain = forms.value_and_slope(kinetics.rate, x, temperature)
        host = electrode.maximum_mol_m3 / kinetics.solid_reference_mol_m3
        salt = kinetics.electrolyte_reference_mol_m3**-kinetics.electrolyte_exponent
        scale = kinetics.scale * salt * host ** (2.0 * kinetics.solid_exponent)
        with np.errstate(divide="ignore", invalid="ignore"):
            return np.log(value * scale), gain / value

    return _varying(cell, kelvin, one, [e.kinetics.rate for e in pair_of(cell)])


def electrolyte_tables(cell: CellModel, kelvin: np.ndarray) -> tuple[Lookup, Lookup]:
    """(conductivity S/m, diffusivity m2/s) over concentration / `salt_span`, a row a kelvin."""
    span = salt_span(cell)

    def one(x, function, temperature):
        value, gain = forms.value_and_slope(function, x * span, temperature)
        return value, gain * span

    electrolyte = cell.electrolyte
    tables = []
    for function in (electrolyte.conductivity, electrolyte.diffusivity):
        rows = [partial(one, function=function, temperature=t) for t in kelvin]
        tables.append(lookup(breakpoints([function], span), rows))
    return tables[0], tables[1]


def salt_span(cell: CellModel) -> float:
    """Highest concentration that the tables hold, mol/m3."""
    return SALT_SPAN * cell.electrolyte.initial_mol_m3


def power_rows(cell: CellModel) -> np.ndarray:
    """Exponents in i0: of c_e, and of th (1 - th), by electrode, (2, 2)."""
    pair = (cell.negative.kinetics, cell.positive.kinetics)
    return np.array([[k.electrolyte_exponent for k in pair], [k.solid_exponent for k in pair]])


def uptake(electrode: Electrode) -> float:
    """Stoichiometry per second and A/m2 into a sphere's surface: 1 / (F c_max R)."""
    return 1.0 / (FARADAY_C_MOL * electrode.maximum_mol_m3 * electrode.particle_radius_m)


def pair_of(cell: CellModel) -> tuple[Electrode, Electrode]:
    """The electrodes, negative first."""
    return (cell.negative, cell.positive)


def _rows(cell: CellModel, kelvin, evaluate):
    """One function of x a row."""
    return [partial(evaluate, e, temperature=t) for t in kelvin for e in pair_of(cell)]


def _varying(cell: CellModel, kelvin, evaluate, functions):
    """(table or None, values at 1/2): None where no row depends on stoichiometry."""
    rows = _rows(cell, kelvin, evaluate)
    half = np.array([0.5])
    middle = np.array([float(np.squeeze(row(half)[0])) for row in rows])
    probe = np.linspace(0.01, 0.99, 99)
    if not any(np.any(row(probe)[1]) for row in rows):
        return None, middle
    return lookup(breakpoints(functions), rows), middle
