"""Solve the algebraic equations of one time step for the reaction current.

Unknowns z of a member: j at the sites (A/m2 of particle surface, out of the particle
> 0), then one potential offset an electrode. Surface stoichiometry and electrolyte
concentration are affine in j over a step, so charge is conserved at every iteration.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from .linear import solve_each
from .members import Members, taken
from .system import System

ITERATIONS = 8
_EDGE = 1.0e-9


@dataclass(frozen=True, slots=True, eq=False)
class Affine:
    """At the sites th = th0 - gain j and c = site0 + site_j j."""

    th0: np.ndarray  # (members, sites)
    gain: np.ndarray  # (members, sites)
    site0: np.ndarray  # (members, sites)
    site_j: np.ndarray  # (members, sites, sites)

    take = taken


@dataclass(frozen=True, slots=True, eq=False)
class Transport:
    """The linear part of the equations, with the conductivity at the guessed salt.

    linear z - known is, at the sites, ohmic drops and potential offset in V, to be met
    by potential and overpotential; in the last two rows the current sums are met by it.
    """

    linear: np.ndarray  # (members, sites + 2, sites + 2)
    known: np.ndarray  # (members, sites + 2)
    gap_v: np.ndarray  # (members,) drop over the separator and drift over both, V

    take = taken


def solve(system: System, group: Members, affine: Affine, transport: Transport, z, residual_v):
    """Newton iteration from guess z (members, sites + 2): (z, converged mask).

    The last update starts from a residual below residual_v and changes no site's
    overpotential by more than three times that (it can where the equations are nearly
    singular): of 3e-3 V it leaves about 1e-4 V. A member that has converged stays, so
    its answer does not depend on the others.
    """
    going = np.ones(len(z), dtype=bool)
    sound = going
    for _ in range(ITERATIONS):
        move, worst = _iteration(system, group, affine, transport, z)  # V
        finite = np.isfinite(worst)
        sound = sound & (finite | ~going)
        going = going & finite
        z = z - move if going.all() else np.where(going[:, None], z - move, z)
        going = going & (worst >= residual_v)
        if not going.any():
            return z, sound
    return z, sound & ~going


def _iteration(system: System, group: Members, affine: Affine, transport: Transport, z):
    """(Newton step to take off z; largest residual before it, or a third of its effect, V)."""
    sites = system.sites
    residual = (transport.linear @ z[..., None])[..., 0] - transport.known
    needed, by_j, by_uptake, by_c = _surface(system, group, affine, z[:, :sites])
    residual[:, :sites] -= needed
    jacobian = transport.linear.copy()
    jacobian[:, :sites, :sites] -= by_c[:, :, None] * affine.site_j
    jacobian.reshape(len(z), -1)[:, : sites * (sites + 2) : sites + 3] -= by_j - by_uptake
    move = solve_each(jacobian, residual[..., None])[..., 0]
    effect = (by_j + np.abs(by_uptake)) * np.abs(move[:, :sites])
    effect /= 3.0
    return move, np.maximum(np.abs(residual[:, :sites]), effect).max(axis=1)


def _surface(system: System, group: Members, affine: Affine, j):
    """Potential drop j needs (V); its gains by j at fixed th and c, by j through th, by c.

    The second is given for a falling th, so with the sign turned.
    """
    th = affine.th0 - affine.gain * j
    np.maximum(th, _EDGE, out=th)
    np.minimum(th, 1.0 - _EDGE, out=th)
    c = (affine.site_j @ j[..., None])[..., 0]
    c += affine.site0
    np.maximum(c, _EDGE, out=c)
    log_c = np.log(c)
    value, slope = system.surface(group.row, th)
    twice_i0 = system.salt_power * log_c
    twice_i0 += value[..., 1]
    np.exp(twice_i0, out=twice_i0)
    twice_i0 *= 2.0
    half = j / twice_i0
    root = group.thermal_v / np.sqrt(1.0 + half * half)
    by_log_i0 = -root * half
    needed = group.thermal_v * np.arcsinh(half)
    needed += value[..., 0]
    needed += group.salt_v * log_c
    by_th = slope[..., 0] + by_log_i0 * slope[..., 1]
    by_c = (group.salt_v + by_log_i0 * system.salt_power) / c
    return needed, root / twice_i0, by_th * affine.gain, by_c


def terminal_voltage(system: System, group: Members, transport: Transport, z):
    """Voltage at the cell's terminals (V), (members,)."""
    sites = system.sites
    nodes = sites // 2  # the last of the negative electrode is at the separator
    ionic = transport.linear[:, nodes - 1, :nodes] - system.fixed[nodes - 1, :nodes]
    inside = (ionic * z[:, :nodes]).sum(axis=1)
    lead = system.cell.contact_resistance_ohm * system.cell.electrode_area_m2
    open_v = z[:, sites + 1] - z[:, sites]
    return open_v - inside + transport.gap_v - lead * group.current
