"""Recompute the discharge vectors in curves.json with the reference library.

Run from the project folder, with the library and PyYAML installed:
    python -m tests.reference.regenerate [--bpx FOLDER] [CELL ...]
The two BPX sets need the folder with their JSON files (and the library's bpx extra).
Start stoichiometries come from our cell files, all else from the library's own set.
"""

from __future__ import annotations

import argparse
import json
from pathlib import Path

import numpy as np
import pybamm

from generator.read import read_file

ROOT = Path(__file__).parents[2]
OUT = Path(__file__).with_name("curves.json")
MESH_X = (30, 12, 30)
SHELLS = 60
# Where 60 shells are not enough for the library itself to be near its own limit:
FINER = {
    ("chayambuka-2022", 25.0): (240, (20, 10, 20)),
    ("about-energy-2022-lfp", 25.0): (120, (30, 12, 30)),
    ("about-energy-2022-lfp", 10.0): (150, (20, 10, 20)),
    ("prada-2013", 25.0): (120, (30, 12, 30)),
    ("ecker-2015", 0.0): (150, (30, 12, 30)),
    ("okane-2022", 0.0): (150, (20, 10, 20)),
}
COLD = ((0.0, (0.5, 1.0, 2.0)), (10.0, (0.2, 1.0, 3.0)), (40.0, (1.0, 3.0)))
WARM = ((25.0, (0.1, 0.2, 1.0, 2.0, 3.0)),)
ONLY_WARM = ("chen-2020", "prada-2013", "chayambuka-2022")
NO_ZERO = ("about-energy-2022-lfp",)  # 150 shells still 5 mV from the limit there
CELLS = (
    "ai-2020", "marquis-2019", "chen-2020", "okane-2022", "mohtat-2020", "ecker-2015",
    "kim-2011", "about-energy-2022-lfp", "about-energy-2022-nmc", "prada-2013",
    "chayambuka-2022",
)  # fmt: skip
POINTS = 44


def conditions(cell_id):
    """(temperature, rates) pairs at which a cell has vectors."""
    if cell_id in ONLY_WARM:
        return WARM
    cold = tuple(pair for pair in COLD if cell_id not in NO_ZERO or pair[0] != 0.0)
    return WARM + cold


def parameters(data, bpx_folder):
    """The library's parameter values, full by voltage, current and temperature open."""
    if bpx_folder and (Path(bpx_folder) / f"{data['id']}.json").exists():
        values = pybamm.ParameterValues.create_from_bpx(Path(bpx_folder) / f"{data['id']}.json")
    else:
        values = pybamm.ParameterValues(data["parameter_set"])
    for side in ("negative", "positive"):
        full = data[side]["stoichiometry_full"]["value"]
        top = values[f"Maximum concentration in {side} electrode [mol.m-3]"]
        values[f"Initial concentration in {side} electrode [mol.m-3]"] = full * top
    values["Upper voltage cut-off [V]"] += 1.0  # a cold start may be above it
    values["Current function [A]"] = "[input]"
    for name in ("Ambient temperature [K]", "Initial temperature [K]"):
        values[name] = "[input]"
    return values


def simulation(data, values, shells, mesh_x):
    """The library's porous-electrode model of a cell on a given mesh."""
    sodium = data["id"] == "chayambuka-2022"
    model = pybamm.sodium_ion.BasicDFN() if sodium else pybamm.lithium_ion.DFN()
    points = dict(zip(("x_n", "x_s", "x_p"), mesh_x, strict=True), r_n=shells, r_p=shells)
    solver = pybamm.IDAKLUSolver(rtol=1e-6, atol=1e-8, root_tol=1e-6)
    return pybamm.Simulation(model, parameter_values=values, var_pts=points, solver=solver)


def discharged(sim, data, rate, temperature_c, samples):
    """(solution, Ah, V) of one discharge, from full to the library's cut-off, denser at its start."""
    ampere = rate * data["nominal_capacity_ah"]
    longest = 3600.0 / rate * 1.6
    kelvin = temperature_c + 273.15
    solution = sim.solve(
        [0.0, longest],
        t_interp=longest * np.linspace(0.0, 1.0, samples) ** 1.5,
        inputs={
            "Current function [A]": ampere,
            "Ambient temperature [K]": kelvin,
            "Initial temperature [K]": kelvin,
        },
    )
    return solution, solution.t * ampere / 3600.0, solution["Voltage [V]"](solution.t)


def curve(sim, data, rate, temperature_c):
    """One vector: POINTS of (Ah, V), and the Ah at which the electrolyte depletes."""
    solution, capacity, voltage = discharged(sim, data, rate, temperature_c, 600)
    salt = solution["Electrolyte concentration [mol.m-3]"].entries.min(axis=0)
    share = salt / data["electrolyte"]["initial_mol_m3"]["value"]
    low = np.flatnonzero(share < 0.05)
    depleted = float(capacity[low[0]]) if len(low) else None
    keep = picked(capacity, voltage)
    return {
        "c_rate": rate,
        "temperature_c": temperature_c,
        "capacity_ah": [float(f"{q:.6g}") for q in capacity[keep]],
        "voltage_v": [round(float(v), 5) for v in voltage[keep]],
        "depleted_ah": depleted and float(f"{depleted:.5g}"),
    }


def picked(capacity, voltage):
    """Indices spread evenly along the curve drawn in its own box."""
    along = np.diff(capacity) / np.ptp(capacity) + np.abs(np.diff(voltage)) / np.ptp(voltage)
    along = np.append(0.0, np.cumsum(along))
    wanted = np.linspace(0.0, along[-1], POINTS)
    return np.unique(np.append(np.searchsorted(along, wanted[:-1]), len(capacity) - 1))


def vectors_of(cell_id, bpx_folder):
    """All vectors of one cell."""
    data = read_file(ROOT / "chemistry/cells" / f"{cell_id}.yml", cell_id).data
    found, built = [], {}
    for temperature_c, rates in conditions(cell_id):
        shells, mesh_x = FINER.get((cell_id, temperature_c), (SHELLS, MESH_X))
        if (shells, mesh_x) not in built:
            values = parameters(data, bpx_folder)
            built[shells, mesh_x] = simulation(data, values, shells, mesh_x)
        for rate in rates:
            vector = curve(built[shells, mesh_x], data, rate, temperature_c)
            found.append(vector | {"shells": shells, "mesh_x": list(mesh_x)})
            print(cell_id, temperature_c, rate, vector["capacity_ah"][-1], flush=True)
    return found


def write(cells):
    """Write curves.json, one line a curve."""
    head = {
        "library": f"pybamm {pybamm.__version__}",
        "model": "DFN (sodium_ion.BasicDFN for chayambuka-2022), isothermal",
        "solver": "IDAKLU, rtol 1e-6, atol 1e-8",
    }
    lines = [f'  "{key}": {json.dumps(value)},' for key, value in head.items()]
    lines.append('  "cells": {')
    for k, (cell_id, curves) in enumerate(cells.items()):
        rows = ",\n".join("      " + json.dumps(c, separators=(",", ":")) for c in curves)
        lines.append(f'    "{cell_id}": [\n{rows}\n    ]' + ("," if k < len(cells) - 1 else ""))
    OUT.write_text("{\n" + "\n".join(lines) + "\n  }\n}\n")


def main():
    """Recompute the named cells (all by default), keep the others as they are."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--bpx")
    parser.add_argument("cells", nargs="*", default=CELLS)
    chosen = parser.parse_args()
    cells = json.loads(OUT.read_text())["cells"] if OUT.exists() else {}
    for cell_id in chosen.cells or CELLS:
        cells[cell_id] = vectors_of(cell_id, chosen.bpx)
        write({key: cells[key] for key in CELLS if key in cells})


if __name__ == "__main__":
    main()
