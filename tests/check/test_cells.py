"""The published cells are consistent; whatever stands in a cell file, checking it raises nothing."""

from __future__ import annotations

import copy
import json
import random
from pathlib import Path
from types import SimpleNamespace

import numpy as np
import pytest

from generator.check.rules.cell_functions import FORM_FIELDS
from generator.check.rules.cells import CELL_RULES
from generator.check.schema import check_shape
from generator.compute.forms import evaluate
from generator.model.cell import cell_from_data
from generator.model.function import FORMS
from generator.model.lead_acid import lead_acid_from_data
from generator.model.published import published_from
from generator.read import Document, read_file

ROOT = Path(__file__).parents[2]
CELLS = {path.stem: read_file(path, f"chemistry/cells/{path.name}") for path in (ROOT / "chemistry/cells").glob("*.yml")}
GOOD = sorted((ROOT / "tests/cases/good/cells").glob("*.yml"))
POROUS = sorted(name for name, document in CELLS.items() if document.data["kind"] == "porous-electrode")
SCHEMA = json.loads((ROOT / "chemistry/schema/cell.schema.json").read_text())


def corpus_of(*documents):
    return SimpleNamespace(tree=SimpleNamespace(folder=lambda name: iter(documents)))


def problems_of(document):
    found = list(document.problems) or list(check_shape("cells/any.yml", document))
    return sorted(found or (problem for rule in CELL_RULES for problem in rule(corpus_of(document))))


@pytest.mark.parametrize("path", GOOD, ids=lambda path: path.stem)
def test_good_case_passes(path):
    assert problems_of(read_file(path, path.name)) == []


@pytest.mark.parametrize("name", sorted(CELLS))
def test_published_cells_pass(name):
    assert problems_of(CELLS[name]) == []


def test_forms_are_one_closed_set():
    assert set(FORM_FIELDS) == set(FORMS) == set(SCHEMA["$defs"]["term"]["properties"]["form"]["enum"])


def test_schema_is_closed_and_described():
    def walk(node):
        if isinstance(node, dict):
            assert not {"oneOf", "anyOf"} & node.keys()
            for name, child in node.get("properties", {}).items():
                assert child.get("description"), name
            assert node.get("type") != "object" or node["additionalProperties"] is False
            for child in node.values():
                walk(child)

    walk(SCHEMA)


def test_mutated_cells_raise_nothing():
    """Whatever stands in a cell file, checking it gives problems and never a traceback."""
    good = [read_file(path, path.name).data for path in GOOD]
    dice = random.Random(20261125)
    for _ in range(400):
        data = copy.deepcopy(dice.choice(good))
        for _ in range(dice.randint(1, 3)):
            _mutate(data, dice)
        problems_of(Document("mutated.yml", data))


def _mutate(data, dice):
    node = data
    while True:
        key = dice.choice(list(node) if isinstance(node, dict) else range(len(node)))
        child = node[key]
        if isinstance(child, dict | list) and child and dice.random() < 0.8:
            node = child
            continue
        if isinstance(node, dict) and dice.random() < 0.3:
            del node[key]
        else:
            node[key] = dice.choice([None, -1, 0, 0.5, 1e9, "text", [], [1], {}, True])
        return


def published(name):
    return published_from(CELLS[name].data, CELLS[name].name)


def ocv(cell, soc):
    """Open-circuit voltage at the reference temperature, soc 0 to 1."""
    sides = []
    for electrode in (cell.positive, cell.negative):
        empty, full = electrode.stoichiometry_empty, electrode.stoichiometry_full
        sides.append(evaluate(electrode.potential, empty + soc * (full - empty), cell.reference_temperature_k))
    return float(sides[0] - sides[1])


@pytest.mark.parametrize("name", POROUS)
def test_open_circuit_voltages_are_those_of_the_library(name):
    cell, checks = cell_from_data(CELLS[name].data), CELLS[name].data["check_values"]
    assert checks["library_version"] == "26.10.1.1"
    for percent in (0, 10, 50, 90, 100):
        assert ocv(cell, percent / 100) == pytest.approx(checks[f"open_circuit_{percent}_v"], abs=2e-5)
    assert ocv(cell, 1.0) == pytest.approx(cell.voltage_max_v, abs=1e-3)


@pytest.mark.parametrize("name", POROUS)
def test_transport_is_positive_over_the_valid_range(name):
    cell = cell_from_data(CELLS[name].data)
    for celsius in cell.temperatures_valid_c:
        functions = [cell.electrolyte.diffusivity, cell.electrolyte.conductivity, cell.electrolyte.thermodynamic_factor]
        for electrode in (cell.negative, cell.positive):
            functions += [electrode.diffusivity, electrode.kinetics.rate]
        for function in functions:
            # the open ends: a conductivity is zero, and Nernst-Einstein infinite, without salt
            low = function.valid_from + 1e-3 * (function.valid_to - function.valid_from)
            values = evaluate(function, np.linspace(low, function.valid_to, 401), celsius + 273.15)
            assert np.all(np.isfinite(values)) and values.min() > 0.0


def test_sets_without_temperature_are_not_shown_cold():
    for name in ("chen-2020", "prada-2013", "chayambuka-2022"):
        assert CELLS[name].data["temperatures_valid_c"] == [25]


def test_nickel_metal_hydride_functions():
    """Against the equations of dualfoil 5.2 (subroutine ekin), written out here once more."""
    nickel, charge, hydride = published("nimh-open-circuit").functions
    y = np.linspace(0.02, 0.98, 25)
    shape = np.log(y / (1 - y))
    on_discharge = (
        0.41 + 0.1 * np.exp(20 * (-y - 0.01)) - 5 * np.exp(50 * (y - 1.07)) - 0.016 * shape
        - 0.015 - 0.01 * np.exp(2.7 * y - 0.9) + 0.01 * np.exp(-50 * (y - 0.65) ** 2)
    )  # fmt: skip
    on_charge = (
        0.41 + 2 * np.exp(11 * (-y - 0.3)) - 0.1 * np.exp(20 * (y - 1)) - 0.008 * shape
        + 0.065 - 0.001 * np.exp(10 * (y - 0.7))
    )  # fmt: skip
    metal = (np.exp(50 * (0.2 - y)) - np.exp(40 * (y - 0.8))) / 5000 - 0.91
    np.testing.assert_allclose(evaluate(nickel.function, y, 298.15), on_discharge, rtol=1e-12)
    np.testing.assert_allclose(evaluate(charge.function, y, 298.15), on_charge, rtol=1e-12)
    np.testing.assert_allclose(evaluate(hydride.function, y, 298.15), metal, rtol=1e-12)
    assert 1.2 < on_discharge[12] - metal[12] < 1.35  # a NiMH cell at half charge (common practice)


def test_spinel_function():
    """Against the equation in dualfoil 5.2, written out once more; two steps near 4.0 and 4.15 V."""
    (spinel,) = published("lmo-open-circuit").functions
    y = np.linspace(0.2, 0.98, 40)
    direct = (
        4.19829 + 0.0565661 * np.tanh(8.60942 - 14.5546 * y) - 0.0275479 * ((0.998432 - y) ** -0.492465 - 1.90111)
        - 0.157123 * np.exp(-0.04738 * y**8) + 0.810239 * np.exp(-40 * (y - 0.133875))
    )  # fmt: skip
    np.testing.assert_allclose(evaluate(spinel.function, y, 298.15), direct, rtol=1e-12)
    assert np.mean(direct) == pytest.approx(4.04, abs=0.02)


def test_titanate_function():
    """Plateau 155770.73438 / 96485 = 1.6145 V; the single-phase ends meet it without a step."""
    (titanate,) = published("lto-open-circuit").functions
    volts = evaluate(titanate.function, np.array([0.118609, 0.3, 0.8, 0.848238]), 300.0)
    np.testing.assert_allclose(volts, 1.6145, atol=2e-4)
    assert evaluate(titanate.function, 0.05, 300.0) > 1.62 > 1.60 > evaluate(titanate.function, 0.95, 300.0)


def test_tables_give_the_voltage_of_their_chemistry():
    """Nominal voltages of one cell: NiMH and NiCd 1.2 to 1.35 V, NiZn 1.7 to 1.8 V, lead 2.0 to 2.1 V open circuit (common practice)."""
    expected = {"advisor-nimh-28": (1.2, 1.35), "advisor-nicd-102": (1.2, 1.35), "advisor-nizn-22": (1.7, 1.8), "advisor-lead-26": (2.0, 2.1)}
    for name, (low, high) in expected.items():
        cell = published(name)
        block_v = np.interp(0.5, cell.tables[0].state_of_charge, cell.tables[0].open_circuit_v)
        assert low < block_v / cell.cells_in_series < high


def test_lead_acid_open_circuit_voltage():
    """Fully charged acid of 5.65 mol/l: about 2.1 V per cell (handbook figure for 1.28 to 1.32 kg/l acid)."""
    cell = lead_acid_from_data(CELLS["sulzer-2019"].data)
    c, salt_volume = cell.full_charge_mol_m3, cell.cation_molar_volume_m3_mol + cell.anion_molar_volume_m3_mol
    molality = c * cell.water_molar_volume_m3_mol / ((1 - c * salt_volume) * cell.water_molar_mass_kg_mol)
    volts = evaluate(cell.positive.potential, molality, 298.15) - evaluate(cell.negative.potential, molality, 298.15)
    assert float(volts) == pytest.approx(2.15, abs=0.06)
    assert cell.electrode_area_m2 == pytest.approx(8 * 0.114 * 0.065)


def test_the_wrong_kind_is_refused():
    with pytest.raises(ValueError, match="not porous-electrode"):
        cell_from_data(CELLS["advisor-lead-26"].data)
    with pytest.raises(ValueError, match="not lead-acid-porous"):
        lead_acid_from_data(CELLS["chen-2020"].data)
