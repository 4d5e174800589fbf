"""A published cell model as frozen data, SI units in the field names."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from math import sqrt
from typing import Any

from .function import Function, Term, constant, function_from_data

__all__ = [
    "CellModel", "Electrode", "Electrolyte", "Function", "Kinetics", "Separator",
    "Term", "cell_from_data", "constant", "function_from_data",
]  # fmt: skip

FARADAY_C_MOL = 96485.33212331001  # CODATA 2018, exact by definition of the SI


@dataclass(frozen=True, slots=True, eq=False)
class Kinetics:
    """Exchange-current density of an insertion reaction with symmetric transfer.

    i0 [A/m2] = scale * rate(x, T) * (c_e / electrolyte_reference)^electrolyte_exponent
    * (c_s (c_max - c_s) / solid_reference^2)^solid_exponent. `scale` is the Faraday
    constant where the source gives a rate constant, else 1.
    """

    rate: Function
    scale: float
    electrolyte_reference_mol_m3: float
    solid_reference_mol_m3: float
    electrolyte_exponent: float = 0.5
    solid_exponent: float = 0.5


@dataclass(frozen=True, slots=True, eq=False)
class Electrode:
    """One porous electrode of spherical particles.

    Functions take stoichiometry c_s / c_max. `entropy` is dU/dT in V/K.
    `stoichiometry_full`/`_empty` belong to the full and the empty cell.
    """

    material: str
    thickness_m: float
    porosity: float
    active_fraction: float
    particle_radius_m: float
    maximum_mol_m3: float
    electrolyte_transport_efficiency: float  # porosity ** Bruggeman exponent
    solid_transport_efficiency: float  # (1 - porosity) ** Bruggeman exponent
    conductivity_s_m: float
    stoichiometry_full: float
    stoichiometry_empty: float
    potential: Function
    entropy: Function
    diffusivity: Function
    kinetics: Kinetics

    @property
    def surface_1_m(self) -> float:
        """Particle surface per electrode volume, 1/m: 3 e_s / R."""
        return 3.0 * self.active_fraction / self.particle_radius_m

    @property
    def effective_conductivity_s_m(self) -> float:
        """Solid conductivity with its transport efficiency, S/m."""
        return self.conductivity_s_m * self.solid_transport_efficiency


@dataclass(frozen=True, slots=True, eq=False)
class Separator:
    """The porous layer between the electrodes."""

    thickness_m: float
    porosity: float
    electrolyte_transport_efficiency: float  # porosity ** Bruggeman exponent


@dataclass(frozen=True, slots=True, eq=False)
class Electrolyte:
    """Binary electrolyte; functions take concentration in mol/m3 and temperature."""

    initial_mol_m3: float
    transference_number: float
    diffusivity: Function
    conductivity: Function
    thermodynamic_factor: Function  # 1 + d ln f / d ln c, as the set defines it


@dataclass(frozen=True, slots=True, eq=False)
class CellModel:
    """A porous-electrode cell: what the discharge model needs and its validity.

    `electrode_area_m2` counts every electrode pair in parallel, so current density
    is cell current over it. `rates_valid` is (lowest, highest) C-rate.
    """

    id: str
    name: str
    chemistry: str
    nominal_capacity_ah: float
    voltage_min_v: float
    voltage_max_v: float
    reference_temperature_k: float
    electrode_area_m2: float
    contact_resistance_ohm: float
    negative: Electrode
    separator: Separator
    positive: Electrode
    electrolyte: Electrolyte
    rates_valid: tuple[float, float]
    temperatures_valid_c: tuple[float, ...]


def cell_from_data(data: Mapping[str, Any]) -> CellModel:
    """Build a CellModel from the checked plain data of one cell file.

    Only `kind: porous-electrode` has a CellModel; anything else raises ValueError.
    """
    if data["kind"] != "porous-electrode":
        raise ValueError(f"{data['id']} is {data['kind']}, not porous-electrode")
    geometry = data["geometry"]
    pairs = geometry["parallel_pairs"]["value"]
    return CellModel(
        id=data["id"],
        name=data["name"],
        chemistry=data["chemistry"],
        nominal_capacity_ah=float(data["nominal_capacity_ah"]),
        voltage_min_v=float(data["voltage_min_v"]),
        voltage_max_v=float(data["voltage_max_v"]),
        reference_temperature_k=float(data["reference_temperature_k"]),
        electrode_area_m2=geometry["pair_area_m2"]["value"] * float(pairs),
        contact_resistance_ohm=float(geometry["contact_resistance_ohm"]["value"]),
        negative=_electrode(data["negative"]),
        separator=_separator(data["separator"]),
        positive=_electrode(data["positive"]),
        electrolyte=_electrolyte(data["electrolyte"]),
        rates_valid=(float(data["rate_min_c"]), float(data["rate_max_c"])),
        temperatures_valid_c=tuple(map(float, data["temperatures_valid_c"])),
    )


def _value(data: Mapping[str, Any], name: str) -> float:
    return float(data[name]["value"])


def _efficiency(data: Mapping[str, Any]) -> float:
    """Measured transport efficiency, or porosity to the Bruggeman exponent."""
    if "electrolyte_transport_efficiency" in data:
        return _value(data, "electrolyte_transport_efficiency")
    return _value(data, "porosity") ** _value(data, "electrolyte_bruggeman")


def _electrode(data: Mapping[str, Any]) -> Electrode:
    solid_share = 1.0 - _value(data, "porosity")
    return Electrode(
        material=data["material"],
        thickness_m=_value(data, "thickness_m"),
        porosity=_value(data, "porosity"),
        active_fraction=_active_fraction(data),
        particle_radius_m=_value(data, "particle_radius_m"),
        maximum_mol_m3=_value(data, "maximum_mol_m3"),
        electrolyte_transport_efficiency=_efficiency(data),
        solid_transport_efficiency=solid_share ** _value(data, "solid_bruggeman"),
        conductivity_s_m=_value(data, "conductivity_s_m"),
        stoichiometry_full=_value(data, "stoichiometry_full"),
        stoichiometry_empty=_value(data, "stoichiometry_empty"),
        potential=function_from_data(data["potential"]),
        entropy=function_from_data(data["entropy"]),
        diffusivity=function_from_data(data["diffusivity"]),
        kinetics=_kinetics(data["kinetics"], _value(data, "maximum_mol_m3")),
    )


def _active_fraction(data: Mapping[str, Any]) -> float:
    """Active volume fraction, from the particle surface area where that is given."""
    if "surface_per_volume_1_m" in data:
        surface = _value(data, "surface_per_volume_1_m")
        return surface * _value(data, "particle_radius_m") / 3.0
    return _value(data, "active_fraction")


def _kinetics(data: Mapping[str, Any], maximum_mol_m3: float) -> Kinetics:
    rate = function_from_data(data["rate"])
    reference = float(data.get("solid_reference_mol_m3", 1.0))
    if "solid_reference_stoichiometry" in data:
        x = data["solid_reference_stoichiometry"]
        reference = maximum_mol_m3 * sqrt(x * (1.0 - x))
    return Kinetics(
        rate=rate,
        scale=FARADAY_C_MOL if data["rate_times_faraday"] else 1.0,
        electrolyte_reference_mol_m3=float(data["electrolyte_reference_mol_m3"]),
        solid_reference_mol_m3=reference,
    )


def _separator(data: Mapping[str, Any]) -> Separator:
    return Separator(
        thickness_m=_value(data, "thickness_m"),
        porosity=_value(data, "porosity"),
        electrolyte_transport_efficiency=_efficiency(data),
    )


def _electrolyte(data: Mapping[str, Any]) -> Electrolyte:
    return Electrolyte(
        initial_mol_m3=_value(data, "initial_mol_m3"),
        transference_number=_value(data, "transference_number"),
        diffusivity=function_from_data(data["diffusivity"]),
        conductivity=function_from_data(data["conductivity"]),
        thermodynamic_factor=function_from_data(data["thermodynamic_factor"]),
    )
