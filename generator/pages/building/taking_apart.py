"""Taking a pack apart: what can short, the order of work, taps and groups."""

from __future__ import annotations

import sys

from generator.compute.results import Results
from generator.compute.taps import parallel_counts
from generator.model.library import Library
from generator.pages.building import words
from generator.pages.building.common import stated, topic_page

SLUG = "taking-apart"
TITLE = "Taking a pack apart"
SUMMARY = "What can short, in which order to disconnect, what the tap voltages tell, and how many cells stand side by side."

PACKS_AH = (1.3, 1.5, 2.0, 2.5, 3.0, 4.0, 5.0, 6.0, 8.0, 9.0, 12.0)


def page(library: Library, results: Results) -> str:
    """Return the page."""
    building = results.building
    sizes = {size: span for size, span in building.single_ah.items()}
    rows = [(pack, [parallel_counts(pack, *span) for span in sizes.values()]) for pack in PACKS_AH]
    fields = ("id", "name", "empty_v", "full_v", "floor_v")
    data = {
        "chemistries": [{name: getattr(window, name) for name in fields} for window in building.taps],
        "words": {"odd": words.ODD, "state": words.STATE, "none": words.NO_FIT},
    }
    floor = stated(library, "lithium-ion", "overdischarge-floor")
    context = {"sizes": sizes, "parallel_rows": rows, "data": data, "odd": words.ODD, "floor": floor, "subjects": library.chemistries}
    return topic_page("taking_apart.md.j2", sys.modules[__name__], library, results, **context)
