"""Nodes, weights and constants of the layers of a lead-acid cell."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from generator.compute.porous.axial import Element, element
from generator.model.cell import FARADAY_C_MOL
from generator.model.lead_acid import LeadAcidCell

DEGREE = 8  # of the polynomial in each plate; the separator has half
CATIONS = (0.5, 1.5)  # produced per electron and unit j: lead, lead dioxide


@dataclass(frozen=True, slots=True, eq=False)
class Layers:
    """Constant arrays; sites are the nodes of the lead, then of the dioxide plate."""

    cell: LeadAcidCell
    kelvin: float
    porous: Element
    gap: Element
    site_node: np.ndarray  # (sites,) acid node of a site
    gap_node: np.ndarray  # (separator nodes,)
    width: np.ndarray  # (sites,) m of plate that a site stands for
    gap_volume: np.ndarray  # (nodes,) m of pore in the separator
    full_pore: np.ndarray  # (sites,) porosity at full charge
    pore_j: np.ndarray  # (sites,) porosity per second and j
    sums: np.ndarray  # (sites, 2) current per area of each plate per j
    feed: np.ndarray  # (sites,) mol/s/m2 of acid per j
    ionic: np.ndarray  # (2, plate nodes, plate nodes) L times i_e per j

    @property
    def sites(self) -> int:
        """Number of sites of both plates."""
        return len(self.site_node)

    @property
    def count(self) -> int:
        """Number of acid nodes."""
        return len(self.gap_volume)

    def volume(self, pore: np.ndarray) -> np.ndarray:
        """Pore volume of the acid nodes per area, m, at porosities (members, sites)."""
        volume = np.tile(self.gap_volume, (len(pore), 1))
        np.add.at(volume, (slice(None), self.site_node), self.width * pore)
        return volume

    def parts(self):
        """(acid nodes, element, sites or None) of each layer, from lead to dioxide."""
        half = self.sites // 2
        return (
            (self.site_node[:half], self.porous, slice(0, half)),
            (self.gap_node, self.gap, None),
            (self.site_node[half:], self.porous, slice(half, None)),
        )


def layers(cell: LeadAcidCell, kelvin: float) -> Layers:
    """The arrays of a cell at one temperature."""
    plates, nodes, inside = (cell.negative, cell.positive), DEGREE + 1, DEGREE // 2
    porous, gap = element(DEGREE), element(inside)
    thick = np.array([p.thickness_m for p in plates])
    area = np.array([p.surface_per_volume_1_m for p in plates])
    sums = np.kron(np.eye(2), porous.weights[:, None]) * area * thick
    share = (np.array(CATIONS) - cell.transference_number) / FARADAY_C_MOL
    gap_node = np.arange(inside + 1) + DEGREE
    gap_volume = np.zeros(2 * DEGREE + inside + 1)
    gap_volume[gap_node] = cell.separator_thickness_m * gap.weights * cell.separator_porosity
    rise = porous.integrate
    return Layers(
        cell=cell, kelvin=kelvin, porous=porous, gap=gap,
        site_node=np.concatenate([np.arange(nodes), np.arange(nodes) + DEGREE + inside]),
        gap_node=gap_node, gap_volume=gap_volume,
        width=np.outer(thick, porous.weights).ravel(),
        full_pore=np.repeat([p.maximum_porosity for p in plates], nodes),
        pore_j=np.repeat(pore_growth(cell) * area / FARADAY_C_MOL, nodes),
        sums=sums,
        feed=sums.sum(axis=1) * np.repeat(share, nodes),
        ionic=(area * thick**2)[:, None, None] * np.array([rise, rise - rise[-1]]),
    )  # fmt: skip


def pore_growth(cell: LeadAcidCell) -> np.ndarray:
    """Pore volume gained per electron and unit j, m3/mol: lead, lead dioxide."""
    sulfate = cell.sulfate_molar_volume_m3_mol
    lead, dioxide = (p.molar_volume_m3_mol for p in (cell.negative, cell.positive))
    return np.array([lead - sulfate, sulfate - dioxide]) / 2.0
