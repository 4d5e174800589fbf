"""The porous-electrode equations over one time step of all members.

A state is one row of numbers a member: particle modes of every site, electrolyte
concentrations, the unknowns z of the reaction, the voltage (`Layout` says where).
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from .linear import solve_each
from .members import Members, taken
from .newton import Affine, solve, terminal_voltage
from .state import State, Trial, bdf_weights, begun
from .system import System
from .transport import electrolyte, salt_step, transport

EXACT_V = 1.0e-6
PASSES = 2  # over the transport properties, where the predicted salt was wrong
SALT_MISS = 3.0e-2  # by more than this share of what it came to somewhere
SCARCE = 0.3  # share of the initial salt below which that share falls with the salt
DEPLETION = 0.05  # lowest electrolyte concentration shown, share of the initial


@dataclass(frozen=True, slots=True, eq=False)
class Layout:
    """Where the parts of a state are in its row."""

    modes: slice
    salt: slice
    z: slice
    voltage: int


@dataclass(frozen=True, slots=True, eq=False)
class Task:
    """What the reaction of a step starts from, one entry a member."""

    lead: np.ndarray  # (members,) 1/s, the BDF rate
    old: np.ndarray  # (members, nodes) mol/m3/s of salt from the past
    guess: np.ndarray  # (members, nodes) mol/m3 at which transport properties are taken
    held: np.ndarray  # (members, sites) surface stoichiometry without reaction
    gain: np.ndarray  # (members, sites) its fall per j
    z: np.ndarray  # (members, sites + 2) where Newton starts

    take = taken


def layout(system: System) -> Layout:
    """Where the parts of a state of this system are."""
    salt = system.sites * len(system.radial.stiffness)
    z = salt + len(system.volume)
    end = z + system.sites + 2
    return Layout(slice(0, salt), slice(salt, z), slice(z, end), end)


def start(system: System, group: Members) -> State:
    """The uniform full cell with the current just switched on."""
    cell, count, sites = system.cell, len(group.current), system.sites
    full = [cell.negative.stoichiometry_full, cell.positive.stoichiometry_full]
    th0 = np.tile(np.repeat(full, sites // 2), (count, 1))
    c0 = np.full((count, len(system.volume)), cell.electrolyte.initial_mol_m3)
    modes = np.zeros((count, sites, len(system.radial.stiffness)))
    modes[..., 0] = th0 / np.sqrt(3.0)
    still = Affine(
        th0, np.zeros_like(th0), c0[:, system.site_node], np.zeros((count, sites, sites))
    )
    ohmic = transport(system, group, c0, electrolyte(system, group, c0)[0])
    j = np.repeat(group.target / system.area_thick, sites // 2, axis=1)
    rest = system.surface.value(group.row, th0)[..., 0] + group.salt_v * np.log(c0[:, :1])
    z = np.concatenate([j, rest[:, [0, -1]]], axis=1)
    z, converged = solve(system, group, still, ohmic, z, EXACT_V)
    if not converged.all():
        raise ArithmeticError(f"{cell.id}: no solution when the current is switched on")
    voltage = terminal_voltage(system, group, ohmic, z)
    row = np.concatenate([modes.reshape(count, -1), c0, z, voltage[:, None]], axis=1)
    return begun(row)


def attempt(
    system: System, group: Members, state: State, dt: np.ndarray, residual_v: float
) -> Trial:
    """All members one step of dt (members,) seconds on; nothing is accepted here.

    `residual_v` (one, or one a member) is how well the reaction must be solved (see `newton.solve`). A member
    whose step leaves the domain of a function comes back not converged.
    """
    with np.errstate(all="ignore"):
        return _attempt(system, group, state, dt, residual_v)


def _attempt(system: System, group: Members, state: State, dt, residual_v) -> Trial:
    place, count = layout(system), len(dt)
    residual_v = np.broadcast_to(residual_v, count)
    lead, weights = bdf_weights(state.age, dt)
    both = weights @ state.rows
    ahead, old = both[:, 0], both[:, 1]
    now = state.rows[:, 0, place.salt]
    guess = np.minimum(np.maximum(ahead[:, place.salt], 0.5 * now), 1.5 * now)
    held, uptake = _particles(system, group, lead, old[:, place.modes], ahead[:, place.modes])
    shell = system.radial.surface
    task = Task(lead, old[:, place.salt], guess, held @ shell, uptake @ shell, ahead[:, place.z])
    row = np.empty_like(ahead)
    converged = np.empty(count, dtype=bool)
    left, scarce = np.arange(count), SCARCE * system.cell.electrolyte.initial_mol_m3
    for turn in range(PASSES):
        salt, z, voltage, converged[left] = _reaction(system, group, task, residual_v[left])
        row[left, place.salt], row[left, place.z], row[left, place.voltage] = salt, z, voltage
        if turn == PASSES - 1:
            break
        near = SALT_MISS * salt * np.minimum(salt / scarce, 1.0)
        missed = (np.abs(salt - task.guess) > near).any(axis=1)
        missed &= converged[left]
        if not missed.any():
            break
        task = task.take(missed)
        task = replace(task, guess=np.maximum(salt[missed], 0.3 * now[left][missed]), z=z[missed])
        left, group = left[missed], group.take(missed)
    row[:, place.modes] = _reacted(held, uptake, row[:, place.z]).reshape(count, -1)
    return Trial(row, ahead[:, place.voltage], converged)


def _reacted(held, uptake, z):
    sites = held.shape[1]
    return held - uptake * z[:, :sites, None]


def _reaction(system: System, group: Members, task: Task, residual_v: float):
    """(salt, z, voltage, converged) with transport properties at the guessed salt."""
    at, sites = system.site_node, system.sites
    conductivity, diffusivity = electrolyte(system, group, task.guess)
    c0, c_j = salt_step(system, diffusivity, task.lead, task.old)
    affine = Affine(task.held, task.gain, c0[:, at], c_j[:, at])
    ohmic = transport(system, group, task.guess, conductivity)
    z, converged = solve(system, group, affine, ohmic, task.z, residual_v)
    j = z[:, :sites]
    salt = c0 + (c_j @ j[..., None])[..., 0]
    th = task.held - task.gain * j
    converged &= ((th > 0.0) & (th < 1.0)).all(axis=1) & (salt < system.salt_span).all(axis=1)
    return salt, z, terminal_voltage(system, group, ohmic, z), converged


def _particles(system: System, group: Members, lead, old, ahead):
    """(modes without reaction, modes taken up per j), each (members, sites, modes).

    A diffusivity that depends on stoichiometry is taken at the predicted profile.
    """
    count, sites = len(system.radial.stiffness), system.sites
    old = old.reshape(-1, sites, count)
    if system.diffusivity is None:
        rate = lead[:, None, None] + group.diffusivity[..., None] * system.radial.stiffness
        return old / rate, system.pull / rate
    inside = ahead.reshape(old.shape) @ system.radial.values.T
    inside = np.minimum(np.maximum(inside, 0.0), 1.0)
    spread = system.diffusivity(group.row[..., None], inside)[0]
    matrix = (spread @ system.radial.products).reshape(*old.shape, count)
    matrix.reshape(*old.shape[:2], -1)[..., :: count + 1] += lead[:, None, None]
    sides = np.empty((*old.shape, 2))
    sides[..., 0], sides[..., 1] = old, system.pull
    answer = solve_each(matrix, sides)
    return answer[..., 0], answer[..., 1]


class PorousEquations:
    """The equations of a system in the form that `march` steps."""

    def __init__(self, what: System):
        place = layout(what)
        self.system, self.salt, self.voltage = what, place.salt, place.voltage
        self.initial_mol_m3 = what.cell.electrolyte.initial_mol_m3
        self.depletion = DEPLETION

    def start(self, group: Members) -> State:
        """See `start`."""
        return start(self.system, group)

    def attempt(self, group: Members, state: State, dt: np.ndarray, residual_v: float) -> Trial:
        """See `attempt`."""
        return attempt(self.system, group, state, dt, residual_v)
