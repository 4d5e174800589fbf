"""Write forms.json: values of the published functions as the reference library evaluates them.

Needs PyBaMM (any environment; it is no dependency of the project):
    python tests/reference/regenerate_forms.py [FOLDER]
FOLDER holds the two BPX example files lfp_18650_cell_BPX.json and nmc_pouch_cell_BPX.json of
the Battery Parameter eXchange standard; without it the two cells read from them are left as
they stand in forms.json. No artificial term at the ends of a potential is included.
"""

from __future__ import annotations

import json
import sys
import warnings
from pathlib import Path

import numpy as np
import pybamm

OUT = Path(__file__).with_name("forms.json")
SETS = {
    "ai-2020": "Ai2020",
    "marquis-2019": "Marquis2019",
    "chen-2020": "Chen2020",
    "okane-2022": "OKane2022",
    "mohtat-2020": "Mohtat2020",
    "ecker-2015": "Ecker2015",
    "kim-2011": "NCA_Kim2011",
    "prada-2013": "Prada2013",
    "chayambuka-2022": "Chayambuka2022",
}
BPX = {
    "about-energy-2022-lfp": "lfp_18650_cell_BPX.json",
    "about-energy-2022-nmc": "nmc_pouch_cell_BPX.json",
}
STOICHIOMETRIES = (0.05, 0.11, 0.3, 0.437, 0.52, 0.684, 0.9, 0.95)
CONCENTRATIONS = (150.0, 700.0, 1000.0, 1200.0, 1850.0)
TEMPERATURES = (298.15, 278.15, 313.15)


def call(parameters, key, *arguments):
    """One parameter or function of the library at plain numbers."""
    entry = parameters[key]
    if callable(entry):
        entry = parameters.process_symbol(entry(*[pybamm.Scalar(a) for a in arguments]))
        return np.asarray(entry.evaluate()).item()
    if isinstance(entry, pybamm.Symbol):
        return np.asarray(parameters.process_symbol(entry).evaluate()).item()
    return float(entry)


def electrode_points(parameters, side):
    """Rows [function, x, temperature_k, value] of one electrode."""
    name = side.capitalize()
    for x in STOICHIOMETRIES:
        yield [f"{side}.potential", x, 298.15, call(parameters, f"{name} electrode OCP [V]", x)]
        entropy = f"{name} electrode OCP entropic change [V.K-1]"
        yield [f"{side}.entropy", x, 298.15, call(parameters, entropy, x)]
        for kelvin in TEMPERATURES:
            key = f"{name} particle diffusivity [m2.s-1]"
            yield [f"{side}.diffusivity", x, kelvin, call(parameters, key, x, kelvin)]


def exchange_points(parameters, side):
    """Rows [function, x, temperature_k, value, electrolyte_mol_m3]."""
    name = side.capitalize()
    c_max = parameters[f"Maximum concentration in {side} electrode [mol.m-3]"]
    key = f"{name} electrode exchange-current density [A.m-2]"
    for x, c_e, kelvin in zip(STOICHIOMETRIES, CONCENTRATIONS * 2, TEMPERATURES * 3):
        value = call(parameters, key, c_e, x * c_max, c_max, kelvin)
        yield [f"{side}.exchange-current", x, kelvin, value, c_e]


def electrolyte_points(parameters):
    """Rows of diffusivity, conductivity and thermodynamic factor."""
    keys = {
        "diffusivity": "Electrolyte diffusivity [m2.s-1]",
        "conductivity": "Electrolyte conductivity [S.m-1]",
        "thermodynamic_factor": "Thermodynamic factor",
    }
    for name, key in keys.items():
        for c_e in CONCENTRATIONS:
            for kelvin in TEMPERATURES:
                value = call(parameters, key, c_e, kelvin)
                yield [f"electrolyte.{name}", c_e, kelvin, value]


def points(parameters):
    rows = []
    for side in ("negative", "positive"):
        rows += electrode_points(parameters, side)
        rows += exchange_points(parameters, side)
    return rows + list(electrolyte_points(parameters))


def lead_acid_points(parameters):
    """Rows of the lead-acid set; molality for the potentials."""
    rows = []
    for c_e in (500.0, 1500.0, 3000.0, 5650.0):
        for name, key in (
            ("diffusivity", "Electrolyte diffusivity [m2.s-1]"),
            ("conductivity", "Electrolyte conductivity [S.m-1]"),
            ("darken_factor", "Darken thermodynamic factor"),
        ):
            rows.append([f"electrolyte.{name}", c_e, 298.15, call(parameters, key, c_e)])
    for molality in (0.3, 1.0, 2.5, 6.0):
        for side in ("negative", "positive"):
            key = f"{side.capitalize()} electrode open-circuit potential [V]"
            rows.append([f"{side}.potential", molality, 298.15, call(parameters, key, molality)])
    return rows


def main(folder: Path | None) -> None:
    warnings.filterwarnings("ignore")
    old = json.loads(OUT.read_text())["cells"] if OUT.exists() else {}
    cells = {cell: points(pybamm.ParameterValues(name)) for cell, name in SETS.items()}
    cells["sulzer-2019"] = lead_acid_points(pybamm.ParameterValues("Sulzer2019"))
    for cell, name in BPX.items():
        if folder is None:
            cells[cell] = old[cell]
        else:
            cells[cell] = points(pybamm.ParameterValues.create_from_bpx(str(folder / name)))
    body = {"library": "PyBaMM", "version": pybamm.__version__, "cells": cells}
    OUT.write_text(json.dumps(body, indent=0).replace("\n", "") + "\n")


if __name__ == "__main__":
    main(Path(sys.argv[1]) if len(sys.argv) > 1 else None)
