"""Protection boards: what each threshold is for, windows by chemistry, own consumption, balancing, and what none can do."""

from __future__ import annotations

import sys

from generator.compute.protection import balance_hours, days_to_fall
from generator.compute.results import Results
from generator.model.library import Library
from generator.pages.building.common import remarks, subject, topic_page, values

SLUG = "protection"
NEEDS = ("lithium-ion",)
TITLE = "Protection boards"
SUMMARY = "What each threshold is for, at which voltage parts act, what they draw from a stored pack, and what no board can do."

CHEMISTRY_QUANTITIES = ("overcharge-detection-voltage", "overcharge-release-voltage", "overdischarge-detection-voltage", "overdischarge-release-voltage", "balance-start-voltage")
BOARDS_UA = (3.0, 8.0, 30.0, 100.0, 1000.0)
GROUPS_AH = (2.5, 5.0, 20.0)
LOST_PERCENT = 30.0
SELF_DISCHARGE = 2.0
BALANCE_MA = (42.0, 60.0, 100.0)
SPREADS = (1.0, 3.0, 5.0)
THRESHOLDS = (
    ("Over-charge", "Stops the charge when any one cell is too high: plating, gas, fire. Above the charger's setting, below the cell's absolute limit."),
    ("Over-charge released", "Lets the charge begin again only after the cell has come down, so that the switch does not chatter."),
    ("Over-discharge", "Stops the discharge before copper dissolves. At or below the load's own cut-off; a board that drains on needs the load to stop first."),
    ("Over-discharge released", "Waits for a charger or for the cells to recover, so that a load does not pump the last charge out."),
    ("Over-current, first level", "Stops a stalled motor within milliseconds to seconds. It is no rating: the board's continuous current is lower."),
    ("Short circuit", "Opens within a fraction of a millisecond. The switches must survive it once; a fuse stands behind them."),
    ("Temperature", "Forbids charging below 0 and above 45 \u00b0C and discharging above 60 \u00b0C, where the cells' sheet asks for that. Many cheap boards have no sensor."),
    ("Balancing", "Draws a little from cells above a voltage near full. It keeps equal cells equal; it cannot make unlike cells alike."),
)
CANNOT = (
    "It cannot sense a swollen case, an internal short, lithium plating or age.",
    "It cannot protect cells from each other inside one parallel group: cell fuses do.",
    "It cannot balance away different capacities; the smallest group still ends every run.",
    "It cannot carry its peak current for long, and it can fail with its switches stuck on.",
    "It is no charger: its over-charge level is above every charger's setting.",
    "It does not make found or damaged cells safe.",
)


def page(library: Library, results: Results) -> str:
    """Return the page."""
    drain = [(ua, [days_to_fall(ah, LOST_PERCENT, ua, 0.0) for ah in GROUPS_AH], [days_to_fall(ah, LOST_PERCENT, ua, SELF_DISCHARGE) for ah in GROUPS_AH]) for ua in BOARDS_UA]
    balance = [(spread, ah, [balance_hours(ah, spread, ma) for ma in BALANCE_MA]) for spread in SPREADS for ah in GROUPS_AH]
    subjects = [s for s in (*library.chemistries.values(), subject(library, "protection")) if s]
    windows = [(q, [(s, f) for s in subjects for f in s.stated if f.quantity.id == q]) for q in CHEMISTRY_QUANTITIES]
    context = {
        "thresholds": THRESHOLDS,
        "windows": [(rows[0][1].quantity, rows) for _, rows in windows if rows],
        "delays": [(name, values(library, "protection", name)) for name in ("overcharge-delay", "overdischarge-delay", "overcurrent-delay", "short-circuit-delay")],
        "consumption": values(library, "protection", "protection-consumption"),
        "consumption_off": values(library, "protection", "protection-consumption-off"),
        "drain": drain,
        "groups_ah": GROUPS_AH,
        "lost": LOST_PERCENT,
        "leak": SELF_DISCHARGE,
        "balance": balance,
        "balance_ma": BALANCE_MA,
        "cannot": CANNOT,
        "notes": remarks(library, "protection", "lfp-chips", "dw01-release", "supply-tolerance", "touch-voltage"),
        "board_notes": remarks(library, "board-parts", "any-one-cell", "charge-switch-alone", "trip-over-rating", "balance-difference", "no-balancing"),
    }
    return topic_page("protection.md.j2", sys.modules[__name__], library, results, **context)
