"""Tables of a cell's functions of stoichiometry, one row a temperature and electrode.

Row = 2 * temperature index + (0 for the negative, 1 for the positive electrode).
"""

from __future__ import annotations

from functools import partial

import numpy as np

from generator.compute import forms
from generator.model.cell import FARADAY_C_MOL, CellModel, Electrode

from .lookup import Lookup, breakpoints, joined, lookup

SALT_SPAN = 6.0  # times the initial concentration


def surface_table(cell: CellModel, kelvin: np.ndarray) -> Lookup:
    """What the reaction needs of a surface, over its stoichiometry.

    Two joined tables: the open-circuit potential with its entropic shift from the
    reference (V), and ln of i0 in A/m2 without its power of c_e. Raises ValueError where
    the potential is not finite between 0 and 1.
    """
    pair = pair_of(cell)
    functions = [f for e in pair for f in (e.potential, e.entropy, e.kinetics.rate)]
    breaks = breakpoints(functions, steep_ends=True)
    potential = lookup(breaks, _potential_rows(cell, kelvin))
    if np.isnan(potential.coefficients).any():
        raise ValueError(f"{cell.id}: an open-circuit potential is not finite")
    return joined((potential, lookup(breaks, _log_rate_rows(cell, kelvin))))


def _potential_rows(cell: CellModel, kelvin: np.ndarray):

    def one(electrode: Electrode, x, temperature):
        value, gain = forms.value_and_slope(electrode.potential, x, temperature)
        heat, heat_gain = forms.value_and_slope(electrode.entropy, x, temperature)
        warm = temperature - cell.reference_temperature_k
        return value + warm * heat, gain + warm * heat_gain

    return _rows(cell, kelvin, one)


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


def _log_rate_rows(cell: CellModel, kelvin: np.ndarray):
    def one(electrode: Electrode, x, temperature):
        kinetics = electrode.kinetics
        value, gain = forms.value_and_slope(kinetics.rate, x, temperature)
        host = electrode.maximum_mol_m3 / kinetics.solid_reference_mol_m3
        salt = kinetics.electrolyte_reference_mol_m3**-kinetics.electrolyte_exponent
        scale = kinetics.scale * salt * host ** (2.0 * kinetics.solid_exponent)
        power = kinetics.solid_exponent
        with np.errstate(divide="ignore", invalid="ignore"):
            host, host_gain = np.log(x * (1.0 - x)), (1.0 - 2.0 * x) / (x * (1.0 - x))
            return np.log(value * scale) + power * host, gain / value + power * host_gain

    return _rows(cell, kelvin, one)


def electrolyte_table(cell: CellModel, kelvin: np.ndarray) -> Lookup:
    """Joined: conductivity S/m, diffusivity m2/s; over concentration / `salt_span`, a row a kelvin."""
    span = salt_span(cell)

    def one(x, function, temperature):
        value, gain = forms.value_and_slope(function, x * span, temperature)
        return value, gain * span

    functions = (cell.electrolyte.conductivity, cell.electrolyte.diffusivity)
    breaks = breakpoints(functions, span)
    rows = [[partial(one, function=f, temperature=t) for t in kelvin] for f in functions]
    return joined([lookup(breaks, row) for row in rows])


def salt_span(cell: CellModel) -> float:
    """Highest concentration that the tables hold, mol/m3."""
    return SALT_SPAN * cell.electrolyte.initial_mol_m3


def salt_powers(cell: CellModel) -> np.ndarray:
    """Exponent of c_e in i0, by electrode, (2,)."""
    return np.array([e.kinetics.electrolyte_exponent for e in pair_of(cell)])


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
