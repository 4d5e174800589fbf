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
    """What the ohmic drops need, at the predicted concentration."""

    ohmic: np.ndarray  # (members, sites, sites) solid and ionic drop per j
    drift: np.ndarray  # (members, sites) share of variable (1 - t+) TDF, V
    ionic_end: np.ndarray  # (members, nodes) ionic drop over the negative per j
    gap_v: np.ndarray  # (members,) drop over the separator and drift over both, V

    take = taken


def solve(system: System, group: Members, affine: Affine, transport: Transport, z, residual_v):
    """Newton iteration from guess z (members, sites + 2): (z, converged mask).

    The last update starts from a residual below residual_v and changes no site's
    overpotential by more than three times that (it can where the equations are nearly
    singular): of 3e-3 V it leaves about 1e-4 V. Members that have converged drop out.
    """
    z, sound = z.copy(), np.ones(len(z), dtype=bool)
    left = np.arange(len(z))
    for _ in range(ITERATIONS):
        move, worst = _iteration(system, group, affine, transport, z[left])  # V
        finite = np.isfinite(move).all(axis=1)
        z[left] += np.where(finite[:, None], move, 0.0)
        sound[left] = finite
        again = (worst >= residual_v) & finite
        if not again.any():
            return z, sound
        if not again.all():
            left = left[again]
            group, affine, transport = (a.take(again) for a in (group, affine, transport))
    sound[left] = False
    return z, sound


def _iteration(system: System, group: Members, affine: Affine, transport: Transport, z):
    """(Newton step of z; largest residual before it, or a third of its effect, V)."""
    sites = system.sites
    residual, by_j, by_uptake, by_c = _surface(system, group, affine, transport, z)
    jacobian = np.empty((len(z), sites + 2, sites + 2))
    jacobian[:] = system.border
    square = jacobian[:, :sites, :sites]
    np.multiply(by_c[:, :, None], affine.site_j, out=square)
    np.subtract(transport.ohmic, square, out=square)
    jacobian.reshape(len(z), -1)[:, : sites * (sites + 2) : sites + 3] -= by_j - by_uptake
    right = np.empty((len(z), sites + 2, 1))
    np.negative(residual, out=right[:, :sites, 0])
    right[:, sites:, 0] = group.target - z[:, :sites] @ system.sums
    move = solve_each(jacobian, right)[..., 0]
    effect = (by_j + np.abs(by_uptake)) * np.abs(move[:, :sites]) / 3.0
    return move, np.maximum(np.abs(residual), effect).max(axis=1)


def _surface(system: System, group: Members, affine: Affine, transport: Transport, z):
    """Residual in V, and the falls of it: by j at fixed th and c, by j through th, by c."""
    j = z[:, : system.sites]
    th = affine.th0 - affine.gain * j
    th = np.minimum(np.maximum(th, _EDGE), 1.0 - _EDGE)
    c = affine.site0 + (affine.site_j @ j[..., None])[..., 0]
    c = np.maximum(c, _EDGE)
    log_c, host = np.log(c), th * (1.0 - th)
    potential, by_th = system.potential(group.row, th)
    power_c, power_th = system.exponents
    log_i0 = group.log_rate + power_c * log_c + power_th * np.log(host)
    log_by_th = power_th * (1.0 - 2.0 * th) / host
    if system.log_rate is not None:
        rate, rate_by_th = system.log_rate(group.row, th)
        log_i0 += rate - group.log_rate
        log_by_th += rate_by_th
    twice_i0 = 2.0 * np.exp(log_i0)
    half = j / twice_i0
    root = group.thermal_v / np.sqrt(1.0 + half * half)
    by_log_i0 = -root * half
    by_th += by_log_i0 * log_by_th
    residual = (transport.ohmic @ j[..., None])[..., 0] - transport.drift - potential
    residual -= group.thermal_v * np.arcsinh(half) + group.salt_v * log_c
    residual += z[:, system.offset_of_site]
    by_j, by_uptake = root / twice_i0, by_th * affine.gain
    return residual, by_j, by_uptake, (group.salt_v + by_log_i0 * power_c) / c


def terminal_voltage(system: System, group: Members, transport: Transport, z):
    """Voltage at the cell's terminals (V), (members,)."""
    sites = system.sites
    inside = (transport.ionic_end * z[:, : sites // 2]).sum(axis=1)
    lead = system.cell.contact_resistance_ohm * system.cell.electrode_area_m2
    open_v = z[:, sites + 1] - z[:, sites]
    return open_v - inside + transport.gap_v - lead * group.current
