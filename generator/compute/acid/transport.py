"""Ohmic drop, diffusion and diffusion potential of the acid at a guessed state."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from generator.compute import forms
from generator.compute.porous.system import GAS_J_MOL_K
from generator.model.cell import FARADAY_C_MOL

from .layers import Layers


@dataclass(frozen=True, slots=True, eq=False)
class Acid:
    """What the acid does, for acid (members, nodes) and porosity (members, sites)."""

    ohmic: np.ndarray  # (members, sites, sites) ionic drop per j, V per A/m2
    gap_ohm: np.ndarray  # (members,) ohm m2 of the separator
    stiffness: np.ndarray  # (members, nodes, nodes) m/s
    drift: np.ndarray  # (members, sites) V, see `drift`
    across: np.ndarray  # (members,) the same over lead plate and separator


def acid_at(where: Layers, c: np.ndarray, pore: np.ndarray) -> Acid:
    """Transport at acid c and porosity; the plates' grids conduct too well to matter."""
    drifts, across = drift(where, c)
    return Acid(*_ohmic(where, c, pore), _stiffness(where, c, pore), drifts, across)


def plain_factor_v(where: Layers) -> float:
    """The factor of ln c in the diffusion potential of full acid, V."""
    full = np.full(1, where.cell.full_charge_mol_m3)
    return float(_factor(where, full)[0]) * GAS_J_MOL_K * where.kelvin / FARADAY_C_MOL


def drift(where: Layers, c: np.ndarray):
    """Diffusion potential beyond `plain_factor_v` ln c, V: at the sites, and across."""
    thermal_v = GAS_J_MOL_K * where.kelvin / FARADAY_C_MOL
    excess = (_factor(where, c) * thermal_v - plain_factor_v(where)) / c
    sums = [
        (excess[:, at] * (c[:, at] @ shape.differentiate.T)) @ shape.integrate.T
        for at, shape, _ in where.parts()
    ]
    return np.concatenate([sums[0], sums[2]], axis=1), sums[0][:, -1] + sums[1][:, -1]


def _factor(where: Layers, c: np.ndarray):
    """2 (1 - t+) times the Darken factor, over the crowding of acid in water."""
    cell = where.cell
    acid_volume = cell.cation_molar_volume_m3_mol + cell.anion_molar_volume_m3_mol
    crowd = 1.0 + (2.0 * cell.water_molar_volume_m3_mol - acid_volume) * c
    darken = forms.evaluate(cell.darken_factor, c, where.kelvin)
    return 2.0 * (1.0 - cell.transference_number) * darken / crowd


def _ohmic(where: Layers, c, pore):
    half, cell = where.sites // 2, where.cell
    power = [p.electrolyte_bruggeman for p in (cell.negative, cell.positive)]
    kappa = forms.evaluate(cell.conductivity, c, where.kelvin)
    ohm = 1.0 / (kappa[:, where.site_node] * pore ** np.repeat(power, half))
    drop = (where.porous.integrate * ohm.reshape(-1, 2, 1, half)) @ where.ionic
    ohmic = np.zeros((len(c), where.sites, where.sites))
    ohmic[:, :half, :half], ohmic[:, half:, half:] = drop[:, 0], drop[:, 1]
    path = where.gap.weights * cell.separator_thickness_m
    tortuous = cell.separator_porosity**cell.separator_bruggeman
    return ohmic, (path / kappa[:, where.gap_node]).sum(axis=1) / tortuous


def _stiffness(where: Layers, c, pore):
    cell = where.cell
    spread = forms.evaluate(cell.diffusivity, c, where.kelvin)
    thick = (cell.negative.thickness_m, cell.separator_thickness_m, cell.positive.thickness_m)
    power = (
        cell.negative.electrolyte_bruggeman,
        cell.separator_bruggeman,
        cell.positive.electrolyte_bruggeman,
    )
    stiff = np.zeros((len(c), where.count, where.count))
    for (at, shape, sites), length, exponent in zip(where.parts(), thick, power, strict=True):
        share = cell.separator_porosity if sites is None else pore[:, sites]
        gain = spread[:, at] * share**exponent * shape.weights / length
        block = slice(at[0], at[-1] + 1)
        slopes = shape.differentiate
        stiff[:, block, block] += slopes.T @ (gain[..., None] * slopes)
    return stiff
