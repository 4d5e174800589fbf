"""Voltage at rest of the porous lead-acid cell over the charge taken out of it.

At rest the acid is even. Each electron takes one mole of acid from the pores (one half is made in the lead plate and three
halves used in the lead dioxide plate, the ions' own drift cancels over the cell), while the solids swell into the pores:
c = (V0 c0 - q / F) / (V0 + g q / F), with q the charge for each area and g the pore volume gained by both plates.
Derived from the balances of Sulzer et al., J. Electrochem. Soc. 166 (2019) A2363, summed over the cell.
"""

from __future__ import annotations

import numpy as np

from generator.compute.acid.layers import pore_growth
from generator.compute.lead_acid import rest_voltage
from generator.model.cell import FARADAY_C_MOL
from generator.model.lead_acid import LeadAcidCell


def acid_after(cell: LeadAcidCell, charge_ah) -> np.ndarray:
    """Return the acid concentration at rest [mol/m3] after ``charge_ah`` has been taken out of the full cell.

    Raises ValueError where that would use up all the acid.
    """
    moles = np.asarray(charge_ah, dtype=float) * 3600.0 / (FARADAY_C_MOL * cell.electrode_area_m2)
    plates = ((p.thickness_m, p.maximum_porosity) for p in (cell.negative, cell.positive))
    full = sum(thick * porosity for thick, porosity in plates) + cell.separator_thickness_m * cell.separator_porosity
    lead, dioxide = pore_growth(cell)
    acid = full * cell.full_charge_mol_m3 - moles
    if (acid <= 0.0).any():
        raise ValueError(f"{cell.id}: no acid is left after {np.max(charge_ah)} Ah")
    return acid / (full + (lead - dioxide) * moles)  # the dioxide plate's current runs the other way


def rest_after(cell: LeadAcidCell, charge_ah) -> np.ndarray:
    """Return the voltage at rest of one cell [V] after ``charge_ah`` has been taken out of it."""
    return rest_voltage(cell, acid_after(cell, charge_ah))
