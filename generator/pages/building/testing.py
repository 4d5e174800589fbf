"""Testing: capacity and resistance as the standards do them, and what a test done otherwise tells."""

from __future__ import annotations

import sys

from generator.compute.curves import REFERENCE_C
from generator.compute.results import Results
from generator.model.library import Library
from generator.pages.building.common import remarks, topic_page, values

SLUG = "testing"
TITLE = "Testing capacity and resistance"
SUMMARY = "The standard tests with their currents and times for your cell, and what a test at another rate or cut-off tells."

SHOWN_RATES_C = (0.2, 0.5, 1.0, 2.0)


def page(library: Library, results: Results) -> str:
    """Return the page."""
    factors = [f for f in results.building.factors if f.c_rate in SHOWN_RATES_C and _is_lithium(f.chemistry, library)]
    context = {
        "factors": factors,
        "example": next((f for f in factors if (f.chemistry, f.c_rate, f.cutoff_v) == ("nmc", 1.0, 3.0)), None),
        "reference_c": REFERENCE_C,
        "names": {id: subject.abbreviation for id, subject in library.chemistries.items()},
        "rates": values(library, "test-methods", "test-discharge-rate", "test-temperature", "rest-before-test"),
        "capacity_remarks": remarks(library, "test-methods", "capacity-steps", "capacity-rule-in-use", "meter-and-patience"),
        "resistance_remarks": remarks(library, "test-methods", "dc-steps", "dc-principle", "ac-steps", "rising-resistance"),
    }
    return topic_page("testing.md.j2", sys.modules[__name__], library, results, **context)


def _is_lithium(chemistry: str, library: Library) -> bool:
    subject = library.chemistries.get(chemistry)
    return bool(subject) and subject.family == "lithium-ion"
