"""What the worksheet takes from practice files: the strip's metal and the transport limits."""

from __future__ import annotations

from generator.compute.conductor import metals
from generator.compute.pack_figures import Figure
from generator.compute.transport import limit_wh
from generator.compute.worksheet_types import Rules
from generator.model.library import Library

STRIP_METAL = "nickel"
TRANSPORT = ("small-cell", "small-battery", "passenger", "passenger-approval")


# The watt-hour limits are written for rechargeable lithium and sodium cells; lithium metal goes by grams of lithium.
WATT_HOUR_FAMILIES = ("lithium-ion", "sodium-ion")


def worksheet_rules(library: Library, chemistry: str) -> Rules:
    """Return the rules for one chemistry. Raises KeyError where a practice file lacks a figure the worksheet rests on."""
    transport = library.practices["transport"]
    found = {v: Figure(f"transport.watt-hour-limit.{v}", None, limit_wh(transport, v)) for v in TRANSPORT if library.chemistries[chemistry].family in WATT_HOUR_FAMILIES}
    return Rules(metals(library.practices["conductors"])[STRIP_METAL], found)
