"""The lead-acid cell in the form that `generator.compute.porous.march` steps."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from generator.compute import forms
from generator.compute.porous.members import taken
from generator.compute.porous.state import State, Trial, bdf_weights, begun
from generator.model.lead_acid import LeadAcidCell

from .layers import layers
from .reaction import Past, molality, solve_step, voltage
from .transport import acid_at

DEPLETION = 1.0e-3  # share of the full acid at which the pores count as empty
INSTANT_1_S = 1.0e12  # BDF rate of a step too short for anything to move
EXACT_V = 1.0e-6


@dataclass(frozen=True, slots=True, eq=False)
class Group:
    """Discharges that advance together."""

    index: np.ndarray  # (members,)
    current: np.ndarray  # (members,) A/m2 of plate, discharge > 0

    take = taken


class AcidEquations:
    """A row is: acid c of the nodes, acid held by them (mol/m2), porosity, z, voltage."""

    depletion = DEPLETION

    def __init__(self, cell: LeadAcidCell, kelvin: float):
        self.where = where = layers(cell, kelvin)
        self.initial_mol_m3 = cell.full_charge_mol_m3
        ends = np.cumsum([where.count, where.count, where.sites, where.sites + 2])
        starts = np.append(0, ends[:-1])
        parts = [slice(int(a), int(b)) for a, b in zip(starts, ends, strict=True)]
        self.salt, self.mass, self.pore, self.z = parts
        self.voltage = int(ends[-1])

    def start(self, group: Group) -> State:
        """Full acid everywhere, the current just switched on."""
        where, count = self.where, len(group.current)
        c = np.full((count, where.count), self.initial_mol_m3)
        pore = np.tile(where.full_pore, (count, 1))
        each = group.current[:, None] * [1.0, -1.0] / where.sums.sum(axis=0)
        m = molality(where.cell, np.array([self.initial_mol_m3]))[0]
        plates = (where.cell.negative, where.cell.positive)
        rest = [float(forms.evaluate(p.potential, m, where.kelvin)[0]) for p in plates]
        j = np.repeat(each, where.sites // 2, axis=1)
        z = np.concatenate([j, np.tile(rest, (count, 1))], axis=1)
        lead = np.full(count, INSTANT_1_S)
        past = Past(lead, INSTANT_1_S * where.volume(pore) * c, pore, np.zeros_like(pore))
        row, good = self._row(group, past, c, pore, z, EXACT_V)
        if not good.all():
            raise ArithmeticError(f"{where.cell.id}: no solution when the current is switched on")
        return begun(row)

    def attempt(self, group: Group, state: State, dt: np.ndarray, residual_v: float) -> Trial:
        """One BDF2 step; transport properties are those of the predicted state."""
        with np.errstate(all="ignore"):
            lead, weights = bdf_weights(state.age, dt)
            ahead, old = np.moveaxis(weights @ state.rows, 1, 0)
            now = state.rows[:, 0, self.salt]
            c = np.minimum(np.maximum(ahead[:, self.salt], 0.5 * now), 1.5 * now)
            gain = self.where.pore_j / lead[:, None]
            past = Past(lead, old[:, self.mass], old[:, self.pore] / lead[:, None], gain)
            row, good = self._row(group, past, c, ahead[:, self.pore], ahead[:, self.z], residual_v)
        return Trial(row, ahead[:, self.voltage], good)

    def _row(self, group: Group, past: Past, c, pore, z, residual_v):
        where = self.where
        acid = acid_at(where, c, pore)
        c, z, good = solve_step(where, group.current, acid, past, c, z, residual_v)
        pore = past.held + past.gain * z[:, : where.sites]
        parts = [c, where.volume(pore) * c, pore, z, voltage(where, group.current, acid, z)[:, None]]
        good &= (pore > 0.0).all(axis=1) & (c > 0.0).all(axis=1)
        return np.concatenate(parts, axis=1), good
