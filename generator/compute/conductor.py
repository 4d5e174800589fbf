"""Strip and wire: resistance, drop, heating and fusing from first principles.

Resistance R = rho l / A, hot resistance R (1 + alpha (T - 20)). The steady rise of temperature is that of a long
straight conductor alone in still air, its heat leaving through the surface at ``FILM_W_M2_K``; it says nothing of a
closed pack. Fusing: Onderdonk (adiabatic, copper, seconds), the same from density and specific heat for any metal,
and Preece (steady, long wire in free air, bright red heat).
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from generator.model.subject import Subject

# Natural convection and radiation together for small bodies a few ten kelvin above still air: textbooks give 5 to 25,
# and the low half errs to the safe side.
FILM_W_M2_K = 10.0
REFERENCE_C = 20.0
AWG_36_MM = 0.127
AWG_RATIO = 92.0
ONDERDONK = 0.0297
ONDERDONK_ZERO_C = 234.0
COPPER_MELTS_C = 1083.0
MM2_PER_CIRCULAR_MIL = math.pi / 4.0 * 0.0254**2
MM_PER_INCH = 25.4


@dataclass(frozen=True, slots=True)
class Metal:
    """A metal's constants: ohm metre at 20 degrees, 1/K, melting point [degC], kg/m3, J/(kg K); Preece's A/in^1.5."""

    id: str
    name: str
    resistivity_ohm_m: float
    coefficient_1_k: float
    melting_c: float
    density_kg_m3: float
    specific_heat_j_kg_k: float
    preece: float | None


def metals(conductors: Subject) -> dict[str, Metal]:
    """Return the metals of the practice file ``conductors`` whose constants are all stated, by id."""
    found = {}
    for variant in conductors.variants:
        numbers = [conductors.volts(name, variant.id) for name in ("resistivity", "resistance-temperature-coefficient", "melting-temperature", "density", "specific-heat")]
        if None not in numbers:
            rho, alpha, melts, density, heat = numbers
            preece = conductors.volts("preece-constant", variant.id)
            found[variant.id] = Metal(variant.id, variant.name, rho * 1e-9, alpha / 100.0, melts, density * 1000.0, heat, preece)
    return found


def awg_diameter_mm(gauge: int) -> float:
    """Return the diameter of an American wire gauge [mm]: 0.127 mm x 92^((36 - n)/39) (ASTM B258). 4/0 is gauge -3."""
    return AWG_36_MM * AWG_RATIO ** ((36 - gauge) / 39.0)


def wire_area_mm2(diameter_mm: float) -> float:
    """Return the cross-section of a round wire [mm2]."""
    return math.pi / 4.0 * diameter_mm**2


def resistance_ohm(metal: Metal, area_mm2: float, length_m: float, temperature_c: float = REFERENCE_C) -> float:
    """Return the resistance [ohm] of a conductor at a temperature."""
    hot = 1.0 + metal.coefficient_1_k * (temperature_c - REFERENCE_C)
    return metal.resistivity_ohm_m * hot * length_m / (area_mm2 * 1e-6)


def rise_k(metal: Metal, area_mm2: float, perimeter_mm: float, ampere: float, ambient_c: float) -> float | None:
    """Return the steady rise of temperature [K] alone in still air; None where it would run away.

    Heat made in a metre, i2 R (1 + alpha dT), equals heat lost from its surface, h p dT.
    """
    cold = metal.resistivity_ohm_m * (1.0 + metal.coefficient_1_k * (ambient_c - REFERENCE_C)) / (area_mm2 * 1e-6)
    slope = metal.resistivity_ohm_m * metal.coefficient_1_k / (area_mm2 * 1e-6)
    lost = FILM_W_M2_K * perimeter_mm * 1e-3 - ampere * ampere * slope
    return ampere * ampere * cold / lost if lost > 0.0 else None


def current_for_rise_a(metal: Metal, area_mm2: float, perimeter_mm: float, kelvin: float, ambient_c: float) -> float:
    """Return the current [A] that gives a steady rise alone in still air."""
    per_metre = resistance_ohm(metal, area_mm2, 1.0, ambient_c + kelvin)
    return math.sqrt(FILM_W_M2_K * perimeter_mm * 1e-3 * kelvin / per_metre)


def onderdonk_a(area_mm2: float, seconds: float, ambient_c: float) -> float:
    """Return the current [A] that melts a copper conductor in a time, no heat leaving it.

    (I/A)^2 t = 0.0297 log10((Tmelt + 234)/(Ta + 234)), A in circular mils.
    """
    mils = area_mm2 / MM2_PER_CIRCULAR_MIL
    return mils * math.sqrt(ONDERDONK * math.log10((COPPER_MELTS_C + ONDERDONK_ZERO_C) / (ambient_c + ONDERDONK_ZERO_C)) / seconds)


def adiabatic_a(metal: Metal, area_mm2: float, seconds: float, ambient_c: float) -> float:
    """Return the current [A] that brings a conductor of any metal to its melting point in a time, no heat leaving it.

    rho0 (1 + alpha (T - 20)) (I/A)^2 dt = d c dT, integrated; d and c at room temperature, no heat of fusion.
    """
    alpha = metal.coefficient_1_k
    ratio = (1.0 + alpha * (metal.melting_c - REFERENCE_C)) / (1.0 + alpha * (ambient_c - REFERENCE_C))
    square = metal.density_kg_m3 * metal.specific_heat_j_kg_k / (metal.resistivity_ohm_m * alpha) * math.log(ratio) / seconds
    return area_mm2 * 1e-6 * math.sqrt(square)


def preece_a(metal: Metal, diameter_mm: float) -> float | None:
    """Return Preece's steady fusing current [A] of a long round wire in free air; None where he gave no constant."""
    return None if metal.preece is None else metal.preece * (diameter_mm / MM_PER_INCH) ** 1.5
