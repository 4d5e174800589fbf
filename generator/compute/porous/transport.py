"""The electrolyte over one time step, and the ohmic drops across the cell."""

from __future__ import annotations

import numpy as np

from .linear import solve_each
from .members import Members, salt_factor
from .newton import Transport
from .system import System


def electrolyte(system: System, group: Members, c: np.ndarray):
    """(conductivity S/m, diffusivity m2/s) at concentration c (members, nodes)."""
    both = system.electrolyte.value(group.place, c / system.salt_span)
    return both[..., 0], both[..., 1]


def salt_step(system: System, diffusivity, lead, old):
    """(c without reaction, c per j) at the electrolyte nodes after an implicit step.

    diffusivity (members, nodes) m2/s; lead (members,) 1/s and old (members, nodes)
    mol/m3/s are the BDF terms: lead c - old = dc/dt.
    """
    count, sites = len(system.volume), system.sites
    matrix = diffusivity @ system.spread
    matrix[:, :: count + 1] += lead[:, None] * system.volume
    sides = np.empty((len(lead), count, sites + 1))
    sides[:] = system.feed
    sides[:, :, sites] = old * system.volume
    answer = solve_each(matrix.reshape(-1, count, count), sides)
    return answer[..., sites], answer[..., :sites]


def transport(system: System, group: Members, c: np.ndarray, conductivity) -> Transport:
    """Ohmic drops at concentration c and conductivity (members, electrolyte nodes)."""
    sites, ohm_m = system.sites, 1.0 / conductivity
    linear = (ohm_m @ system.ionic).reshape(len(c), sites + 2, sites + 2)
    linear += system.fixed
    known = np.zeros((len(c), sites + 2))
    known[:, sites:] = group.target
    gap_v = -group.current * (ohm_m @ system.gap_m)
    if not system.cell.electrolyte.thermodynamic_factor.is_constant:
        known[:, :sites], across = _drift(system, group, c)
        gap_v += across
    return Transport(linear, known, gap_v)


def _drift(system: System, group: Members, c: np.ndarray):
    """Diffusion potential beyond constant (1 - t+) TDF: at the sites, and across, V."""
    nodes = system.sites // 2
    factor = salt_factor(system, c, group.temperature_k)
    excess = (group.thermal_v * factor - group.salt_v) / c
    at = (system.site_node[:nodes], system.gap_node, system.site_node[nodes:])
    sums = []
    for shape, place in zip((system.porous, system.gap, system.porous), at, strict=True):
        slope = c[:, place] @ shape.differentiate.T
        sums.append((excess[:, place] * slope) @ shape.integrate.T)
    drift = np.concatenate([sums[0], sums[2]], axis=1)
    return drift, sums[0][:, -1] + sums[1][:, -1]
