"""Cells that are not insertion cells: tables with resistance, open-circuit functions, lead-acid."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from .function import Function, function_from_data


@dataclass(frozen=True, slots=True)
class CellTable:
    """Open-circuit voltage and resistance of one cell over state of charge, at one temperature."""

    key: str
    temperature_c: float
    state_of_charge: tuple[float, ...]
    open_circuit_v: tuple[float, ...]
    discharge_resistance_ohm: tuple[float, ...]
    charge_resistance_ohm: tuple[float, ...] | None


@dataclass(frozen=True, slots=True)
class TableCell:
    """A cell known by tables, per cell (the block's numbers over its cells in series)."""

    id: str
    name: str
    chemistry: str
    nominal_capacity_ah: float
    voltage_min_v: float
    voltage_max_v: float
    rates_valid: tuple[float, float]
    temperatures_valid_c: tuple[float, ...]
    tables: tuple[CellTable, ...]


@dataclass(frozen=True, slots=True, eq=False)
class OpenCircuit:
    """One open-circuit function that stands alone; electrode is "positive" or "negative"."""

    key: str
    name: str
    electrode: str
    function: Function


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


def table_cell_from_data(data: Mapping[str, Any]) -> TableCell:
    """Build a TableCell from the checked data of a `table-with-resistance` file."""
    _expect(data, "table-with-resistance")
    cells = data["cells_in_series"]
    return TableCell(**_common(data), tables=tuple(_table(table, cells) for table in data["tables"]))


def open_circuit_from_data(data: Mapping[str, Any]) -> tuple[OpenCircuit, ...]:
    """Build the functions of an `open-circuit` file."""
    _expect(data, "open-circuit")
    return tuple(
        OpenCircuit(item["key"], item["name"], item["electrode"], function_from_data(item))
        for item in data["functions"]
    )


def lead_acid_from_data(data: Mapping[str, Any]) -> LeadAcidCell:
    """Build a LeadAcidCell from the checked data of a `lead-acid-porous` file."""
    _expect(data, "lead-acid-porous")
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


def _expect(data: Mapping[str, Any], kind: str) -> None:
    if data["kind"] != kind:
        raise ValueError(f"{data['id']} is {data['kind']}, not {kind}")


def _common(data: Mapping[str, Any]) -> dict[str, Any]:
    return {
        **{name: data[name] for name in ("id", "name", "chemistry")},
        **{name: float(data[name]) for name in ("nominal_capacity_ah", "voltage_min_v", "voltage_max_v")},
        "rates_valid": (float(data["rate_min_c"]), float(data["rate_max_c"])),
        "temperatures_valid_c": tuple(map(float, data["temperatures_valid_c"])),
    }


def _table(table: Mapping[str, Any], cells: int) -> CellTable:
    per_cell = {
        name: tuple(value / cells for value in table[name])
        for name in ("open_circuit_v", "discharge_resistance_ohm", "charge_resistance_ohm")
        if name in table
    }
    return CellTable(
        key=table["key"],
        temperature_c=float(table["temperature_c"]),
        state_of_charge=tuple(map(float, table["state_of_charge"])),
        open_circuit_v=per_cell["open_circuit_v"],
        discharge_resistance_ohm=per_cell["discharge_resistance_ohm"],
        charge_resistance_ohm=per_cell.get("charge_resistance_ohm"),
    )


def _plate(data: Mapping[str, Any]) -> LeadPlate:
    return LeadPlate(**_numbers_and_functions(data))


def _numbers_and_functions(data: Mapping[str, Any]) -> dict[str, Any]:
    """Parameters as floats and functions as Functions; plain text is left out."""
    built: dict[str, Any] = {}
    for name, item in data.items():
        if isinstance(item, Mapping):
            built[name] = function_from_data(item) if "terms" in item else float(item["value"])
    return built
