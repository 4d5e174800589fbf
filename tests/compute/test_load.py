"""Run time: against a general ODE solver, against the cell model between its curves, and where it must refuse."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import solve_ivp

from generator.build import CACHE
from generator.compute.cell_table import CellTable, cell_tables
from generator.compute.curves import curves_of
from generator.compute.load import Load, current_at, run
from generator.compute.loaded_cell import cell_at, rest_at, volts_at
from generator.compute.porous import discharge


@pytest.fixture(scope="module")
def tables(library):
    cells = ("about-energy-2022-lfp", "about-energy-2022-nmc")
    return cell_tables(library, {id: curves_of(library.cells[id], CACHE) for id in cells}, {})


def flat(volts: float = 3.0, ohm_ah: float | None = None) -> CellTable:
    return CellTable("made-up", "made-up", "rest", 1.0, 20.0, (25.0,), (0.0, 1.0), 1.0, (volts, volts), None if ohm_ah is None else (ohm_ah, ohm_ah), ())


@pytest.mark.parametrize("load", [Load("a", 3.0), Load("w", 60.0), Load("w", 15.0), Load("ohm", 3.0), Load("ohm", 20.0)], ids=str)
@pytest.mark.parametrize("celsius", [25.0, 17.0])
def test_agrees_with_a_general_ode_solver(tables, load, celsius):
    """dq/dt = i(q), integrated by scipy's adaptive Runge-Kutta with an event at the cut-off; energy integrated beside it."""
    cell = cell_at(tables["about-energy-2022-lfp"], 2.0, celsius, None)
    made = run(cell, load, 4, 2, 2.5)

    def slope(_, y):
        ampere = current_at(cell, load, 4, 2, y[0])
        return [ampere, ampere * volts_at(cell, y[0], ampere)]

    def at_cutoff(_, y):
        ampere = current_at(cell, load, 4, 2, y[0])
        return volts_at(cell, y[0], ampere) - 2.5

    at_cutoff.terminal = True
    solved = solve_ivp(slope, (0.0, 100.0), [0.0, 0.0], events=at_cutoff, rtol=1e-8, atol=1e-10, max_step=made.hours / 200)
    assert made.hours == pytest.approx(float(solved.t[-1]), rel=5e-4)
    assert made.energy_wh == pytest.approx(8 * float(solved.y[1][-1]), rel=2e-3)


BETWEEN = (
    ("about-energy-2022-lfp", 0.7, 25.0, 0.01),
    ("about-energy-2022-nmc", 1.4, 10.0, 0.01),
    ("about-energy-2022-nmc", 0.1, 33.0, 0.01),
    ("about-energy-2022-lfp", 1.4, 17.0, 0.10),
    ("about-energy-2022-nmc", 2.5, 5.0, 0.10),
)


@pytest.mark.parametrize(("cell_id", "rate", "celsius", "miss"), BETWEEN)
def test_between_its_curves_it_stays_near_the_cell_model(library, tables, cell_id, rate, celsius, miss):
    """The full model is solved at a rate that no curve has: charge within 1 % at a curve's temperature, up to a tenth
    short, never long, in the cold between two; the half-way voltage within 15 mV. These are the errors the page states."""
    model = library.cells[cell_id].porous
    solved = discharge(model, (rate,), celsius)[0]
    table = tables[cell_id]
    capacity = model.nominal_capacity_ah / table.families[0][0].c_rate * 0.05  # the table's own 1.0
    made = run(cell_at(table, capacity, celsius, None), Load("a", rate * model.nominal_capacity_ah), 1, 1, model.voltage_min_v)
    assert made.charge_ah == pytest.approx(float(solved.capacity_ah[-1]), rel=miss)
    assert made.charge_ah <= float(solved.capacity_ah[-1]) * 1.01
    half = float(solved.voltage_v[abs(solved.capacity_ah - made.charge_ah / 2).argmin()])
    cell = cell_at(table, capacity, celsius, None)
    assert volts_at(cell, made.charge_ah / 2, rate * model.nominal_capacity_ah) == pytest.approx(half, abs=0.015)


def test_a_flat_cell_runs_capacity_over_current():
    made = run(cell_at(flat(), 2.0, 25.0, None), Load("w", 60.0), 4, 2, 2.0)
    assert made.hours == pytest.approx(4 * 3.0 * 2 * 2.0 / 60.0, rel=1e-9) and made.stop == "charge"


def test_constant_power_with_resistance_has_its_closed_form():
    """i (U0 - i R) = P has i = (U0 - sqrt(U0^2 - 4 P R))/(2 R), the smaller root."""
    cell = cell_at(flat(3.0, 0.1), 1.0, 25.0, None)
    want = (3.0 - (9.0 - 4 * 10.0 * 0.1) ** 0.5) / 0.2
    assert current_at(cell, Load("w", 10.0), 1, 1, 0.5) == pytest.approx(want, rel=1e-9)
    assert current_at(cell, Load("w", 23.0), 1, 1, 0.5) is None, "more than U0^2/(4 R) = 22.5 W cannot be had"


@settings(max_examples=60, deadline=None)
@given(load=st.floats(0.05, 20), kind=st.sampled_from(("a", "w", "ohm")), series=st.integers(1, 20), parallel=st.integers(1, 20), ohm=st.floats(0.001, 0.2))
def test_any_load_ends_and_keeps_energy_below_rest(load, kind, series, parallel, ohm):
    cell = cell_at(flat(3.2, ohm), 2.0, 25.0, None)
    made = run(cell, Load(kind, load), series, parallel, 2.5)
    assert 0.0 <= made.charge_ah <= 2.0 * (1 + 1e-12)
    assert made.energy_wh <= made.charge_ah * 3.2 * series * parallel * (1 + 1e-9)


def test_more_load_never_runs_longer(tables):
    cell = cell_at(tables["about-energy-2022-nmc"], 2.5, 25.0, None)
    hours = [run(cell, Load("w", watt), 4, 2, 2.5).hours for watt in (5, 10, 20, 40, 80)]
    assert hours == sorted(hours, reverse=True)


def test_no_curve_no_answer(tables):
    assert cell_at(tables["about-energy-2022-lfp"], 2.0, -10.0, None) is None
    assert run(cell_at(tables["about-energy-2022-lfp"], 2.0, 25.0, None), Load("w", 900.0), 4, 2, 2.5).stop == "at-once"


def test_measured_resistance_takes_the_place_of_the_curve(tables):
    cell = cell_at(tables["about-energy-2022-lfp"], 2.0, 25.0, 50.0)
    assert rest_at(cell, 1.0) - volts_at(cell, 1.0, 4.0) == pytest.approx(0.2)
