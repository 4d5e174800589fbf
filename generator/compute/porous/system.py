"""One cell as arrays: everything that does not change while it discharges.

Nodes: each electrode has as many Gauss-Lobatto points, in the order negative then
positive wherever an axis has "sites". The electrolyte has its own nodes across
negative, separator, positive; neighbouring layers share the boundary node.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

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

    electrode: int = 6
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
    potential: Lookup
    diffusivity: Lookup | None  # 1/s; None where it does not depend on stoichiometry
    row_diffusivity: np.ndarray  # (rows,) its middle value
    log_rate: Lookup | None  # likewise
    row_log_rate: np.ndarray
    conductivity: Lookup  # S/m of the electrolyte over concentration / salt_span
    salt_diffusivity: Lookup  # m2/s, likewise
    salt_span: float  # mol/m3
    exponents: np.ndarray  # (2, sites) of c_e and of th (1 - th) in i0
    pull: np.ndarray  # (sites, modes) 1/s taken from each mode per A/m2
    area_thick: np.ndarray  # (2,) a L
    sums: np.ndarray  # (sites, 2) current per area of each electrode per j
    border: np.ndarray  # (sites + 2, sites + 2) constant part of the Jacobian
    offset_of_site: np.ndarray  # (sites,) place in z of a site's potential offset
    solid: np.ndarray  # (sites, sites) ohmic matrix of the solid
    ionic: np.ndarray  # (2, nodes, nodes) L times i_e at the sites per j
    site_node: np.ndarray  # (sites,) electrolyte node of a site
    gap_node: np.ndarray  # (separator nodes,) likewise
    volume: np.ndarray  # (electrolyte nodes,) porosity * L * weight, m
    spread: np.ndarray  # (nodes, nodes * nodes) stiffness per unit diffusivity
    unit_ohm: np.ndarray  # (nodes,) 1 / transport efficiency in the electrodes
    gap_ohm: np.ndarray  # (separator nodes,) m
    feed: np.ndarray  # (nodes, sites + 1) salt per j

    @property
    def sites(self) -> int:
        """Number of surface sites, both electrodes."""
        return len(self.pull)


def system(cell: CellModel, temperatures_c: Sequence[float], mesh: Mesh) -> System:
    """Arrays of `cell` at the given temperatures.

    Raises ValueError where a function is not finite or not positive as it must be.
    """
    kelvin = np.asarray(temperatures_c, dtype=float) + ZERO_CELSIUS_K
    porous, gap = element(mesh.electrode), element(mesh.separator)
    nodes = mesh.electrode + 1
    site_node = np.concatenate([np.arange(nodes), np.arange(nodes) + nodes - 1 + mesh.separator])
    diffusivity, row_diffusivity = tables.diffusivity_table(cell, kelvin)
    radial = radial_basis(mesh.varying_modes if diffusivity else mesh.modes)
    log_rate, row_log_rate = tables.log_rate_table(cell, kelvin)
    conductivity, salt_diffusivity = tables.electrolyte_tables(cell, kelvin)
    sums = geometry.current_sums(cell, porous)
    volume, spread, unit_ohm = geometry.electrolyte_matrices(cell, porous, gap)
    uptake = [tables.uptake(e) for e in tables.pair_of(cell)]
    return System(
        cell=cell, kelvin=kelvin, porous=porous, gap=gap, radial=radial,
        potential=tables.potential_table(cell, kelvin),
        diffusivity=diffusivity, row_diffusivity=row_diffusivity,
        log_rate=log_rate, row_log_rate=row_log_rate,
        conductivity=conductivity, salt_diffusivity=salt_diffusivity,
        salt_span=tables.salt_span(cell),
        exponents=np.repeat(tables.power_rows(cell), nodes, axis=1),
        pull=np.outer(np.repeat(uptake, nodes), radial.surface),
        area_thick=geometry.area_thickness(cell), sums=sums,
        border=geometry.border_matrix(sums),
        offset_of_site=np.repeat([2 * nodes, 2 * nodes + 1], nodes),
        solid=geometry.solid_matrix(cell, porous), ionic=geometry.ionic_matrix(cell, porous),
        site_node=site_node, gap_node=np.arange(mesh.separator + 1) + mesh.electrode,
        volume=volume, spread=spread, unit_ohm=unit_ohm,
        gap_ohm=geometry.gap_ohm(cell, gap),
        feed=geometry.feed_matrix(cell, sums, site_node, len(volume)),
    )  # fmt: skip
