"""Charging: how each chemistry is charged, temperature zones, time and energy computed, and which charger never on what."""

from __future__ import annotations

import sys
from dataclasses import dataclass

from generator.compute.charge_table import charge_rows
from generator.compute.charging import timed_hours
from generator.compute.pack import pack_row
from generator.compute.results import Results
from generator.model.library import Library
from generator.pages.building.common import remarks, stated, topic_page, values

SLUG = "charging"
NEEDS = ("lithium-ion",)
TITLE = "Charging a pack"
SUMMARY = "Constant current and voltage by chemistry, temperature zones, time and energy computed, and which charger never to use on what."

COLUMNS = (
    ("Charger, V per cell", "charge-voltage-max"),
    ("Usual rate", "charge-rate-standard"),
    ("Highest rate", "charge-rate-max"),
    ("Ends at", "charge-end-rate"),
    ("Only at", "charge-temperature"),
)
SLOW = (("Slow start below", "precharge-voltage"), ("Rate of the slow start", "precharge-rate"), ("Refuse below", "overdischarge-floor"))
NICKEL = ("charge-factor", "negative-delta-v", "temperature-rise-rate", "charge-termination-temperature", "trickle-rate")
LEAD = ("absorption-voltage", "float-voltage", "equalise-voltage", "gassing-voltage", "temperature-compensation")
# Chargers people have, and the packs they are tempted to put on them: (chemistry, series).
CHARGERS = (("nmc", 3), ("nmc", 4), ("lfp", 4), ("lead-acid-agm", 6), ("nmc", 10), ("lfp", 12))
PACKS = (("nmc", 3), ("nmc", 4), ("lfp", 4), ("lead-acid-agm", 6), ("nmc", 10), ("lfp", 12))
_OVER = 1.01  # a charger's usual tolerance of one percent


@dataclass(frozen=True, slots=True)
class Crossing:
    """Volts per cell that a charger would put on a pack, and the verdict: right, over, under."""

    per_cell_v: float
    verdict: str


def page(library: Library, results: Results) -> str:
    """Return the page."""
    rechargeable = [s for s in library.chemistries.values() if s.rechargeable]
    cccv = [s for s in rechargeable if s.volts("charge-voltage-max") is not None]
    family = library.practices["lithium-ion"]
    context = {
        "columns": COLUMNS,
        "cccv": [(s, [(s.figure(q) or (family.figure(q) if s.family == "lithium-ion" and q == "charge-end-rate" else None)) for _, q in COLUMNS]) for s in cccv],
        "slow": [(name, stated(library, "lithium-ion", q)) for name, q in SLOW],
        "zones": [(name, [v for v in values(library, "charging-zones", "charge-zone-temperature") if v.variant == name]) for name in ("cold", "cool", "warm", "hot")],
        "zone_values": values(library, "charging-zones", "cool-zone-current", "warm-zone-voltage"),
        "zone_notes": remarks(library, "charging-zones", "guideline", "zone-timers", "zone-termination", "device-zones"),
        "rows": charge_rows(library, results),
        "nickel": _entries(library, ("nicd", "nimh", "nickel"), NICKEL),
        "timed": [(rate, timed_hours(140.0, rate)) for rate in (0.05, 0.1, 0.2)],
        "lead": _entries(library, ("lead-acid-agm", "lead-acid-gel", "lead-acid-flooded"), LEAD),
        "chargers": [(_name(library, c), pack_row(library.chemistries[c[0]], c[1]).full_v) for c in CHARGERS],
        "crossings": [(_name(library, p), [_crossing(library, c, p) for c in CHARGERS]) for p in PACKS],
        "charger_notes": remarks(library, "charging-zones", "wrong-36v"),
    }
    return topic_page("charging.md.j2", sys.modules[__name__], library, results, **context)


def _entries(library: Library, ids: tuple[str, ...], quantities: tuple[str, ...]):
    subjects = [library.chemistries.get(id) or library.practices.get(id) for id in ids]
    found = [(q, [(s, f) for s in subjects if s for f in s.stated if f.quantity.id == q]) for q in quantities]
    return [(rows[0][1].quantity, rows) for _, rows in found if rows]


def _name(library: Library, pair: tuple[str, int]) -> str:
    return f"{pair[1]} \u00d7 {library.chemistries[pair[0]].abbreviation}"


def _crossing(library: Library, charger: tuple[str, int], pack: tuple[str, int]) -> Crossing:
    volts = pack_row(library.chemistries[charger[0]], charger[1]).full_v / pack[1]
    full = library.chemistries[pack[0]].volts("charge-voltage-max")
    if charger == pack:
        return Crossing(volts, "right")
    return Crossing(volts, "over" if volts > full * _OVER else "under")
