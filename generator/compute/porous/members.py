"""The discharges that advance together: what differs between them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from generator.compute import forms
from generator.model.cell import FARADAY_C_MOL

from .system import GAS_J_MOL_K, System


def taken(self, keep: np.ndarray):
    """The members that a mask or index picks, of any dataclass of member arrays."""
    return type(self)(*[getattr(self, name)[keep] for name in self.__slots__])


@dataclass(frozen=True, slots=True, eq=False)
class Members:
    """One entry a discharge along the first axis of every array."""

    index: np.ndarray  # (members,) place in the caller's order
    current: np.ndarray  # (members,) A/m2 of electrode, discharge > 0
    target: np.ndarray  # (members, 2) A/m2 out of the particles of each electrode
    temperature_k: np.ndarray  # (members, 1)
    thermal_v: np.ndarray  # (members, 1) 2 R T / F
    salt_v: np.ndarray  # (members, 1) thermal_v (1 - t+) TDF at the initial concentration
    place: np.ndarray  # (members, 1) temperature number
    row: np.ndarray  # (members, sites) number of a function of stoichiometry
    diffusivity: np.ndarray  # (members, sites) 1/s, D / R^2 where it is constant

    take = taken


def members(system: System, current: Sequence[float], place: Sequence[int]) -> Members:
    """Members with these current densities (A/m2), at `kelvin[place]`."""
    place = np.asarray(place, dtype=int)
    current = np.asarray(current, dtype=float)
    kelvin = system.kelvin[place][:, None]
    thermal_v = 2.0 * GAS_J_MOL_K * kelvin / FARADAY_C_MOL
    row = 2 * place[:, None] + np.repeat([0, 1], system.sites // 2)
    full = np.full_like(kelvin, system.cell.electrolyte.initial_mol_m3)
    return Members(
        index=np.arange(len(place)),
        current=current,
        target=np.stack([current, -current], axis=1),
        temperature_k=kelvin,
        thermal_v=thermal_v,
        salt_v=thermal_v * salt_factor(system, full, kelvin),
        place=place[:, None],
        row=row,
        diffusivity=system.row_diffusivity[row],
    )


def salt_factor(system: System, concentration: np.ndarray, temperature_k: np.ndarray):
    """(1 - t+) times the thermodynamic factor, with the shape of `concentration`."""
    electrolyte = system.cell.electrolyte
    factor = forms.evaluate(electrolyte.thermodynamic_factor, concentration, temperature_k)
    return (1.0 - electrolyte.transference_number) * factor
