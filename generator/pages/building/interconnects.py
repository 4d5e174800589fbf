"""Strip and wire between cells: resistance, drop, heating and fusing, with the assumptions stated."""

from __future__ import annotations

import sys

from generator.compute.conductor import FILM_W_M2_K, adiabatic_a, awg_diameter_mm, current_for_rise_a, metals, onderdonk_a, preece_a, resistance_ohm, wire_area_mm2
from generator.compute.results import Results
from generator.draw.conductor import Curve, chart_svg
from generator.model.library import Library
from generator.pages.building.common import remarks, subject, topic_page, values

SLUG = "interconnects"
NEEDS = ("conductors",)
TITLE = "Strip, wire and fuses"
SUMMARY = "Resistance, drop and heating of nickel, plated-steel, copper and aluminium strip and of wire by gauge; fusing estimates and their limits."

STRIPS_MM = ((5, 0.1), (8, 0.1), (8, 0.15), (8, 0.2), (10, 0.2), (10, 0.3))
STRIP_METALS = ("nickel", "nickel-plated-steel", "copper", "aluminium")
RISES_K = (10.0, 20.0, 40.0)
AMBIENT_C = 25.0
GAUGES = (4, 6, 8, 10, 12, 14, 16, 18, 20, 22, 24, 26, 28, 30)
LENGTHS_MM = (20, 50, 100, 200, 500)
DROP_MV = (5.0, 10.0, 20.0, 50.0)
CHART_WIDTHS_MM = (2, 4, 6, 8, 10, 12, 15)
CHART_THICKNESS_MM = 0.15
FUSE_SECONDS = (1.0, 5.0)


def page(library: Library, results: Results) -> str:
    """Return the page."""
    conductors = subject(library, "conductors")
    found = metals(conductors)
    nickel, copper = found["nickel"], found["copper"]
    context = {
        "metals": found,
        "stated": [(name, quantity, [conductors.figure(quantity, id) for id in STRIP_METALS]) for name, quantity in (("Resistivity", "resistivity"), ("Rise with temperature", "resistance-temperature-coefficient"), ("Melts at", "melting-temperature"))],
        "strip_metals": [found[id] for id in STRIP_METALS],
        "film": FILM_W_M2_K,
        "ambient": AMBIENT_C,
        "rises": RISES_K,
        "strips": [(w, t, [(resistance_ohm(found[m], w * t, 0.01) * 1000.0, current_for_rise_a(found[m], w * t, 2.0 * (w + t), 20.0, AMBIENT_C)) for m in STRIP_METALS]) for w, t in STRIPS_MM],
        "chart": _chart(nickel),
        "chart_thickness": CHART_THICKNESS_MM,
        "chart_rows": [(w, [_strip_a(nickel, w, CHART_THICKNESS_MM, k) for k in RISES_K]) for w in CHART_WIDTHS_MM],
        "lengths": LENGTHS_MM,
        "drops": DROP_MV,
        "by_length": [(mm, [mv / 1000.0 / resistance_ohm(nickel, 8 * 0.15, mm / 1000.0) for mv in DROP_MV]) for mm in LENGTHS_MM],
        "length_chart": _length_chart(nickel),
        "wires": [_wire(copper, gauge) for gauge in GAUGES],
        "fuse_seconds": FUSE_SECONDS,
        "fused_strips": [(m.name, [adiabatic_a(m, 8 * 0.15, s, AMBIENT_C) for s in FUSE_SECONDS]) for m in (found[id] for id in STRIP_METALS)],
        "printed": values(library, "conductors", "wire-resistance"),
        "use_notes": remarks(library, "conductors", "thin-strip", "tell-nickel", "slot", "no-table-right", "gauge-rule"),
        "fuse_notes": remarks(library, "conductors", "preece-origin", "preece-no-length", "onderdonk-origin", "onderdonk-use", "onderdonk-limits", "onderdonk-misprint"),
        "data": {
            "film": FILM_W_M2_K,
            "metals": {id: {"name": m.name, "rho": m.resistivity_ohm_m, "alpha": m.coefficient_1_k} for id, m in found.items()},
        },
    }
    return topic_page("interconnects.md.j2", sys.modules[__name__], library, results, **context)


def _strip_a(metal, width: float, thickness: float, kelvin: float) -> float:
    return current_for_rise_a(metal, width * thickness, 2.0 * (width + thickness), kelvin, AMBIENT_C)


def _chart(nickel):
    curves = [Curve(f"{k:g} K rise", tuple((w, _strip_a(nickel, w, CHART_THICKNESS_MM, k)) for w in CHART_WIDTHS_MM)) for k in reversed(RISES_K)]
    title = f"Current of nickel strip {CHART_THICKNESS_MM} mm thick, alone in still air of {AMBIENT_C:g} degrees, against its width"
    return chart_svg(curves, id="strip-chart", title=title, x_name="width of the strip, mm", y_name="A", x_ticks=(0, 5, 10, 15), y_ticks=(0, 5, 10, 15, 20))


def _length_chart(nickel):
    """Current for a drop against length, and the current of a 20 K rise, which does not depend on length."""
    per_m = resistance_ohm(nickel, 8 * 0.15, 1.0)
    lengths = (20, 30, 40, 60, 80, 100, 150, 200)
    curves = [Curve(f"{mv:g} mV", tuple((mm, min(mv / per_m / mm, 20.0)) for mm in lengths)) for mv in (20.0, 10.0, 5.0)]
    curves.append(Curve("20 K rise", tuple((mm, _strip_a(nickel, 8, 0.15, 20.0)) for mm in (20, 200))))
    title = "Current of nickel strip 8 by 0.15 mm against its length, for a drop of 5, 10 and 20 mV, and for a rise of 20 K"
    return chart_svg(curves, id="length-chart", title=title, x_name="length of the strip, mm", y_name="A", x_ticks=(0, 50, 100, 150, 200), y_ticks=(0, 5, 10, 15, 20))


def _wire(copper, gauge: int) -> dict[str, float | int | None]:
    diameter = awg_diameter_mm(gauge)
    area = wire_area_mm2(diameter)
    return {
        "gauge": gauge,
        "diameter": diameter,
        "area": area,
        "mohm_m": resistance_ohm(copper, area, 1.0) * 1000.0,
        "rise_a": current_for_rise_a(copper, area, 3.141592653589793 * diameter, 20.0, AMBIENT_C),
        "preece_a": preece_a(copper, diameter),
        "onderdonk": [onderdonk_a(area, s, AMBIENT_C) for s in FUSE_SECONDS],
    }
