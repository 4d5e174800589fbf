"""Sentences about figures: how one was chosen from several, and how far its sources differ."""

from __future__ import annotations

from collections.abc import Sequence

from generator.model.subject import Stated, Subject, Value
from generator.pages.format import number, prose, unit
from generator.stating import RULE_OF_ROLE

_RULE = {
    "lowest": "the lowest credible value",
    "highest": "the highest credible value",
    "overlap": "what all credible values have in common",
    "span": "from the lowest to the highest value",
    "named": "one value, named in the record",
}
# Before the reason that a record gives for its choice.
_CHOSEN = {
    "lowest": "The lowest is stated.",
    "highest": "The highest is stated.",
    "overlap": "What they have in common is stated.",
    "span": "The range is stated.",
    "named": "One of them is stated.",
}
_ROLE_REASON = {
    "upper-limit": "because it is an upper limit",
    "lower-limit": "because it is a lower limit",
    "window": "because outside it at least one source forbids use",
}


def siblings(subject: Subject, stated: Stated) -> tuple[Value, ...]:
    """Return every value the stated figure was chosen from: same quantity, same variant."""
    return tuple(subject.values_of(stated.quantity.id, stated.variant))


def how_stated(stated: Stated, values: Sequence[Value]) -> str:
    """Return how the figure came from its values, for example

    "9 values, 2.00 to 3.00 V. Stated: the highest credible value, because it is a lower limit."
    """
    reason = prose(stated.because) if stated.because else None
    if len(values) == 1:
        return " ".join(filter(None, ("The only value found.", reason)))
    return f"{spread_words(values)}. {_left_out(values)}{_choice(stated, reason)}"


def _choice(stated: Stated, reason: str | None) -> str:
    if reason:
        return f"{_CHOSEN[stated.rule]} {reason}"
    if stated.rule == "span":
        return "They agree." if stated.typical is not None else "The range is stated."
    usual = _ROLE_REASON.get(stated.quantity.role) if stated.rule == RULE_OF_ROLE[stated.quantity.role] else None
    return f"Stated: {', '.join(filter(None, (_RULE[stated.rule], usual)))}."


def _left_out(values: Sequence[Value]) -> str:
    recalled = sum(value.grade == "recalled" for value in values)
    if recalled in (0, len(values)):
        return ""
    return f"{recalled} from memory {'is' if recalled == 1 else 'are'} left out. "


def spread_words(values: Sequence[Value]) -> str:
    """Return how many values there are and how far they reach: "9 values, 2.00 to 3.00 V"; "3 values, all 3.60 V"."""
    numbers = [n for value in values for n in (value.min, value.typical, value.max) if n is not None]
    low, high = min(numbers), max(numbers)
    decimals, symbol = values[0].quantity.decimals, unit(values[0].unit.symbol)
    reach = number(low, decimals) if low == high else f"{number(low, decimals)} to {number(high, decimals)}"
    every = "all " if low == high and len(values) > 1 else ""
    return f"{len(values)} value{'s' * (len(values) != 1)}, {every}{reach} {symbol}".rstrip()
