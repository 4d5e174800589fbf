"""The five voltages of a pack that a printed label may mean, with the safe ends of all that it can be."""

from __future__ import annotations

from collections.abc import Mapping

from generator.compute.label import Explanation
from generator.compute.label_words import empty_text, full_text
from generator.compute.pack import pack_volts
from generator.model.subject import Subject

EMPTY, STORAGE, NOMINAL, FULL, NEVER_ABOVE = "empty", "storage", "nominal", "full", "never above"
_ABSOLUTE = "charge-voltage-absolute-max"
# Name of a mark on the ruler, and its quantity.
FIVE = (
    (EMPTY, "discharge-cutoff-voltage"),
    (STORAGE, "storage-voltage"),
    (NOMINAL, "nominal-voltage"),
    (FULL, "charge-voltage-max"),
    (NEVER_ABOVE, _ABSOLUTE),
)


def safe_voltages(explanation: Explanation, chemistries: Mapping[str, Subject]) -> dict[str, float | None]:
    """Return the five voltages of a pack by name [V]: the best reading's, with the safe ends of all that the pack may be."""
    row = explanation.best.row
    empty, full = explanation.safe_empty_v, explanation.safe_full_v
    limits = [pack_volts(chemistries[r.chemistry], _ABSOLUTE, r.series, r.variant) for r in explanation.readings]
    never = min((v for v in limits if v is not None), default=None)
    return {
        EMPTY: None if empty is None else float(empty_text(empty)),
        STORAGE: None if row.storage_v is None else round(row.storage_v, 2),
        NOMINAL: round(row.nominal_v, 2),
        FULL: None if full is None else float(full_text(full)),
        # A limit below the voltage to charge to belongs to another reading: showing it would contradict the picture.
        NEVER_ABOVE: None if never is None or full is None or never < full else float(full_text(never)),
    }
