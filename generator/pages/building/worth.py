"""Worth it? Price of a pack of found cells against new ones."""

from __future__ import annotations

import sys

from generator.compute.building import WORTH_CASES
from generator.compute.results import Results
from generator.compute.worth import worth
from generator.model.library import Library
from generator.pages.building.common import remarks, topic_page

SLUG = "worth"
TITLE = "Is it worth it?"
SUMMARY = "The price of a found pack per cell, per Ah and per usable Wh after the rejects, against new cells."


def page(library: Library, results: Results) -> str:
    """Return the page."""
    rows = [(case, worth(**case)) for case in WORTH_CASES]
    buy = remarks(library, "lithium-ion", "capacity-claims", "bought-cells-scatter") + remarks(library, "cell-variation", "worst-cell-defines")
    return topic_page("worth.md.j2", sys.modules[__name__], library, results, rows=rows, buy_remarks=buy)
