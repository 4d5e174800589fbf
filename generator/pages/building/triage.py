"""Triage of found cells: refusal first."""

from __future__ import annotations

import sys

from generator.compute.results import Results
from generator.compute.triage import SIGNS
from generator.model.library import Library
from generator.pages.building.common import remarks, stated, topic_page, values

SLUG = "triage"
TITLE = "Triage of found cells"
SUMMARY = "What to refuse at sight, the floor voltage, slow pre-charge, rest, the watch on self-discharge, and what no test promises."


def page(library: Library, results: Results) -> str:
    """Return the page."""
    context = {
        "signs": SIGNS,
        "floor": stated(library, "lithium-ion", "overdischarge-floor"),
        "limit": stated(library, "lithium-ion", "precharge-voltage"),
        "floors": values(library, "lithium-ion", "overdischarge-floor"),
        "precharge": values(library, "lithium-ion", "precharge-voltage", "precharge-rate"),
        "timers": values(library, "salvage", "precharge-time-limit", "charge-time-limit"),
        "copper": values(library, "lithium-ion", "copper-dissolution-voltage"),
        "charge_remarks": remarks(library, "lithium-ion", "precharge-refused") + remarks(library, "salvage", "precharge-timeout", "precharge-quarter"),
        "harm_remarks": remarks(library, "salvage", "one-volt-cycles", "reversal-leaves-copper", "damage-goes-on") + remarks(library, "lithium-ion", "slight-overdischarge", "damage-below-1-5-v", "copper-plateau", "years-on-the-shelf"),
        "watch_remarks": remarks(library, "salvage", "self-discharge-watch", "screening", "sorting-accuracy") + remarks(library, "lithium-ion", "self-discharge-by-charge"),
        "buy_remarks": remarks(library, "lithium-ion", "capacity-claims", "bought-cells-scatter"),
    }
    return topic_page("triage.md.j2", sys.modules[__name__], library, results, **context)
