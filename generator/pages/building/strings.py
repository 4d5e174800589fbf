"""Strings without balancing: what each kind of difference costs, and which one grows."""

from __future__ import annotations

import sys

from generator.compute.building import DAYS, PLOT_DAYS
from generator.compute.results import Results
from generator.compute.string import ah_lost_a_year, balancing_current_ma
from generator.draw.string import TOP_AH, string_svg, x_of, y_of
from generator.model.library import Library
from generator.pages.building.common import remarks, topic_page, values

SLUG = "strings"
TITLE = "Strings without balancing"
SUMMARY = "Why a pack is full with its highest cell and empty with its lowest, which difference grows, and what a balancer needs."

# Lines of the plot and their short names; cases that lie on top of one another are left to the table.
PLOTTED = {"matched": "all equal", "charge": "charge \u00b15 %", "resistance": "one 150 m\u03a9", "leak-half": "one leaks 0.5 mA", "leak-two": "one leaks 2 mA"}
LEAKS_MA = (0.01, 0.05, 0.1, 0.5, 1.0, 2.0)
DUTIES = (1.0, 0.1, 0.02)


def page(library: Library, results: Results) -> str:
    """Return the page."""
    strings = results.building.strings
    context = {
        "strings": strings,
        "days": DAYS,
        "plot": string_svg([(case, PLOTTED[case.id]) for case in strings.cases if case.id in PLOTTED], "string-plot") if strings else None,
        "leaks": [(ma, ah_lost_a_year(ma), [balancing_current_ma(ma, duty) for duty in DUTIES]) for ma in LEAKS_MA],
        "duties": DUTIES,
        "balancers": values(library, "board-parts", "balance-current"),
        "cause_remarks": remarks(library, "cell-variation", "charge-inconsistency", "leakage-spread-unknown", "packs-lose-run-time", "balancing-rate", "spread-after-rest"),
        "rule_remarks": remarks(library, "board-parts", "any-one-cell"),
        "data": _data(strings) if strings else None,
    }
    return topic_page("strings.md.j2", sys.modules[__name__], library, results, **context)


def _data(strings) -> dict[str, object]:
    window = strings.window
    return {
        "curve": {"charge": strings.curve.charge, "voltage_v": strings.curve.voltage_v},
        "window": {"voltage_min_v": window.voltage_min_v, "voltage_max_v": window.voltage_max_v},
        "plot": {"left": x_of(0), "right": x_of(PLOT_DAYS[-1]), "top": y_of(TOP_AH), "bottom": y_of(0), "days": PLOT_DAYS[-1], "top_ah": TOP_AH},
    }
