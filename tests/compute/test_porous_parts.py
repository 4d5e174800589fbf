"""The pieces of the discharge model against closed forms and tables."""

from __future__ import annotations

import numpy as np
import pytest

from generator.compute.porous.axial import element
from generator.compute.porous.control import aim, at_stop, narrowed
from generator.compute.porous.discharge import refine
from generator.compute.porous.linear import solve_each
from generator.compute.porous.lookup import breakpoints, lookup
from generator.compute.porous.radial import radial_basis
from generator.model.function import Function, Term


def test_lobatto_rule_is_the_handbook_one():
    # Abramowitz and Stegun, table 25.6, n = 5 on [-1, 1]: abscissae and weights.
    rule = element(4)
    assert 2.0 * rule.nodes - 1.0 == pytest.approx([-1, -0.65465367, 0, 0.65465367, 1], abs=1e-8)
    assert 2.0 * rule.weights == pytest.approx(
        [0.1, 0.54444444, 0.71111111, 0.54444444, 0.1], abs=1e-8
    )


@pytest.mark.parametrize("degree", [2, 5, 9])
def test_element_matrices_are_exact_for_its_polynomials(degree):
    rule = element(degree)
    power = rule.nodes**degree
    assert rule.integrate @ power == pytest.approx(rule.nodes ** (degree + 1) / (degree + 1))
    assert rule.differentiate @ power == pytest.approx(degree * rule.nodes ** (degree - 1))
    assert rule.integrate[-1] == pytest.approx(rule.weights)
    with pytest.raises(ValueError, match="degree"):
        element(1)


def roots_of_tan(count):
    """Positive roots of tan x = x by Newton from (k + 1/2) pi."""
    x = (np.arange(1, count + 1) + 0.5) * np.pi
    x -= 1.0 / x
    for _ in range(50):
        x -= (np.sin(x) - x * np.cos(x)) / (x * np.sin(x))
    return x


def test_radial_modes_are_those_of_the_sphere():
    # tan x = x: 4.4934, 7.7253, 10.9041 (Abramowitz and Stegun, table 4.20).
    basis = radial_basis(12)
    assert np.sqrt(basis.stiffness[1:4]) == pytest.approx([4.4934, 7.7253, 10.9041], abs=1e-4)
    assert basis.stiffness[0] == 0.0
    assert (basis.surface[1:] ** 2 / basis.stiffness[1:]).sum() == pytest.approx(0.2, rel=1e-9)


@pytest.mark.parametrize(("modes", "tau", "bar"), [(8, 0.02, 2e-4), (24, 0.001, 2e-4)])
def test_surface_of_a_sphere_under_constant_flux(modes, tau, bar):
    """Crank, The Mathematics of Diffusion, 2nd ed., eq. 6.45 at the surface."""
    root = roots_of_tan(2000)
    series = 3.0 * tau + 0.2 - 2.0 * (np.exp(-(root**2) * tau) / root**2).sum()
    basis = radial_basis(modes)
    rate = basis.stiffness[1:]
    growth = -np.expm1(-rate * tau) / rate
    found = 3.0 * tau + (basis.surface[1:] ** 2 * growth).sum()
    assert found == pytest.approx(series, rel=bar)


def test_varying_diffusivity_sums_to_the_same_stiffness():
    basis = radial_basis(7)
    matrix = (np.ones(len(basis.values)) @ basis.products).reshape(7, 7)
    assert matrix == pytest.approx(np.diag(basis.stiffness), abs=1e-8)


def test_lookup_meets_functions_and_their_kinks():
    knots = Function("V", (Term("table", table_x=(0.0, 0.21, 0.2103, 1.0), table_y=(1, 1, 0, 0)),))

    def kinked(x):
        value = np.interp(x, (0.0, 0.21, 0.2103, 1.0), (1, 1, 0, 0))
        return value, np.where((x > 0.21) & (x < 0.2103), -1.0 / 0.0003, 0.0)

    def steep(x):
        return np.exp(-50.0 * x), -50.0 * np.exp(-50.0 * x)

    table = lookup(breakpoints([knots]), [kinked, steep])
    x = np.linspace(0.001, 0.999, 7919)
    for row, function in enumerate((kinked, steep)):
        value, slope = table(np.full(x.shape, row), x)
        assert value == pytest.approx(function(x)[0], abs=1e-6)
        assert slope[::7] == pytest.approx(function(x)[1][::7], abs=2e-3)
    assert np.isnan(table(np.array([0]), np.array([np.nan]))[0]).all()
    broken = lookup(breakpoints([knots]), [lambda x: (np.where(x > 0.5, np.inf, x), 0.0 * x)])
    assert np.isfinite(broken.value(np.array([0]), np.array([0.2]))).all()
    assert np.isnan(broken.value(np.array([0]), np.array([0.8]))).all()


def test_one_singular_system_spoils_no_other():
    matrix = np.array([np.eye(2), np.zeros((2, 2)), 2.0 * np.eye(2)])
    answer = solve_each(matrix, np.ones((3, 2, 1)))
    assert answer[0].ravel() == pytest.approx([1, 1])
    assert np.isnan(answer[1]).all()
    assert answer[2].ravel() == pytest.approx([0.5, 0.5])


def test_landing_finds_the_stop_of_a_bent_curve():
    def events(dt):
        return np.stack([1.0 / (1.2 - dt) * -0.1 + 0.4, 1.0 + 0.0 * dt], axis=1)

    bracket, ends = np.array([[0.0, np.inf, 0.0]]), np.repeat(events(np.zeros(1))[:, None], 3, axis=1)
    dt = np.array([1.15])
    for count in range(30):
        found = events(dt)
        if at_stop(found)[0]:
            break
        bracket, ends = narrowed(bracket, ends, dt, found, (found < 0.0).any(axis=1))
        dt = aim(bracket, ends)
    assert count < 20
    assert dt[0] == pytest.approx(1.2 - 0.25, abs=1e-3)


def test_refining_keeps_points_and_follows_a_parabola():
    x = np.array([0.0, 1.0, 2.5, 3.0, 5.0])
    fine_x, fine_y = refine(x, 4.0 - 0.1 * x**2, 4)
    assert np.isin(x, fine_x).all()
    assert fine_y == pytest.approx(4.0 - 0.1 * fine_x**2)
    jump_x, jump_y = refine(x, np.array([4.0, 3.9, 3.9, 2.0, 1.99]), 4)
    assert jump_y.min() >= 1.99 and jump_y.max() <= 4.0
    assert refine(x[:2], x[:2], 4)[0] == pytest.approx(x[:2])
