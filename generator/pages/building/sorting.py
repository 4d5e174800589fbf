"""Sorting cells into groups."""

from __future__ import annotations

import sys

from generator.compute.match import LEAST_TO_COMPARE, RESISTANCE_RATIO_MAX, SELF_DISCHARGE_NOISE, SELF_DISCHARGE_RATIO_MAX
from generator.compute.measurements import COLUMNS
from generator.compute.results import Results
from generator.compute.sample_cells import SAMPLE
from generator.model.library import Library
from generator.pages.building.common import remarks, stated, topic_page, values

SLUG = "sorting"
TITLE = "Sorting cells into groups"
SUMMARY = "Paste measurements, get the groups that waste least, the cells left out with the reason, and what the spread costs."

MAX_BYTES = 20_000_000


def page(library: Library, results: Results) -> str:
    """Return the page."""
    rules = {"resistance": RESISTANCE_RATIO_MAX, "leak": SELF_DISCHARGE_RATIO_MAX, "noise": SELF_DISCHARGE_NOISE, "least": LEAST_TO_COMPARE}
    context = {
        "columns": COLUMNS,
        "sample": results.building.sample,
        "rules": rules,
        "floor": stated(library, "lithium-ion", "overdischarge-floor"),
        "spreads": values(library, "cell-variation", "capacity-spread", "resistance-spread"),
        "use_remarks": remarks(library, "salvage", "same-kind") + remarks(library, "cell-variation", "parallel-levels-itself", "worst-cell-defines", "small-becomes-large") + remarks(library, "lithium-ion", "spread-grows"),
        "data": {"sample": SAMPLE, "max_bytes": MAX_BYTES},
    }
    return topic_page("sorting.md.j2", sys.modules[__name__], library, results, **context)
