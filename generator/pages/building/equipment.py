"""Does a pack suit the equipment: windows of candidate packs against an equipment's volts, on one ruler."""

from __future__ import annotations

import sys

from markupsafe import Markup

from generator.compute.equipment import Window, candidates
from generator.compute.results import Results
from generator.draw.ruler import RulerRow, pack_axis, ruler_svg
from generator.model.library import Library
from generator.pages.building.common import topic_page

SLUG = "equipment"
TITLE = "Does it suit the equipment?"
SUMMARY = "The window of each candidate pack against the lowest, nominal and highest volts the equipment takes, on one ruler."
# Invented equipment of common kinds; the numbers stand in for what a rating plate or manual says.
EXAMPLES = (
    ("A device for a 12 V lead-acid battery", Window(10.5, 12.0, 15.0)),
    ("A device for a 24 V system", Window(21.0, 24.0, 30.0)),
    ("A motor controller marked 36 V", Window(30.0, 36.0, 42.5)),
)
WORDS = {
    "fits": "fits",
    "low": "stops early: the pack still holds charge when the equipment switches off",
    "high": "too high when full: do not connect",
}


def page(library: Library, results: Results) -> str:
    """Return the page."""
    found = [(name, window, candidates(window, library.chemistries.values())) for name, window in EXAMPLES]
    rulers = [(name, window, rows, _ruler(index, name, window, rows)) for index, (name, window, rows) in enumerate(found)]
    return topic_page("equipment.md.j2", sys.modules[__name__], library, results, examples=rulers, words=WORDS, first=EXAMPLES[0][1])


def _ruler(index: int, name: str, window: Window, rows) -> Markup:
    lines = [RulerRow("the equipment", window.least_v, None, window.nominal_v, window.most_v)]
    lines += [RulerRow(f"{c.row.series} \u00d7 {c.name}", c.row.empty_v, c.row.storage_v, c.row.nominal_v, c.row.full_v) for c in rows]
    return Markup(ruler_svg(lines, id=f"fit-{index}", title=name, axis=pack_axis(lines)))
