"""Matrices of the layers of a cell: solid, ionic path, electrolyte."""

from __future__ import annotations

import numpy as np

from generator.model.cell import FARADAY_C_MOL, CellModel

from .axial import Element
from .tables import pair_of


def area_thickness(cell: CellModel) -> np.ndarray:
    """Particle surface per area of electrode, a L, (2,)."""
    return np.array([e.surface_1_m * e.thickness_m for e in pair_of(cell)])


def solid_matrix(cell: CellModel, porous: Element) -> np.ndarray:
    """Solid potential at the sites from j, zero at each collector, (sites, sites).

    d phi/dx = -(i - i_e)/sigma; i - i_e is what the particles have still to take up.
    """
    twice = porous.integrate @ porous.integrate
    shapes = (twice - np.outer(porous.nodes, porous.weights), twice - twice[-1])
    nodes = len(porous.nodes)
    matrix = np.zeros((2 * nodes, 2 * nodes))
    for k, (electrode, shape) in enumerate(zip(pair_of(cell), shapes, strict=True)):
        scale = electrode.surface_1_m * electrode.thickness_m**2
        block = slice(k * nodes, (k + 1) * nodes)
        matrix[block, block] = scale / electrode.effective_conductivity_s_m * shape
    return matrix


def ionic_matrix(cell: CellModel, porous: Element) -> np.ndarray:
    """L times the ionic current at the sites per j, zero at each collector."""
    rise = porous.integrate
    scale = area_thickness(cell) * [e.thickness_m for e in pair_of(cell)]
    return scale[:, None, None] * np.array([rise, rise - rise[-1]])


def current_sums(cell: CellModel, porous: Element) -> np.ndarray:
    """(sites, 2): j times a column is the current per area out of one electrode."""
    return np.kron(np.eye(2), porous.weights[:, None]) * area_thickness(cell)


def border_matrix(sums: np.ndarray) -> np.ndarray:
    """Constant part of the Jacobian: potential offsets and current sums."""
    sites = len(sums)
    border = np.zeros((sites + 2, sites + 2))
    border[:sites, sites:] = sums != 0.0
    border[sites:, :sites] = sums.T
    return border


def electrolyte_matrices(cell: CellModel, porous: Element, gap: Element):
    """(volumes (nodes,) m, stiffness per unit diffusivity at each node, unit ohm).

    Galerkin with quadrature at the nodes. The stiffness is (nodes, nodes * nodes);
    the last is 1 / transport efficiency of the electrode that a node belongs to.
    """
    layers = ((cell.negative, porous), (cell.separator, gap), (cell.positive, porous))
    count = sum(len(shape.nodes) - 1 for _, shape in layers) + 1
    volume, spread, ohm, first = np.zeros(count), np.zeros((count,) * 3), np.ones(count), 0
    for part, shape in layers:
        at = np.arange(first, first + len(shape.nodes))
        volume[at] += part.porosity * part.thickness_m * shape.weights
        gain = part.electrolyte_transport_efficiency / part.thickness_m * shape.weights
        slopes = shape.differentiate
        spread[np.ix_(at, at, at)] += (
            gain[:, None, None] * slopes[:, :, None] * slopes[:, None, :]
        )
        if part is not cell.separator:
            ohm[at] = 1.0 / part.electrolyte_transport_efficiency
        first = at[-1]
    return volume, spread.reshape(count, count * count), ohm


def feed_matrix(cell: CellModel, sums: np.ndarray, site_node, count: int) -> np.ndarray:
    """Salt into the electrolyte nodes per j, mol/s/m2, and a column left zero."""
    feed = np.zeros((count, len(sums) + 1))
    share = (1.0 - cell.electrolyte.transference_number) / FARADAY_C_MOL
    feed[site_node, np.arange(len(sums))] = sums.sum(axis=1) * share
    return feed


def gap_ohm(cell: CellModel, gap: Element) -> np.ndarray:
    """L * weights / efficiency of the separator: divided by kappa it is ohm m2."""
    separator = cell.separator
    return gap.weights * separator.thickness_m / separator.electrolyte_transport_efficiency
