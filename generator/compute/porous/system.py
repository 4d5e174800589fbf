"""One cell as arrays: everything that does not change while it discharges.

Nodes: each electrode has as many Gauss-Lobatto points, in the order negative then
positive wherever an axis has "sites". The electrolyte has its own nodes across
negative, separator, positive; neighbouring layers share the boundary node.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from generator.model.cell import CellModel

from . import geometry, tables
from .axial import Element, element
from .lookup import Lookup
from .radial import RadialBasis, radial_basis

GAS_J_MOL_K = 8.31446261815324  # CODATA 2018, exact by definition of the SI
ZERO_CELSIUS_K = 273.15


@dataclass(frozen=True, slots=True)
class Mesh:
    """Polynomial degree in an electrode and in the separator; modes of a particle.

    Modes are cheap where diffusivity is constant: `varying_modes` are used elsewhere.
    """

    electrode: int = 7
    separator: int = 2
    modes: int = 24
    varying_modes: int = 8


@dataclass(frozen=True, slots=True, eq=False)
class System:
    """Constant arrays of one cell at several temperatures (SI units)."""

    cell: CellModel
    kelvin: np.ndarray  # (temperatures,)
    porous: Element
    gap: Element
    radial: RadialBasis
    surface: Lookup  # potential V and ln i0 / (A/m2) without its power of c_e, joined
    diffusivity: Lookup | None  # 1/s; None where it does not depend on stoichiometry
    row_diffusivity: np.ndarray  # (rows,) its middle value
    electrolyte: Lookup  # S/m and m2/s, joined, over concentration / salt_span
    salt_span: float  # mol/m3
    salt_power: np.ndarray  # (sites,) exponent of c_e in i0
    pull: np.ndarray  # (sites, modes) 1/s taken from each mode per A/m2
    area_thick: np.ndarray  # (2,) a L
    sums: np.ndarray  # (sites, 2) current per area of each electrode per j
    fixed: np.ndarray  # (sites + 2, sites + 2) linear equations: solid, offsets, sums
    ionic: np.ndarray  # (nodes, (sites + 2)^2) what they gain per 1 / conductivity
    site_node: np.ndarray  # (sites,) electrolyte node of a site
    gap_node: np.ndarray  # (separator nodes,) likewise
    volume: np.ndarray  # (electrolyte nodes,) porosity * L * weight, m
    spread: np.ndarray  # (nodes, nodes * nodes) stiffness per unit diffusivity
    gap_m: np.ndarray  # (nodes,) ohm m2 of the separator per 1 / conductivity
    feed: np.ndarray  # (nodes, sites + 1) salt per j

    @property
    def sites(self) -> int:
        """Number of surface sites, both electrodes."""
        return len(self.pull)


@lru_cache(maxsize=8)  # by the very cell object: whoever asks for another discharge of it need not wait again
def system(cell: CellModel, temperatures_c: tuple[float, ...], mesh: Mesh) -> System:
    """Arrays of `cell` at the given temperatures.

    Raises ValueError where a function is not finite or not positive as it must be.
    """
    kelvin = np.asarray(temperatures_c, dtype=float) + ZERO_CELSIUS_K
    porous, gap = element(mesh.electrode), element(mesh.separator)
    nodes = mesh.electrode + 1
    site_node = np.concatenate([np.arange(nodes), np.arange(nodes) + nodes - 1 + mesh.separator])
    diffusivity, row_diffusivity = tables.diffusivity_table(cell, kelvin)
    radial = radial_basis(mesh.varying_modes if diffusivity else mesh.modes)
    sums = geometry.current_sums(cell, porous)
    volume, spread = geometry.electrolyte_matrices(cell, porous, gap)
    gap_node = np.arange(mesh.separator + 1) + mesh.electrode
    uptake = [tables.uptake(e) for e in tables.pair_of(cell)]
    return System(
        cell=cell, kelvin=kelvin, porous=porous, gap=gap, radial=radial,
        surface=tables.surface_table(cell, kelvin),
        diffusivity=diffusivity, row_diffusivity=row_diffusivity,
        electrolyte=tables.electrolyte_table(cell, kelvin),
        salt_span=tables.salt_span(cell),
        salt_power=np.repeat(tables.salt_powers(cell), nodes),
        pull=np.outer(np.repeat(uptake, nodes), radial.surface),
        area_thick=geometry.area_thickness(cell), sums=sums,
        fixed=geometry.fixed_matrix(sums, geometry.solid_matrix(cell, porous)),
        ionic=geometry.ionic_terms(cell, porous, site_node, len(volume)),
        site_node=site_node, gap_node=gap_node, volume=volume, spread=spread,
        gap_m=geometry.gap_terms(cell, gap, gap_node, len(volume)),
        feed=geometry.feed_matrix(cell, sums, site_node, len(volume)),
    )  # fmt: skip
