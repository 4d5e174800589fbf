"""Constant-current discharge of published cells: the public calls."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from generator.compute import forms
from generator.model.cell import CellModel

from .march import Track, march
from .members import members
from .step import PorousEquations
from .system import Mesh, system

STANDARD_MESH = Mesh()
TOLERANCE_V = 1.7e-3  # miss of the predicted voltage that a time step aims at
PARTS = 4  # points written for one time step


@dataclass(frozen=True, slots=True, eq=False)
class Discharge:
    """One computed discharge, from full to the stop; its arrays are read-only.

    `stopped_because` is "cutoff-voltage" (last voltage within 0.1 mV of the cut-off),
    "electrolyte-depleted" (somewhere the concentration fell to 5 % of the initial:
    the model says nothing beyond) or "no-solution". `min_electrolyte_fraction` is the
    lowest concentration met, as a share of the initial.
    """

    c_rate: float
    temperature_c: float
    capacity_ah: np.ndarray
    voltage_v: np.ndarray
    stopped_because: str
    model: str
    min_electrolyte_fraction: float


def discharge(
    cell: CellModel,
    c_rates: Sequence[float],
    temperature_c: float,
    *,
    cutoff_v: float | None = None,
) -> tuple[Discharge, ...]:
    """Discharges of the full cell at each C-rate, all at one temperature.

    Full means full by voltage at the set's reference temperature. The cut-off is the
    set's own unless given. Raises ValueError for a rate, temperature or cut-off that
    makes no sense, ArithmeticError where the equations have no solution at the start.
    Whether the set is valid at that rate and temperature is the caller's to check.
    Equations: Doyle, Fuller and Newman, J. Electrochem. Soc. 140 (1993) 1526.
    """
    return discharge_grid(cell, c_rates, (temperature_c,), cutoff_v=cutoff_v)


def discharge_grid(
    cell: CellModel,
    c_rates: Sequence[float],
    temperatures_c: Sequence[float],
    *,
    cutoff_v: float | None = None,
    mesh: Mesh = STANDARD_MESH,
    tolerance_v: float = TOLERANCE_V,
) -> tuple[Discharge, ...]:
    """Discharges at every temperature and C-rate, rates varying fastest.

    All of them advance together, so the cost of one falls with their number.
    """
    stop = _checked(cell, c_rates, temperatures_c, cutoff_v)
    what = system(cell, tuple(temperatures_c), mesh)
    pairs = [(float(r), k) for k in range(len(temperatures_c)) for r in c_rates]
    ampere = np.array([rate for rate, _ in pairs]) * cell.nominal_capacity_ah
    group = members(what, ampere / cell.electrode_area_m2, [place for _, place in pairs])
    hours_s = 3600.0 * cell.nominal_capacity_ah / ampere
    tracks = march(PorousEquations(what), group, hours_s, stop, tolerance_v)
    return tuple(
        _discharge(rate, float(temperatures_c[place]), a, track)
        for (rate, place), a, track in zip(pairs, ampere, tracks, strict=True)
    )


def open_circuit(cell: CellModel, soc, temperature_c: float | None = None) -> np.ndarray:
    """Open-circuit voltage at a state of charge from 0 (empty) to 1 (full by voltage).

    At the set's reference temperature unless given. Raises ValueError outside 0 to 1.
    """
    soc = np.asarray(soc, dtype=float)
    if not ((soc >= 0.0) & (soc <= 1.0)).all():
        raise ValueError("a state of charge is outside 0 to 1")
    reference = cell.reference_temperature_k
    kelvin = reference if temperature_c is None else temperature_c + 273.15
    sides = []
    for electrode in (cell.negative, cell.positive):
        empty, full = electrode.stoichiometry_empty, electrode.stoichiometry_full
        x = empty + soc * (full - empty)
        heat = forms.evaluate(electrode.entropy, x, kelvin)
        sides.append(forms.evaluate(electrode.potential, x, kelvin) + (kelvin - reference) * heat)
    return sides[1] - sides[0]


def _checked(cell: CellModel, c_rates, temperatures_c, cutoff_v) -> float:
    rates, celsius = np.asarray(c_rates, dtype=float), np.asarray(temperatures_c, dtype=float)
    if rates.ndim != 1 or not len(rates) or not (np.isfinite(rates) & (rates > 0.0)).all():
        raise ValueError(f"{cell.id}: C-rates must be positive numbers, got {list(c_rates)}")
    if celsius.ndim != 1 or not len(celsius) or not (np.abs(celsius) < 200.0).all():
        raise ValueError(f"{cell.id}: not temperatures in degrees Celsius: {list(temperatures_c)}")
    stop = cell.voltage_min_v if cutoff_v is None else float(cutoff_v)
    if not cell.voltage_min_v <= stop <= cell.voltage_max_v:
        raise ValueError(
            f"{cell.id}: cut-off {stop} V is outside its window of "
            f"{cell.voltage_min_v} to {cell.voltage_max_v} V"
        )
    return stop


def _discharge(rate: float, temperature_c: float, ampere: float, track: Track) -> Discharge:
    capacity, voltage = refine(track.time_s * (ampere / 3600.0), track.voltage_v, PARTS)
    capacity.flags.writeable = voltage.flags.writeable = False
    return Discharge(
        rate, temperature_c, capacity, voltage, track.stopped_because, "DFN", track.lowest_salt
    )


def refine(x: np.ndarray, y: np.ndarray, parts: int):
    """(x, y) with `parts` intervals for each given one, on parabolas between the points.

    The bend is the mean of those on the two sides, at most twice the smaller, and never
    makes a new extreme; so a plot or table may join the points by straight lines.
    """
    if len(x) < 3:
        return x.copy(), y.copy()
    width, rise = np.diff(x), np.diff(y)
    bend = np.diff(rise / width) / (x[2:] - x[:-2])
    left, right = np.append(bend[:1], bend), np.append(bend, bend[-1:])
    most = 2.0 * np.minimum(np.abs(left), np.abs(right))
    bend = np.clip((left + right) / 2.0, -most, most)
    sag = np.clip(bend * width**2, -np.abs(rise), np.abs(rise))
    share = np.arange(parts) / parts
    inner_x = x[:-1, None] + share * width[:, None]
    inner_y = y[:-1, None] + share * rise[:, None] - share * (1.0 - share) * sag[:, None]
    return np.append(inner_x.ravel(), x[-1]), np.append(inner_y.ravel(), y[-1])
