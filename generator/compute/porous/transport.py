"""The electrolyte over one time step, and the ohmic drops across the cell."""

from __future__ import annotations

import numpy as np

from .linear import solve_each
from .members import Members, salt_factor
from .newton import Transport
from .system import System


def salt_step(system: System, group: Members, guess, lead, old):
    """(c without reaction, c per j) at the electrolyte nodes after an implicit step.

    guess (members, nodes) sets the diffusivity; lead (members,) 1/s and old
    (members, nodes) mol/m3/s are the BDF terms: lead c - old = dc/dt.
    """
    spread = system.salt_diffusivity.value(group.place, guess / system.salt_span)
    count, sites = len(system.volume), system.sites
    matrix = (spread @ system.spread).reshape(-1, count, count)
    matrix.reshape(len(guess), -1)[:, :: count + 1] += lead[:, None] * system.volume
    sides = np.empty((len(guess), count, sites + 1))
    sides[:] = system.feed
    sides[:, :, sites] = old * system.volume
    answer = solve_each(matrix, sides)
    return answer[..., sites], answer[..., :sites]


def transport(system: System, group: Members, c: np.ndarray) -> Transport:
    """Ohmic drops at concentration c (members, electrolyte nodes)."""
    nodes = system.sites // 2
    kappa = system.conductivity.value(group.place, c / system.salt_span)
    ohm = system.unit_ohm / kappa  # of the porous layers, per node
    inner = ohm[:, system.site_node].reshape(-1, 2, 1, nodes)
    drop = (system.porous.integrate * inner) @ system.ionic
    ohmic = np.empty((len(c), 2 * nodes, 2 * nodes))
    ohmic[:] = system.solid
    ohmic[:, :nodes, :nodes] += drop[:, 0]
    ohmic[:, nodes:, nodes:] += drop[:, 1]
    gap_v = -group.current * (system.gap_ohm / kappa[:, system.gap_node]).sum(axis=1)
    if system.cell.electrolyte.thermodynamic_factor.is_constant:
        return Transport(ohmic, np.zeros((len(c), 1)), drop[:, 0, -1], gap_v)
    drift, across = _drift(system, group, c)
    return Transport(ohmic, drift, drop[:, 0, -1], gap_v + across)


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
