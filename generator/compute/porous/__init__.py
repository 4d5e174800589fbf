"""Porous-electrode (Doyle-Fuller-Newman) discharge model of published cells."""

from .discharge import Discharge, discharge, discharge_grid, open_circuit
from .system import Mesh

__all__ = ["Discharge", "Mesh", "discharge", "discharge_grid", "open_circuit"]
