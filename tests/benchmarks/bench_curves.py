"""Discharge curves: time and error of ours and of the reference library, in one run.

Bars (house plan, section 8): at most 3 mV RMS up to 1C and 10 mV above, at least five times
faster per curve than the library at equal accuracy; all curves of the site in 8 s on two cores.
The library's columns need PyBaMM beside numpy and PyYAML (it is no dependency of the project).

Equal accuracy: of a ladder of meshes the library runs on the coarsest whose error is no more than
ours. Both errors are against the library's own limit of an infinitely fine mesh
(tests/reference/limits.json): against its finite meshes it would be judged by its own kind, and we by
what those miss. Error is the RMS over all curves compared. The library uses its fastest solver at the
solver's own default tolerances, and is asked for the vector's points and a hundred more. Times are CPU
time of one thread, ours and the library's taken in turns, best of some, warm: models built, BLAS held to
one thread. Where there is no limit (other temperatures, BPX sets) errors are against curves.json.
"""

from __future__ import annotations

import argparse
import json
import os
import subprocess
import sys
import time
from dataclasses import dataclass
from pathlib import Path

import numpy as np

from generator.compute.porous import discharge, discharge_grid
from generator.model.cell import cell_from_data
from generator.read import read_file

ROOT = Path(__file__).parents[2]
RATES = (0.1, 0.2, 0.5, 1.0, 2.0, 3.0)
ONE_THREAD = {"OPENBLAS_NUM_THREADS": "1", "OMP_NUM_THREADS": "1", "MKL_NUM_THREADS": "1"}
DEFAULT_MESH = (20, (20, 20, 20))  # shells, points in x: the library's own default
LADDER = (
    (10, (10, 10, 10)), (15, (15, 10, 15)), DEFAULT_MESH, (30, (20, 20, 20)), (40, (20, 20, 20)),
    (30, (30, 20, 30)), (40, (40, 20, 40)), (60, (40, 20, 40)), (60, (60, 30, 60)), (80, (80, 40, 80)),
)  # fmt: skip
REPEATS = 5
EXTRA_POINTS = 100


def run() -> None:
    """Print the table, from a process of its own with one BLAS thread."""
    command = [sys.executable, "-W", "ignore", "-m", "tests.benchmarks.bench_curves"]
    subprocess.run(command, cwd=ROOT, check=True, env={**os.environ, **ONE_THREAD})


def fastest_ms(*works) -> list[float]:
    """Least CPU time of each of the works, done in turns, ms."""
    times = np.empty((REPEATS, len(works)))
    for k in range(REPEATS):
        for n, work in enumerate(works):
            started = time.process_time()
            work()
            times[k, n] = time.process_time() - started
    return list(1e3 * times.min(axis=0))


def rms_mv(vector, capacity, voltage) -> float:
    """RMS difference from a vector over the common range, mV."""
    q, v = np.array(vector["capacity_ah"]), np.array(vector["voltage_v"])
    q, v = q[q <= capacity[-1]], v[q <= capacity[-1]]
    miss, weight = np.interp(q, capacity, voltage) - v, np.gradient(q)
    return 1e3 * float(np.sqrt((weight * miss**2).sum() / weight.sum()))


def pooled(errors) -> float:
    """RMS of the errors of several curves."""
    return float(np.sqrt(np.mean(np.square(errors))))


class Library:
    """The reference library's model of one cell, on any mesh of the ladder."""

    def __init__(self, data, bpx):
        from tests.reference import regenerate

        self.data, self.made = data, regenerate
        self.values = regenerate.parameters(data, bpx)
        self.built = {}

    def runs(self, mesh, vectors):
        """[work] a vector; each returns (capacity Ah, voltage V)."""
        if mesh not in self.built:
            simulation = self.made.simulation(self.data, self.values, *mesh)
            self.built[mesh] = simulation, self.made.pybamm.IDAKLUSolver()
        return [self._run(*self.built[mesh], vector) for vector in vectors]

    def _run(self, simulation, solver, vector):
        ampere = vector["c_rate"] * self.data["nominal_capacity_ah"]
        kelvin, end = vector["temperature_c"] + 273.15, 5760.0 / vector["c_rate"]
        inputs = {
            "Current function [A]": ampere,
            "Ambient temperature [K]": kelvin,
            "Initial temperature [K]": kelvin,
        }
        wanted = np.array(vector["capacity_ah"]) * 3600.0 / ampere
        times = np.union1d(wanted, end * np.linspace(0.0, 1.0, EXTRA_POINTS) ** 1.5)

        def work():
            return simulation.solve([0.0, end], t_interp=times, inputs=inputs, solver=solver)

        def curve():
            solution = work()
            return solution.t * ampere / 3600.0, solution["Voltage [V]"](solution.t)

        return work, curve


@dataclass(frozen=True)
class Rung:
    """A mesh of the ladder: its error, and what to time."""

    mesh: tuple
    error_mv: float
    works: tuple


def rung(library, mesh, vectors) -> Rung:
    """The library on one mesh."""
    pairs = library.runs(mesh, vectors)
    error = pooled([rms_mv(v, *curve()) for v, (_, curve) in zip(vectors, pairs, strict=True)])
    return Rung(mesh, error, tuple(work for work, _ in pairs))


def as_accurate(library, vectors, ours_mv) -> Rung:
    """The coarsest mesh that is no less accurate than ours, else the finest."""
    for mesh in LADDER:
        found = rung(library, mesh, vectors)
        if found.error_mv <= ours_mv:
            break
    return found


def row(cell, library, vectors, celsius) -> str:
    """One line of the table: a set at one temperature."""
    curves = {d.c_rate: d for d in discharge(cell, RATES, celsius)}
    whole = [r for r, d in curves.items() if d.stopped_because == "cutoff-voltage"]
    vectors = [v for v in vectors if v["c_rate"] in whole]
    errors = [rms_mv(v, curves[v["c_rate"]].capacity_ah, curves[v["c_rate"]].voltage_v) for v in vectors]
    charge = [abs(curves[v["c_rate"]].capacity_ah[-1] / v["capacity_ah"][-1] - 1.0) for v in vectors]
    ours_mv = pooled(errors)
    head = f"{cell.id:<22}{celsius:>5.0f}{max(errors):>7.2f}{100 * max(charge):>7.3f}{ours_mv:>7.2f}"
    if not library:
        (ours,) = fastest_ms(lambda: discharge(cell, whole, celsius))
        return f"{head}{ours / len(whole):>8.1f}   -"
    equal, default = as_accurate(library, vectors, ours_mv), rung(library, DEFAULT_MESH, vectors)
    ours, *theirs = fastest_ms(lambda: discharge(cell, whole, celsius), *equal.works, *default.works)
    one, count = ours / len(whole), len(vectors)
    at_equal, at_default = np.mean(theirs[:count]), np.mean(theirs[count:])
    x_n, x_s, x_p = equal.mesh[1]
    sign = " " if equal.error_mv <= ours_mv else ">"
    return (
        f"{head}{one:>8.1f}   r{equal.mesh[0]} x{x_n}-{x_s}-{x_p:<4}{equal.error_mv:>6.2f}{at_equal:>7.0f}"
        f"{sign}{at_equal / one:>5.1f}x{default.error_mv:>9.2f}{at_default:>6.0f}{at_default / one:>6.1f}x"
    )


def library_of(data, bpx):
    """The library's model of a cell, or None where it has none here: BPX files are not part of the project."""
    try:
        import pybamm  # noqa: F401
    except ImportError:
        return None
    here = data.get("parameter_set") or (bpx and (Path(bpx) / f"{data['id']}.json").exists())
    return Library(data, bpx) if here else None


def table(chosen, every_temperature, bpx) -> None:
    """Print the table and the time of the whole site's curves."""
    reference, limits = (json.loads((ROOT / "tests/reference" / name).read_text()) for name in ("curves.json", "limits.json"))
    print(f"error against the limit of {limits['library']} (* on a fine mesh); > where no mesh of the ladder is as accurate as ours")
    print(
        f" {'set':<22}{'degC':>5}{'RMS mV':>7}{'Ah %':>7}{'pooled':>7}{'ours ms':>8}   "
        f"{'equal: mesh':<15}{'mV':>5}{'ms':>7}{'ratio':>7}{'default: mV':>11}{'ms':>4}{'ratio':>7}"
    )
    for cell_id in chosen or reference["cells"]:
        vectors = reference["cells"][cell_id]
        data = read_file(ROOT / "chemistry/cells" / f"{cell_id}.yml", cell_id).data
        cell, library = cell_from_data(data), library_of(data, bpx)
        for celsius in sorted({v["temperature_c"] for v in vectors}) if every_temperature else (25.0,):
            here = [v for v in limits["cells"].get(cell_id, []) if v["temperature_c"] == celsius]
            mark = " " if here else "*"
            print(mark + row(cell, library, here or [v for v in vectors if v["temperature_c"] == celsius], celsius), flush=True)


def whole_site() -> None:
    """Print the time of every cell at every temperature, as a build computes them."""
    total = 0.0
    for path in sorted((ROOT / "chemistry/cells").glob("*.yml")):
        data = read_file(path, path.name).data
        if data["kind"] != "porous-electrode":
            continue
        cell = cell_from_data(data)
        (spent,) = fastest_ms(lambda cell=cell: discharge_grid(cell, RATES, cell.temperatures_valid_c))
        total += spent
        share = spent / len(RATES) / len(cell.temperatures_valid_c)
        print(f"{cell.id:<22}{share:>6.1f} ms a curve, {len(cell.temperatures_valid_c)} temperatures at once")
    print(f"all curves of the site: {total / 1e3:.1f} s of one core (bar: 8 s on two)")


if __name__ == "__main__":
    options = argparse.ArgumentParser(description="Discharge curves beside the reference library's.")
    options.add_argument("--temperatures", action="store_true", help="compare at every temperature, not only at 25 degC")
    options.add_argument("--bpx", help="folder with the JSON files of the two BPX sets, named like our cells")
    options.add_argument("cells", nargs="*")
    given = options.parse_args()
    table(given.cells, given.temperatures, given.bpx)
    if not given.cells:
        whole_site()
