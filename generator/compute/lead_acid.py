"""Constant-current discharge of a porous lead-acid cell whose acid is used up.

Equations: Sulzer, Chapman, Please, Howey and Monroe, J. Electrochem. Soc. 166 (2019)
A2363, without convection and side reactions. Unknown across the cell are the acid
concentration c and, in the plates, the reaction current j and the porosity e:
    d(e c)/dt = d/dx(D e^1.5 dc/dx) + (s - t+) a j / F,   de/dt = dV a j / F
with s = 1/2 in the lead and 3/2 in the lead dioxide plate, dV the pore volume that an
electron leaves, and (two electrons a reaction)
    phi_s - phi_e = U(molality) + (R T / F) asinh(j / (2 i0(c))).
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from generator.compute import forms
from generator.model.lead_acid import LeadAcidCell

from .acid.equations import AcidEquations, Group
from .acid.reaction import molality
from .porous.discharge import PARTS, TOLERANCE_V, Discharge, refine
from .porous.march import Track, march
from .porous.system import ZERO_CELSIUS_K

MODEL = "porous lead-acid"


def discharge_lead_acid(
    cell: LeadAcidCell,
    c_rates: Sequence[float],
    temperature_c: float,
    *,
    cutoff_v: float | None = None,
) -> tuple[Discharge, ...]:
    """Discharges of one cell of the block from full acid, voltages per cell.

    Temperature enters the kinetic and the diffusion potential only, as in the set.
    Raises ValueError for a rate, temperature or cut-off that makes no sense.
    """
    rates = np.asarray(c_rates, dtype=float)
    stop = _checked(cell, rates, temperature_c, cutoff_v)
    ampere = rates * cell.nominal_capacity_ah
    group = Group(np.arange(len(rates)), ampere / cell.electrode_area_m2)
    equations = AcidEquations(cell, temperature_c + ZERO_CELSIUS_K)
    tracks = march(equations, group, 3600.0 / rates, stop, TOLERANCE_V)
    return tuple(
        _discharge(float(rate), float(temperature_c), a, track)
        for rate, a, track in zip(rates, ampere, tracks, strict=True)
    )


def rest_voltage(cell: LeadAcidCell, acid_mol_m3) -> np.ndarray:
    """Open-circuit voltage of one cell with uniform acid (mol/m3), V."""
    m = molality(cell, np.asarray(acid_mol_m3, dtype=float))[0]
    plates = (cell.negative, cell.positive)
    negative, positive = (forms.evaluate(p.potential, m, 298.15) for p in plates)
    return positive - negative


def _checked(cell: LeadAcidCell, rates, temperature_c, cutoff_v) -> float:
    if rates.ndim != 1 or not len(rates) or not (np.isfinite(rates) & (rates > 0.0)).all():
        raise ValueError(f"{cell.id}: C-rates must be positive numbers, got {rates.tolist()}")
    if not abs(temperature_c) < 200.0:
        raise ValueError(f"{cell.id}: not a temperature in degrees Celsius: {temperature_c}")
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
        rate, temperature_c, capacity, voltage, track.stopped_because, MODEL, track.lowest_salt
    )
