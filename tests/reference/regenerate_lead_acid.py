"""Recompute lead_acid.json: discharges of the library's full porous lead-acid model.

Run from the project folder with the library installed:
    python -m tests.reference.regenerate_lead_acid
"""

from __future__ import annotations

import json
from pathlib import Path

import numpy as np
import pybamm

from tests.reference.regenerate import picked

OUT = Path(__file__).with_name("lead_acid.json")
RATES = (0.05, 0.2, 1.0, 3.0)
POINTS_X = 60


def main():
    """Write the vectors, one line a curve. The set's own temperature is 294.85 K."""
    values = pybamm.ParameterValues("Sulzer2019")
    values["Current function [A]"] = "[input]"
    nominal = values["Nominal cell capacity [A.h]"]
    points = dict.fromkeys(("x_n", "x_s", "x_p"), POINTS_X)
    solver = pybamm.IDAKLUSolver(rtol=1e-6, atol=1e-8, root_tol=1e-6)
    sim = pybamm.Simulation(
        pybamm.lead_acid.Full(), parameter_values=values, var_pts=points, solver=solver
    )
    rows = []
    for rate in RATES:
        ampere, end = rate * nominal, 5760.0 / rate
        times = end * np.linspace(0.0, 1.0, 600) ** 1.5
        solution = sim.solve([0.0, end], t_interp=times, inputs={"Current function [A]": ampere})
        capacity, voltage = solution.t * ampere / 3600.0, solution["Voltage [V]"](solution.t)
        keep = picked(capacity, voltage)
        rows.append({
            "c_rate": rate,
            "temperature_c": round(294.85 - 273.15, 2),
            "capacity_ah": [float(f"{q:.6g}") for q in capacity[keep]],
            "voltage_v": [round(float(v), 5) for v in voltage[keep]],
        })  # fmt: skip
    head = {
        "library": f"pybamm {pybamm.__version__}",
        "model": "lead_acid.Full, isothermal, without convection or side reactions",
        "mesh": f"x {POINTS_X}/{POINTS_X}/{POINTS_X}",
        "solver": "IDAKLU, rtol 1e-6, atol 1e-8",
    }
    lines = [f'  "{key}": {json.dumps(value)},' for key, value in head.items()]
    body = ",\n".join("    " + json.dumps(row, separators=(",", ":")) for row in rows)
    OUT.write_text("{\n" + "\n".join(lines) + f'\n  "curves": [\n{body}\n  ]\n}}\n')


if __name__ == "__main__":
    main()
