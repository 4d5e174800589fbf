"""Discharge curves: time and error of ours and of the reference library, in one run.

Bars (house plan, section 8): at most 3 mV RMS up to 1C and 10 mV above, at least five times
faster per curve than the library at equal accuracy; all curves of the site in 8 s on two cores.
The library's columns need PyBaMM beside numpy and PyYAML (it is no dependency of the project).
Times are CPU time of one thread, best of three, warm: models built, BLAS held to one thread
(threads cost more than they bring on matrices this small).
"""

from __future__ import annotations

import json
import os
import subprocess
import sys
import time
from pathlib import Path

import numpy as np

from generator.compute.porous import discharge, discharge_grid
from generator.model.cell import cell_from_data
from generator.read import read_file

ROOT = Path(__file__).parents[2]
RATES = (0.1, 0.2, 0.5, 1.0, 2.0, 3.0)
ONE_THREAD = {"OPENBLAS_NUM_THREADS": "1", "OMP_NUM_THREADS": "1", "MKL_NUM_THREADS": "1"}
DEFAULT_MESH = (20, (20, 20, 20))  # shells, points in x: the library's own default
REPEATS = 3


def run() -> None:
    """Print the table, from a process of its own with one BLAS thread."""
    command = [sys.executable, "-W", "ignore", "-m", "tests.benchmarks.bench_curves"]
    subprocess.run(command, cwd=ROOT, check=True, env={**os.environ, **ONE_THREAD})


def fastest_ms(work) -> float:
    """Least CPU time of a few runs, ms."""
    times = []
    for _ in range(REPEATS):
        started = time.process_time()
        work()
        times.append(time.process_time() - started)
    return 1e3 * min(times)


def rms_mv(vector, capacity, voltage) -> float:
    """RMS difference from a vector over the common range, mV."""
    q, v = np.array(vector["capacity_ah"]), np.array(vector["voltage_v"])
    q, v = q[q <= capacity[-1]], v[q <= capacity[-1]]
    miss, weight = np.interp(q, capacity, voltage) - v, np.gradient(q)
    return 1e3 * float(np.sqrt((weight * miss**2).sum() / weight.sum()))


def library_curves(data, rates):
    """(ms a curve, {rate: (capacity, voltage)}) of the library at its default mesh, or None."""
    try:
        from tests.reference import regenerate
    except ImportError:
        return None
    if not data.get("parameter_set"):
        return None  # a BPX set: its file is not part of the project
    values = regenerate.parameters(data, None)
    simulation = regenerate.simulation(data, values, *DEFAULT_MESH)
    found, spent = {}, []
    for rate in rates:
        ampere = rate * data["nominal_capacity_ah"]
        end = 5760.0 / rate
        inputs = {
            "Current function [A]": ampere,
            "Ambient temperature [K]": 298.15,
            "Initial temperature [K]": 298.15,
        }
        times = end * np.linspace(0.0, 1.0, 200) ** 1.5

        def solve(end=end, times=times, inputs=inputs):
            return simulation.solve([0.0, end], t_interp=times, inputs=inputs)

        solution = solve()
        spent.append(fastest_ms(solve))
        found[rate] = solution.t * ampere / 3600.0, solution["Voltage [V]"](solution.t)
    return float(np.mean(spent)), found


def row(cell_id: str, vectors) -> tuple[str, float]:
    """One line of the table and the CPU ms of all curves of the cell."""
    data = read_file(ROOT / "chemistry/cells" / f"{cell_id}.yml", cell_id).data
    cell = cell_from_data(data)
    ours = {d.c_rate: d for d in discharge(cell, RATES, 25.0)}
    rates = [r for r, d in ours.items() if d.stopped_because == "cutoff-voltage"]
    one = fastest_ms(lambda: discharge(cell, rates, 25.0)) / len(rates)
    every = cell.temperatures_valid_c
    total = fastest_ms(lambda: discharge_grid(cell, RATES, every))
    share = total / len(RATES) / len(every)
    library = library_curves(data, rates)
    at = {v["c_rate"]: v for v in vectors if v["temperature_c"] == 25.0}
    text = f"{cell_id:<22}{one:>8.1f}{share:>8.1f}"
    if library:
        text += f"{library[0]:>9.0f}{library[0] / one:>7.1f}{library[0] / share:>7.1f}"
    else:
        text += f"{'-':>9}{'-':>7}{'-':>7}"
    for rate in (0.2, 1.0, 2.0, 3.0):
        curve = ours[rate]
        mine = rms_mv(at[rate], curve.capacity_ah, curve.voltage_v)
        theirs = f"{rms_mv(at[rate], *library[1][rate]):.2f}" if library and rate in rates else "-"
        text += f"{mine:>8.2f}/{theirs:<5}"
    return text, total


def table() -> None:
    """Print the table and the time of the whole site's curves."""
    reference = json.loads((ROOT / "tests/reference/curves.json").read_text())
    print("ms a curve: ours with 6 rates at 25 degC, ours with all temperatures; library; ratios")
    print(f"RMS mV against {reference['library']} on a fine mesh: ours/library at its default mesh")
    print(
        f"{'set':<22}{'6':>8}{'all':>8}{'library':>9}{'x 6':>7}{'x all':>7}"
        f"{'0.2C':>12}{'1C':>14}{'2C':>14}{'3C':>14}"
    )
    total = 0.0
    for cell_id, vectors in reference["cells"].items():
        text, spent = row(cell_id, vectors)
        total += spent
        print(text, flush=True)
    print(f"all curves of the site: {total / 1e3:.1f} s of one core (bar: 8 s on two)")
    try:
        import pybamm  # noqa: F401
    except ImportError:
        print("the library is not installed here: its columns are empty")


if __name__ == "__main__":
    table()
