"""The board: its parts, what its resistors say, at which current and temperature it would act."""

from __future__ import annotations

import sys

from generator.compute.results import Results
from generator.model.library import Library
from generator.pages.building.common import remarks, topic_page, values

SLUG = "board"
TITLE = "The board and what it would do"
SUMMARY = "The parts of a protection board, resistor markings, trip current from a shunt or switches, temperature from a thermistor."

CODES = {
    "letter-code": "letter for the point (IEC 60062)",
    "zero-ohm": "a link of zero ohm",
    "three-digit": "two figures, count of zeros",
    "four-digit": "three figures, count of zeros",
    "eia-96": "EIA-96, 1 %",
    "milliohm-m": "M for milliohm, against the standard, on some shunts",
}


def page(library: Library, results: Results) -> str:
    """Return the page."""
    context = {
        "codes": CODES,
        "markings": [(marking, [(_ohms(r.ohm), CODES[r.code]) for r in found]) for marking, found in results.building.board.markings],
        "marking_remarks": remarks(library, "board-parts", "resistor-codes", "shunt-codes"),
        "thresholds": values(library, "board-parts", "overcurrent-detection-voltage"),
        "cutouts": values(library, "board-parts", "thermal-cutout-temperature"),
        "balancers": values(library, "board-parts", "balance-current"),
        "part_remarks": remarks(library, "board-parts", "any-one-cell", "charge-switch-alone", "trip-over-rating"),
        "balance_remarks": remarks(library, "board-parts", "balance-difference", "no-balancing"),
        "thermistor_remarks": remarks(library, "board-parts", "thermistor-10k", "thermistor-pull-up", "ntc-example"),
    }
    return topic_page("board.md.j2", sys.modules[__name__], library, results, **context)


def _ohms(ohm: float) -> str:
    """A resistance in the unit a reader would choose."""
    if ohm == 0:
        return "0 \u03a9"
    scale, unit = next((s, u) for s, u in ((1e6, "M\u03a9"), (1e3, "k\u03a9"), (1.0, "\u03a9"), (1e-3, "m\u03a9")) if ohm >= s or s == 1e-3)
    return f"{ohm / scale:.6g} {unit}"
