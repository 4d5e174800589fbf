"""Acid, reaction current and potentials of one time step by Newton's method.

Unknowns of a member: acid c at the nodes, j at the sites, one offset a plate.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from generator.compute import forms
from generator.compute.porous.linear import solve_each
from generator.compute.porous.system import GAS_J_MOL_K
from generator.model.cell import FARADAY_C_MOL
from generator.model.lead_acid import LeadAcidCell

from .layers import Layers
from .transport import Acid, plain_factor_v

ITERATIONS = 12


@dataclass(frozen=True, slots=True, eq=False)
class Past:
    """What the time step takes from the past; porosity = held + gain j."""

    lead: np.ndarray  # (members,) 1/s, the BDF rate
    mass: np.ndarray  # (members, nodes) mol/m2/s of acid
    held: np.ndarray  # (members, sites)
    gain: np.ndarray  # (members, sites)


def molality(cell: LeadAcidCell, c: np.ndarray):
    """(molality in mol/kg, its slope by c) of acid at c mol/m3."""
    free = 1.0 - c * (cell.cation_molar_volume_m3_mol + cell.anion_molar_volume_m3_mol)
    scale = cell.water_molar_volume_m3_mol / cell.water_molar_mass_kg_mol
    return c * scale / free, scale / free**2


def solve_step(where: Layers, current, acid: Acid, past: Past, c, z, residual_v: float):
    """(c, z, converged) of a step from the guesses c and z. current (members,) A/m2."""
    good = np.zeros(len(c), dtype=bool)
    for _ in range(ITERATIONS):
        matrix, right = _balance(where, acid, past, c, z)
        worst = _potentials(where, current, acid, c, z, matrix, right)
        step = solve_each(matrix, right[..., None])[..., 0]
        finite = np.isfinite(step).all(axis=1)
        step = np.where(finite[:, None], step, 0.0)
        good = (worst < residual_v) & finite
        c = np.maximum(c + step[:, : where.count], 0.1 * c)
        z = z + step[:, where.count :]
        if good.all():
            break
    return c, z, good


def voltage(where: Layers, current, acid: Acid, z: np.ndarray) -> np.ndarray:
    """Terminal voltage of one cell, (members,) V."""
    half = where.sites // 2
    inside = (acid.ohmic[:, half - 1, :half] * z[:, :half]).sum(axis=1)
    return z[:, -1] - z[:, -2] - inside - current * acid.gap_ohm + acid.across


def _balance(where: Layers, acid: Acid, past: Past, c, z):
    """Jacobian and right side with the rows of the acid balance filled in."""
    count, sites, at = where.count, where.sites, where.site_node
    j, size = z[:, :sites], count + sites + 2
    members, site = np.arange(len(c))[:, None], np.arange(sites)
    matrix, right = np.zeros((len(c), size, size)), np.zeros((len(c), size))
    held = past.lead[:, None] * where.volume(past.held + past.gain * j)
    right[:, :count] = past.mass - held * c - (acid.stiffness @ c[..., None])[..., 0]
    np.add.at(right, (members, at), where.feed * j)
    matrix[:, :count, :count] = acid.stiffness
    matrix[:, range(count), range(count)] += held
    swell = past.lead[:, None] * where.width * past.gain * c[:, at]
    matrix[members, at, count + site] = swell - where.feed
    return matrix, right


def _potentials(where: Layers, current, acid: Acid, c, z, matrix, right):
    """Fill in the rows of the potentials and current sums; largest residual, V."""
    count, sites, at = where.count, where.sites, where.site_node
    members, site, j = np.arange(len(c))[:, None], np.arange(sites), z[:, :sites]
    fall, by_c, by_j = _surface(where, c[:, at], j)
    residual = (acid.ohmic @ j[..., None])[..., 0] - acid.drift - fall
    residual += np.repeat(z[:, sites:], sites // 2, axis=1)
    rows = slice(count, count + sites)
    right[:, rows] = -residual
    matrix[:, rows, rows] = acid.ohmic
    matrix[members, count + site, count + site] -= by_j
    matrix[members, count + site, at] = -by_c
    matrix[:, rows, count + sites :] = where.sums != 0.0
    matrix[:, count + sites :, rows] = where.sums.T
    right[:, count + sites :] = np.stack([current, -current], axis=1) - j @ where.sums
    return np.abs(residual).max(axis=1)


def _surface(where: Layers, c, j):
    """U + diffusion potential + overpotential at the sites, V; its slopes by c and j."""
    half, plates = where.sites // 2, (where.cell.negative, where.cell.positive)
    thermal_v = GAS_J_MOL_K * where.kelvin / FARADAY_C_MOL  # two electrons: 2 R T / 2 F
    m, m_by_c = molality(where.cell, c)
    total, by_c, by_j = np.empty_like(c), np.empty_like(c), np.empty_like(c)
    for k, plate in enumerate(plates):
        part = slice(k * half, (k + 1) * half)
        u, u_by_m = forms.value_and_slope(plate.potential, m[:, part], where.kelvin)
        i0, i0_by_c = forms.value_and_slope(plate.exchange_current, c[:, part], where.kelvin)
        ratio = j[:, part] / (2.0 * i0)
        root = thermal_v / np.sqrt(1.0 + ratio**2)
        total[:, part] = u + thermal_v * np.arcsinh(ratio)
        by_c[:, part] = u_by_m * m_by_c[:, part] - root * ratio * i0_by_c / i0
        by_j[:, part] = root / (2.0 * i0)
    plain = plain_factor_v(where)
    return total + plain * np.log(c), by_c + plain / c, by_j
