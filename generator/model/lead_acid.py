"""A published porous lead-acid cell, whose acid takes part in the reaction, as frozen data."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from .function import Function, function_from_data


@dataclass(frozen=True, slots=True, eq=False)
class LeadPlate:
    """One plate of the lead-acid model; porosity and surface are those at full charge."""

    thickness_m: float
    maximum_porosity: float
    volumetric_capacity_c_m3: float
    surface_per_volume_1_m: float
    electrolyte_bruggeman: float
    solid_bruggeman: float
    conductivity_s_m: float
    morphology_exponent: float
    molar_volume_m3_mol: float
    potential: Function  # over molality, mol/kg
    exchange_current: Function  # over acid concentration, mol/m3


@dataclass(frozen=True, slots=True, eq=False)
class LeadAcidCell:
    """Porous lead-acid cell; voltages per cell, area over all plate pairs of one cell."""

    id: str
    name: str
    chemistry: str
    nominal_capacity_ah: float
    voltage_min_v: float
    voltage_max_v: float
    rates_valid: tuple[float, float]
    temperatures_valid_c: tuple[float, ...]
    electrode_area_m2: float
    negative: LeadPlate
    positive: LeadPlate
    separator_thickness_m: float
    separator_porosity: float
    separator_bruggeman: float
    full_charge_mol_m3: float
    transference_number: float
    water_molar_volume_m3_mol: float
    cation_molar_volume_m3_mol: float
    anion_molar_volume_m3_mol: float
    sulfate_molar_volume_m3_mol: float
    water_molar_mass_kg_mol: float
    diffusivity: Function
    conductivity: Function
    darken_factor: Function


def lead_acid_from_data(data: Mapping[str, Any]) -> LeadAcidCell:
    """Build a LeadAcidCell from the checked data of a `lead-acid-porous` file; any other kind raises ValueError."""
    if data["kind"] != "lead-acid-porous":
        raise ValueError(f"{data['id']} is {data['kind']}, not lead-acid-porous")
    parts, geometry = data["lead_acid"], data["geometry"]
    acid, separator = parts["electrolyte"], parts["separator"]
    return LeadAcidCell(
        **_common(data),
        electrode_area_m2=geometry["pair_area_m2"]["value"] * geometry["parallel_pairs"]["value"],
        negative=_plate(parts["negative"]),
        positive=_plate(parts["positive"]),
        separator_thickness_m=separator["thickness_m"]["value"],
        separator_porosity=separator["maximum_porosity"]["value"],
        separator_bruggeman=separator["electrolyte_bruggeman"]["value"],
        **_numbers_and_functions(acid),
    )


def _common(data: Mapping[str, Any]) -> dict[str, Any]:
    return {
        **{name: data[name] for name in ("id", "name", "chemistry")},
        **{name: float(data[name]) for name in ("nominal_capacity_ah", "voltage_min_v", "voltage_max_v")},
        "rates_valid": (float(data["rate_min_c"]), float(data["rate_max_c"])),
        "temperatures_valid_c": tuple(map(float, data["temperatures_valid_c"])),
    }


def _plate(data: Mapping[str, Any]) -> LeadPlate:
    return LeadPlate(**_numbers_and_functions(data))


def _numbers_and_functions(data: Mapping[str, Any]) -> dict[str, Any]:
    """Parameters as floats and functions as Functions; plain text is left out."""
    built: dict[str, Any] = {}
    for name, item in data.items():
        if isinstance(item, Mapping):
            built[name] = function_from_data(item) if "terms" in item else float(item["value"])
    return built
