"""Published functions: values against the reference library, slopes against differences."""

from __future__ import annotations

import json
from functools import lru_cache
from pathlib import Path

import numpy as np
import pytest

from generator.compute.form_kernels import KERNELS
from generator.compute.forms import evaluate, exchange_current_a_m2, slope, value_and_slope
from generator.model.cell import cell_from_data
from generator.model.function import FORMS, Function, Term, function_from_data
from generator.read import read_file

ROOT = Path(__file__).parents[2]
REFERENCE = json.loads((ROOT / "tests/reference/forms.json").read_text())
CELLS = ROOT / "chemistry/cells"
POROUS = sorted(cell for cell in REFERENCE["cells"] if cell != "sulzer-2019")


@lru_cache
def data_of(cell_id):
    document = read_file(CELLS / f"{cell_id}.yml", f"{cell_id}.yml")
    assert not document.problems
    return document.data


def value_of(cell, row):
    """Our value for one row [function, x, temperature_k, library value, c_e?]."""
    part, name = row[0].split(".")
    owner = getattr(cell, part)
    if name == "exchange-current":
        return exchange_current_a_m2(owner.kinetics, owner.maximum_mol_m3, row[1], row[4], row[2])
    return evaluate(getattr(owner, name), row[1], row[2])


def test_reference_is_from_the_named_library():
    assert (REFERENCE["library"], REFERENCE["version"]) == ("PyBaMM", "26.10.1.1")
    assert sum(map(len, REFERENCE["cells"].values())) > 1000


@pytest.mark.parametrize("cell_id", POROUS)
def test_values_agree_with_the_library(cell_id):
    cell = cell_from_data(data_of(cell_id))
    rows = REFERENCE["cells"][cell_id]
    ours = np.array([float(value_of(cell, row)) for row in rows])
    theirs = np.array([row[3] for row in rows])
    np.testing.assert_allclose(ours, theirs, rtol=1e-9, atol=0.0)


def test_lead_acid_functions_agree_with_the_library():
    data = data_of("sulzer-2019")["lead_acid"]
    for name, x, kelvin, theirs in REFERENCE["cells"]["sulzer-2019"]:
        part, key = name.split(".")
        ours = evaluate(function_from_data(data[part][key]), x, kelvin)
        assert float(ours) == pytest.approx(theirs, rel=1e-9)


SAMPLES = {
    "constant": Term("constant", amplitude=2.5),
    "polynomial": Term("polynomial", coefficients=(1.0, -2.0, 3.0), width=2.0),
    "rational": Term("rational", coefficients=(1.0, 2.0), denominator=(2.0, 0.5, 1.0)),
    "power": Term("power", exponent=1.5, amplitude=-2.51),
    "exponential": Term("exponential", rate=-3.0, centre=0.2, amplitude=1.5),
    "exponential-of-power": Term("exponential-of-power", rate=-0.5, exponent=8.0),
    "exponential-of-polynomial": Term("exponential-of-polynomial", coefficients=(0.2, -1.0, 0.5)),
    "gaussian": Term("gaussian", rate=12.0, centre=0.62, amplitude=-0.3),
    "tanh": Term("tanh", offset=1.0, rate=-5.0, amplitude=0.2),
    "sech-squared": Term("sech-squared", centre=0.4, width=0.2),
    "arctan": Term("arctan", offset=2.0, rate=-7.0),
    "logarithm": Term("logarithm", rate=2.0),
    "logit": Term("logit", amplitude=-0.016),
    "polynomial-of-log10": Term("polynomial-of-log10", coefficients=(1.6, 0.07, 0.03, 0.04)),
    "redlich-kister": Term(
        "redlich-kister",
        coefficients=(14025.6, 15593.6, -100475.8, -26389.5),
        energy_j_mol=-155432.9,
        gap_from=0.9,
        gap_to=0.95,
        gap_energy_j_mol=-155770.7,
    ),
    "table": Term(
        "table", table_x=(0.0, 0.2, 0.5, 0.7, 1.0), table_y=(4.0, 3.7, 3.5, 3.4, 2.9),
        interpolation="cubic",
    ),
    "temperature-power": Term("temperature-power", exponent=-1.0, temperature_origin_k=296.0),
    "polynomial-in-x-and-temperature": Term(
        "polynomial-in-x-and-temperature", rows=((1.0, 2.0), (0.01, -0.02, 0.03), (1e-5,))
    ),
    "vogel-fulcher-tammann": Term(
        "vogel-fulcher-tammann", coefficients=(-4.43, -54.0, 229.0, 5.0, -0.22)
    ),
    "nernst-einstein": Term("nernst-einstein"),
}  # fmt: skip


def test_the_set_of_forms_is_closed_and_each_has_a_sample():
    assert set(FORMS) == set(KERNELS) == set(SAMPLES)


@pytest.mark.parametrize("form", FORMS)
def test_slope_is_the_derivative(form):
    """Central differences, step 1e-5: error about 1e-10 of the curvature scale."""
    plain = Function("1", (SAMPLES[form],))
    dressed = Function(
        "1",
        (SAMPLES[form], Term("polynomial", coefficients=(0.3, 0.1), boltzmann_k=200.0)),
        factors=(Term("power", exponent=0.5), Term("temperature-power", exponent=2.0)),
        outer=(0.1, 1.0, 0.2),
        x_scale=1.05,
        activation_energy_j_mol=2e4,
    )
    x, h = np.array([[0.11, 0.33], [0.61, 0.83]]), 1e-5
    for function in (plain, dressed):
        rise = (evaluate(function, x + h, 290.0) - evaluate(function, x - h, 290.0)) / (2 * h)
        analytic = slope(function, x, 290.0)
        assert analytic.shape == x.shape
        np.testing.assert_allclose(analytic, rise, rtol=2e-6, atol=1e-7 * np.abs(rise).max())


def test_value_and_slope_is_both():
    function = Function("1", (SAMPLES["tanh"], SAMPLES["tanh"], SAMPLES["power"]))
    x = np.linspace(0.1, 0.9, 7)
    value, gain = value_and_slope(function, x, 300.0)
    np.testing.assert_array_equal(value, evaluate(function, x, 300.0))
    np.testing.assert_array_equal(gain, slope(function, x, 300.0))


def test_temperature_may_be_an_array():
    function = Function("1", (SAMPLES["tanh"],), activation_energy_j_mol=3e4)
    kelvin = np.array([[280.0], [300.0]])
    both = evaluate(function, np.full((2, 3), 0.4), kelvin)
    np.testing.assert_allclose(both[1], evaluate(function, np.full(3, 0.4), 300.0), rtol=1e-14)


def test_arrhenius_factor_by_hand():
    """E = 35 kJ/mol, 283.15 K: 35000/8.31446 = 4209.53 K, times 1.77678e-4 = 0.74794; exp -> 0.4733."""
    function = Function("1", (Term("constant"),), activation_energy_j_mol=35000.0)
    assert float(evaluate(function, 0.5, 283.15)) == pytest.approx(0.4733, abs=1e-4)


def test_linear_table_interpolates_and_continues_its_end_pieces():
    table = Term("table", table_x=(0.0, 1.0, 3.0), table_y=(1.0, 2.0, 0.0))
    x = np.array([-1.0, 0.5, 1.0, 2.0, 4.0])
    function = Function("V", (table,))
    np.testing.assert_allclose(evaluate(function, x, 298.15), [0.0, 1.5, 2.0, 1.0, -1.0])
    np.testing.assert_allclose(slope(function, x, 298.15), [1.0, 1.0, -1.0, -1.0, -1.0])


def test_cubic_table_is_the_not_a_knot_spline():
    """A not-a-knot spline reproduces any cubic exactly (de Boor, chapter IV)."""
    knots = np.array([0.0, 0.1, 0.35, 0.6, 0.8, 1.0])
    cubic = np.polynomial.Polynomial([1.0, -2.0, 0.5, 3.0])
    table = Term("table", table_x=tuple(knots), table_y=tuple(cubic(knots)), interpolation="cubic")
    x = np.linspace(0.0, 1.0, 37)
    function = Function("V", (table,))
    np.testing.assert_allclose(evaluate(function, x, 298.15), cubic(x), rtol=1e-12)
    np.testing.assert_allclose(slope(function, x, 298.15), cubic.deriv()(x), rtol=1e-9, atol=1e-12)


def test_sech_squared_does_not_overflow():
    function = Function("1", (Term("sech-squared", width=1e-4),))
    assert float(evaluate(function, 1.0, 298.15)) == 0.0
