"""What must hold for any cell: conservation, equilibrium, convergence, independence."""

from __future__ import annotations

from functools import lru_cache
from pathlib import Path

import numpy as np
import pytest

from generator.compute.porous import Mesh, discharge, discharge_grid, open_circuit
from generator.compute.porous.members import members
from generator.compute.porous.state import accepted
from generator.compute.porous.step import attempt, layout, start
from generator.compute.porous.system import system
from generator.model.cell import FARADAY_C_MOL, cell_from_data
from generator.read import read_file

ROOT = Path(__file__).parents[2]
MIXED = ("kim-2011", "ecker-2015", "ai-2020")  # plain, D(x), thermodynamic factor of c


@lru_cache
def cell_of(cell_id):
    document = read_file(ROOT / "chemistry/cells" / f"{cell_id}.yml", f"{cell_id}.yml")
    return cell_from_data(document.data)


def states(what, ampere, steps, dt_s):
    """Row of the state at the start and after each of equal steps, one member."""
    group = members(what, [ampere / what.cell.electrode_area_m2], [0])
    state, dt = start(what, group), np.array([dt_s])
    rows = [state.rows[0, 0]]
    for _ in range(steps):
        trial = attempt(what, group, state, dt, 1e-7)
        assert trial.converged.all()
        state = accepted(state, trial, dt, trial.converged)
        rows.append(state.rows[0, 0])
    return np.array(rows)


def stepped(what, ampere, steps, dt_s):
    """The last row of `states`."""
    return states(what, ampere, steps, dt_s)[-1]


def charge_c(what, row):
    """Lithium held by each electrode, as charge (2,) C."""
    modes = row[layout(what).modes].reshape(2, -1, len(what.radial.stiffness))
    mean = np.sqrt(3.0) * modes[..., 0] @ what.porous.weights
    held = [
        e.active_fraction * e.thickness_m * e.maximum_mol_m3 * FARADAY_C_MOL
        for e in (what.cell.negative, what.cell.positive)
    ]
    return mean * held * what.cell.electrode_area_m2


@pytest.mark.parametrize("cell_id", MIXED)
def test_charge_and_salt_are_conserved(cell_id):
    cell = cell_of(cell_id)
    what = system(cell, (25.0,), Mesh())
    ampere, dt = 2.0 * cell.nominal_capacity_ah, 12.0
    first, last = stepped(what, ampere, 0, dt), stepped(what, ampere, 60, dt)
    moved = charge_c(what, last) - charge_c(what, first)
    assert moved == pytest.approx([-ampere * 60 * dt, ampere * 60 * dt], rel=1e-9)
    salt = layout(what).salt
    assert last[salt] @ what.volume == pytest.approx(first[salt] @ what.volume, rel=1e-9)
    assert np.ptp(last[salt]) > 50.0  # it did move


@pytest.mark.parametrize("cell_id", MIXED)
def test_without_current_the_cell_stays_at_open_circuit(cell_id):
    cell = cell_of(cell_id)
    what = system(cell, (10.0,), Mesh())
    row = stepped(what, 0.0, 5, 100.0)
    expected = open_circuit(cell, 1.0, 10.0)
    assert row[layout(what).voltage] == pytest.approx(float(expected), abs=1e-6)


@pytest.mark.parametrize("cell_id", ["marquis-2019", "kim-2011", "ecker-2015"])
def test_a_very_slow_discharge_follows_open_circuit(cell_id):
    cell = cell_of(cell_id)
    (slow,) = discharge(cell, [0.001], cell.reference_temperature_k - 273.15)
    share = slow.capacity_ah / slow.capacity_ah[-1]
    inside = (share > 0.02) & (share < 0.9)
    rest = open_circuit(cell, 1.0 - share)
    miss = np.abs(slow.voltage_v - rest)[inside]
    assert miss.mean() < 1.0e-3
    window = cell.positive
    held = window.active_fraction * window.thickness_m * window.maximum_mol_m3
    ampere_s = FARADAY_C_MOL * held * cell.electrode_area_m2
    moved = ampere_s * (window.stoichiometry_empty - window.stoichiometry_full)
    assert slow.capacity_ah[-1] == pytest.approx(moved / 3600.0, rel=3e-3)


def test_second_order_in_the_time_step():
    """BDF2: halving equal steps divides the error by about four, away from the start."""
    cell = cell_of("kim-2011")
    what = system(cell, (25.0,), Mesh(modes=6))
    ampere, span = cell.nominal_capacity_ah, 1200.0
    place = layout(what).salt
    ends = [stepped(what, ampere, n, span / n)[place] for n in (40, 80, 160, 640)]
    errors = [np.abs(end - ends[-1]).max() for end in ends[:-1]]
    for coarse, fine in zip(errors[:-1], errors[1:], strict=True):
        assert 3.0 < coarse / fine < 6.5


@pytest.mark.parametrize("cell_id", ["marquis-2019", "ai-2020", "about-energy-2022-nmc"])
def test_error_falls_fast_with_the_degree_across_the_layers(cell_id):
    """Faster than any second-order scheme: a doubling divides the RMS error by five."""
    cell = cell_of(cell_id)
    runs = {}
    for degree in (2, 4, 8, 12):
        what = system(cell, (25.0,), Mesh(electrode=degree, separator=degree, modes=12))
        rows = states(what, cell.nominal_capacity_ah, 60, 42.0)
        runs[degree] = rows[:, layout(what).voltage]
    errors = [np.sqrt(((runs[d] - runs[12]) ** 2).mean()) for d in (2, 4, 8)]
    assert errors[0] < 3e-3
    assert errors[1] < errors[0] / 5.0
    assert errors[2] < max(errors[1] / 5.0, 1e-7) and errors[2] < 1e-4


def test_a_member_does_not_depend_on_its_company():
    cell = cell_of("mohtat-2020")
    together = discharge_grid(cell, [0.5, 3.0], [10.0, 40.0])
    for curve in together:
        (alone,) = discharge(cell, [curve.c_rate], curve.temperature_c)
        assert alone.capacity_ah == pytest.approx(curve.capacity_ah, rel=1e-6)
        assert alone.voltage_v == pytest.approx(curve.voltage_v, abs=1e-6)


def test_tighter_steps_change_little():
    cell = cell_of("ecker-2015")
    usual = discharge_grid(cell, [0.2, 1.0], [25.0])
    tight = discharge_grid(cell, [0.2, 1.0], [25.0], tolerance_v=1e-4)
    for a, b in zip(usual, tight, strict=True):
        assert len(b.capacity_ah) > 1.5 * len(a.capacity_ah)
        miss = np.interp(b.capacity_ah, a.capacity_ah, a.voltage_v) - b.voltage_v
        assert np.sqrt((miss**2).mean()) < 2e-3
        assert a.capacity_ah[-1] == pytest.approx(b.capacity_ah[-1], rel=1e-3)


@pytest.mark.parametrize(
    ("rates", "celsius", "cutoff_v", "message"),
    [
        ([], 25.0, None, "C-rates"),
        ([0.0], 25.0, None, "C-rates"),
        ([1.0, float("nan")], 25.0, None, "C-rates"),
        ([1.0], float("nan"), None, "temperatures"),
        ([1.0], 25.0, 1.0, "cut-off"),
        ([1.0], 25.0, 5.0, "cut-off"),
    ],
)
def test_senseless_requests_are_refused(rates, celsius, cutoff_v, message):
    with pytest.raises(ValueError, match=message):
        discharge(cell_of("kim-2011"), rates, celsius, cutoff_v=cutoff_v)


def test_arrays_cannot_be_written():
    (curve,) = discharge(cell_of("kim-2011"), [1.0], 25.0)
    with pytest.raises(ValueError, match="read-only"):
        curve.voltage_v[0] = 0.0
    with pytest.raises(ValueError, match="state of charge"):
        open_circuit(cell_of("kim-2011"), [0.0, 1.2])
