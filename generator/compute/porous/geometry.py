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


def ionic_terms(cell: CellModel, porous: Element, site_node, count: int) -> np.ndarray:
    """Ionic drop at the sites per j and per 1 / conductivity at each electrolyte node.

    d phi_e/dx = -i_e / (conductivity * efficiency), and i_e is the integral of a j from
    the collector. (count nodes, (sites + 2)^2): to be reshaped to the matrix of the
    linear equations, whose last two rows and columns it leaves zero.
    """
    rise = porous.integrate
    nodes = len(rise)
    terms = np.zeros((count, 2 * nodes + 2, 2 * nodes + 2))
    for k, (electrode, flow) in enumerate(zip(pair_of(cell), (rise, rise - rise[-1]), strict=True)):
        scale = area_thickness(cell)[k] * electrode.thickness_m
        scale /= electrode.electrolyte_transport_efficiency
        at = slice(k * nodes, (k + 1) * nodes)
        terms[site_node[at], at, at] = scale * rise.T[:, :, None] * flow[:, None, :]
    return terms.reshape(count, -1)


def current_sums(cell: CellModel, porous: Element) -> np.ndarray:
    """(sites, 2): j times a column is the current per area out of one electrode."""
    return np.kron(np.eye(2), porous.weights[:, None]) * area_thickness(cell)


def fixed_matrix(sums: np.ndarray, solid: np.ndarray) -> np.ndarray:
    """Linear equations at no ionic drop: solid potential and offset; current sums."""
    sites = len(sums)
    matrix = np.zeros((sites + 2, sites + 2))
    matrix[:sites, :sites] = solid
    matrix[:sites, sites:] = sums != 0.0
    matrix[sites:, :sites] = sums.T
    return matrix


def electrolyte_matrices(cell: CellModel, porous: Element, gap: Element):
    """(volumes (nodes,) m, stiffness (nodes, nodes * nodes) per unit diffusivity at each node).

    Galerkin with quadrature at the nodes.
    """
    layers = ((cell.negative, porous), (cell.separator, gap), (cell.positive, porous))
    count = sum(len(shape.nodes) - 1 for _, shape in layers) + 1
    volume, spread, first = np.zeros(count), np.zeros((count,) * 3), 0
    for part, shape in layers:
        at = np.arange(first, first + len(shape.nodes))
        volume[at] += part.porosity * part.thickness_m * shape.weights
        gain = part.electrolyte_transport_efficiency / part.thickness_m * shape.weights
        slopes = shape.differentiate
        spread[np.ix_(at, at, at)] += (
            gain[:, None, None] * slopes[:, :, None] * slopes[:, None, :]
        )
        first = at[-1]
    return volume, spread.reshape(count, count * count)


def feed_matrix(cell: CellModel, sums: np.ndarray, site_node, count: int) -> np.ndarray:
    """Salt into the electrolyte nodes per j, mol/s/m2, and a column left zero."""
    feed = np.zeros((count, len(sums) + 1))
    share = (1.0 - cell.electrolyte.transference_number) / FARADAY_C_MOL
    feed[site_node, np.arange(len(sums))] = sums.sum(axis=1) * share
    return feed


def gap_terms(cell: CellModel, gap: Element, gap_node, count: int) -> np.ndarray:
    """L * weights / efficiency at the separator's nodes, (count,): over kappa it is ohm m2."""
    separator, terms = cell.separator, np.zeros(count)
    terms[gap_node] = gap.weights * separator.thickness_m
    return terms / separator.electrolyte_transport_efficiency
