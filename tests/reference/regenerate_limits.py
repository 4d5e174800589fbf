"""Extrapolate the reference library's discharges to an infinitely fine mesh, for limits.json.

The library's error falls with the first power of its points across the cell, so on the meshes of
curves.json it is still up to 1 mV off its own limit. Who is measured against that limit gets no gain
from sharing the library's mesh, and no loss from not sharing it. The limit is V = 2 V(fine) - V(coarse)
at equal charge, where the fine mesh has twice the points of the coarse one (Richardson; its error in the
shells, of second order, is a tenth of a millivolt or less at the shells used).

Run from the project folder, with the library and PyYAML installed:
    python -m tests.reference.regenerate_limits [--bpx FOLDER] [CELL ...]
All at 25 degC. The two BPX sets need the folder with their JSON files, as in regenerate.py.
"""

from __future__ import annotations

import argparse
import json
from pathlib import Path

import numpy as np
import pybamm

from generator.read import read_file
from tests.reference.regenerate import ROOT, discharged, parameters, picked, simulation

OUT = Path(__file__).with_name("limits.json")
CELLS = (
    "ai-2020", "marquis-2019", "chen-2020", "okane-2022", "mohtat-2020", "ecker-2015", "kim-2011", "prada-2013",
    "chayambuka-2022", "about-energy-2022-lfp", "about-energy-2022-nmc",
)  # fmt: skip
RATES = (0.1, 0.2, 1.0, 2.0, 3.0)
CELSIUS = 25.0
COARSE, FINE = (120, (40, 20, 40)), (240, (80, 40, 80))
SAMPLES = 1500


def limit(pair, data, rate):
    """The curve on an infinitely fine mesh, from those on a pair of meshes."""
    (_, q1, v1), (_, q2, v2) = (discharged(sim, data, rate, CELSIUS, SAMPLES) for sim in pair)
    end = 2.0 * q2[-1] - q1[-1]
    inside = q2 < min(q1[-1], q2[-1], end)
    capacity = np.append(q2[inside], end)
    voltage = np.append((2.0 * v2 - np.interp(q2, q1, v1))[inside], 2.0 * v2[-1] - v1[-1])
    keep = picked(capacity, voltage)
    return {
        "c_rate": rate,
        "temperature_c": CELSIUS,
        "capacity_ah": [float(f"{q:.7g}") for q in capacity[keep]],
        "voltage_v": [round(float(v), 5) for v in voltage[keep]],
    }


def main():
    """Recompute the named cells (all by default), keep the others as they are."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--bpx")
    parser.add_argument("cells", nargs="*")
    chosen = parser.parse_args()
    cells = json.loads(OUT.read_text())["cells"] if OUT.exists() else {}
    for cell_id in chosen.cells or CELLS:
        data = read_file(ROOT / "chemistry/cells" / f"{cell_id}.yml", cell_id).data
        pair = [simulation(data, parameters(data, chosen.bpx), *mesh) for mesh in (COARSE, FINE)]
        cells[cell_id] = []
        for rate in RATES:
            cells[cell_id].append(limit(pair, data, rate))
            print(cell_id, rate, cells[cell_id][-1]["capacity_ah"][-1], flush=True)
        head = {"library": f"pybamm {pybamm.__version__}", "meshes": [COARSE, FINE], "made_by": "regenerate_limits.py"}
        rows = [f'    "{key}": {json.dumps(cells[key], separators=(",", ":"))}' for key in CELLS if key in cells]
        OUT.write_text(json.dumps(head)[:-1] + ',\n  "cells": {\n' + ",\n".join(rows) + "\n  }\n}\n")


if __name__ == "__main__":
    main()
