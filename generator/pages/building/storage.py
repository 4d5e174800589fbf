"""Storage, transport, end of life and fire."""

from __future__ import annotations

import sys

from generator.compute.protection import days_to_fall
from generator.compute.results import Results
from generator.compute.transport import band_of, cargo_bands, passenger_bands, watt_hours
from generator.model.library import Library
from generator.pages.building.common import remarks, subject, topic_page, values

SLUG = "storage"
NEEDS = ("transport",)
TITLE = "Storage, transport, end of life, fire"
SUMMARY = "How to store cells and what it costs them, the transport rules with their dates, damaged cells, and what fire services say."

COLUMNS = (
    ("Store at", "storage-voltage"),
    ("Charge", "storage-state-of-charge"),
    ("Temperature", "storage-temperature"),
    ("Self-discharge", "self-discharge"),
    ("Recharge after", "storage-recharge-interval"),
)
# Common packs for the table of transport classes: chemistry, series, parallel, Ah a cell.
PACKS = (("nmc", 1, 1, 3.0), ("nmc", 3, 2, 2.5), ("nmc", 5, 2, 2.5), ("nmc", 10, 4, 2.5), ("nmc", 13, 5, 3.0), ("lfp", 4, 4, 1.5), ("lfp", 4, 1, 100.0))
PASSENGER = ("no approval", "airline's approval", "not at all")
CARGO = ("small exception", "by road or rail only", "fully regulated")
FALL_PERCENT = 30.0
LEAKS = (1.0, 2.0, 3.0, 5.0)
TESTS = tuple(f"t{n}" for n in range(1, 9))


def page(library: Library, results: Results) -> str:
    """Return the page."""
    transport = subject(library, "transport")
    rechargeable = [s for s in library.chemistries.values() if s.rechargeable]
    stored = [(s, [s.figure(q) for _, q in COLUMNS]) for s in rechargeable]
    context = {
        "columns": COLUMNS,
        "stored": [(s, items) for s, items in stored if any(items)],
        "fade": [(s, list(s.values_of("calendar-fade"))) for s in library.chemistries.values() if any(s.values_of("calendar-fade"))],
        "months": [(leak, days_to_fall(1.0, FALL_PERCENT, 0.0, leak) / (365.25 / 12)) for leak in LEAKS],
        "fall": FALL_PERCENT,
        "limits": [s for q in ("watt-hour-limit", "transport-state-of-charge-max", "lithium-mass-limit", "package-mass-max", "production-run-max") for s in transport.stated if s.quantity.id == q],
        "transport_values": values(library, "transport", "watt-hour-limit", "transport-state-of-charge-max"),
        "transport": transport,
        "packs": [_pack(library, transport, *pack) for pack in PACKS],
        "rules": remarks(library, "transport", "wh-definition", "un-numbers", "sodium-numbers", "no-passenger-cargo", "single-cell", "pack-tested", "reverse-current", "marking", "drop"),
        "tests": remarks(library, "transport", *TESTS),
        "damaged": remarks(library, "transport", "damaged-us", "damaged-adr"),
        "waste": remarks(library, "transport", "waste", "to-recycling", "to-recycling-adr"),
        "lead_waste": remarks(library, "lead-acid", "adr-used"),
        "fire": remarks(library, "fire", "public", "leave", "signs", "no-modifying", "where-charge", "escape-route", "when-charge", "hard-surface", "propagation-duty"),
        "crews": remarks(library, "fire", "water", "halon", "no-ice"),
        "gases": values(library, "fire", "hydrogen-fluoride-release", "phosphoryl-fluoride-release", "toxic-concentration", "watch-time"),
        "shelf": remarks(library, "lithium-ion", "years-on-the-shelf", "self-discharge-by-charge"),
    }
    return topic_page("storage.md.j2", sys.modules[__name__], library, results, **context)


def _pack(library: Library, transport, chemistry: str, series: int, parallel: int, capacity_ah: float) -> dict[str, object]:
    cell = library.chemistries[chemistry]
    energy = watt_hours(parallel * capacity_ah, series * cell.volts("nominal-voltage"))
    single = series * parallel == 1
    return {
        "name": f"{series}S{parallel}P of {cell.abbreviation}, {capacity_ah:g} Ah cells",
        "energy": energy,
        "passenger": PASSENGER[band_of(energy, passenger_bands(transport))],
        "cargo": CARGO[band_of(energy, cargo_bands(transport, single))],
    }
