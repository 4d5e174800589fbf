"""The porous lead-acid model against the reference library and its own balances."""

from __future__ import annotations

import json
from functools import lru_cache
from pathlib import Path

import numpy as np
import pytest

from generator.compute.acid.equations import AcidEquations, Group
from generator.compute.lead_acid import discharge_lead_acid, rest_voltage
from generator.compute.porous.state import accepted
from generator.model.cell import FARADAY_C_MOL
from generator.model.lead_acid import lead_acid_from_data
from generator.read import read_file

ROOT = Path(__file__).parents[2]
REFERENCE = json.loads((ROOT / "tests/reference/lead_acid.json").read_text())
VECTORS = [pytest.param(v, id=f"{v['c_rate']:g}C") for v in REFERENCE["curves"]]


@lru_cache
def cell():
    document = read_file(ROOT / "chemistry/cells/sulzer-2019.yml", "sulzer-2019.yml")
    return lead_acid_from_data(document.data)


@lru_cache
def curves():
    rates = [v["c_rate"] for v in REFERENCE["curves"]]
    found = discharge_lead_acid(cell(), rates, REFERENCE["curves"][0]["temperature_c"])
    return {curve.c_rate: curve for curve in found}


@pytest.mark.parametrize("vector", VECTORS)
def test_curve_agrees_with_the_library(vector):
    assert REFERENCE["library"].startswith("pybamm 26.")
    curve = curves()[vector["c_rate"]]
    capacity, voltage = np.array(vector["capacity_ah"]), np.array(vector["voltage_v"])
    common = capacity <= curve.capacity_ah[-1]
    miss = np.interp(capacity, curve.capacity_ah, curve.voltage_v)[common] - voltage[common]
    assert np.sqrt((miss**2).mean()) < 1e-3
    assert curve.capacity_ah[-1] == pytest.approx(capacity[-1], rel=3e-3)
    assert curve.stopped_because == "cutoff-voltage"
    assert curve.voltage_v[-1] == pytest.approx(1.75, abs=1e-4)


def test_acid_used_is_one_mole_an_electron():
    """Pb + PbO2 + 2 H2SO4 -> 2 PbSO4 + 2 H2O passes two electrons."""
    equations = AcidEquations(cell(), 298.15)
    group = Group(np.arange(1), np.array([287.0]))
    state, dt, steps = equations.start(group), np.array([30.0]), 40
    first = state.rows[0, 0, equations.mass].sum()
    for _ in range(steps):
        trial = equations.attempt(group, state, dt, 1e-7)
        assert trial.converged.all()
        state = accepted(state, trial, dt, trial.converged)
    used = first - state.rows[0, 0, equations.mass].sum()
    assert used == pytest.approx(287.0 * 30.0 * steps / FARADAY_C_MOL, rel=1e-6)


def test_slow_discharge_begins_at_the_rest_voltage_of_full_acid():
    (slow,) = discharge_lead_acid(cell(), [0.001], 25.0)
    rest = float(rest_voltage(cell(), cell().full_charge_mol_m3))
    assert slow.voltage_v[0] == pytest.approx(rest, abs=1e-3)
    # Acid of 5.65 mol/l: handbooks give 2.15 to 2.18 V at rest (common practice).
    assert 2.15 < rest < 2.18


def test_faster_gives_less():
    rates = sorted(curves())
    given = [float(curves()[rate].capacity_ah[-1]) for rate in rates]
    assert given == sorted(given, reverse=True)


@pytest.mark.parametrize(
    ("rates", "celsius", "cutoff_v", "message"),
    [([-1.0], 25.0, None, "C-rates"), ([1.0], 900.0, None, "temperature"), ([1.0], 25.0, 1.0, "cut-off")],
)
def test_senseless_requests_are_refused(rates, celsius, cutoff_v, message):
    with pytest.raises(ValueError, match=message):
        discharge_lead_acid(cell(), rates, celsius, cutoff_v=cutoff_v)
