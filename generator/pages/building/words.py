"""Words the building pages and their scripts share."""

from __future__ import annotations

ODD = {
    "drifted": "A little off the others: the pack has drifted, or was not at rest.",
    "low": "Well below the others: a weak or leaking cell, or one that powers the board. Do not build with it before it is tested.",
    "high": "Well above the others: this cell gets full first, and no charger that sees only the pack will notice.",
    "same-node": "No voltage: two wires on the same place, a shorted cell, or one that is entirely dead. Treat the cell as dangerous.",
    "negative": "Falls instead of rising: the wires are not in order, or the cell is reversed. A reversed cell is waste.",
    "skipped-tap": "About twice a cell or more: a tap was left out, or has no wire.",
    "tap-between": "One too low, its neighbour too high by as much: it is the tap between them, its wire or its joint, not the cells. Measure again on the metal.",
}
STATE = {
    "within": "within its limits",
    "empty": "nearly empty",
    "full": "nearly full",
    "over-discharged": "below its cut-off: over-discharged, do not just charge it",
    "below-floor": "below the floor: refuse it",
    "over-charged": "above its limit: over-charged, keep away from it",
}
NO_FIT = "No chemistry of the almanac fits. Check the meter, the order of the taps and whether the pack is asleep behind an open switch."
