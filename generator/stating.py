"""From several values to the one figure the almanac states.

The rule is data: the quantity's role, or the choice a record makes with its reason. Nothing is averaged.
Works on the plain mappings that ``read`` returns, so that checks and model share it.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

RULE_OF_ROLE = {"upper-limit": "lowest", "lower-limit": "highest", "window": "overlap", "typical": "span"}

# Strongest first. A figure that several values share is as well known as the best of them.
GRADES = ("read", "derived", "reported", "practice", "recalled")

Value = Mapping[str, Any]


@dataclass(frozen=True, slots=True)
class Outcome:
    """One stated figure: the numbers, the rule that chose them, and the keys of the values they rest on.

    ``unchecked`` is true when a limit rests on recalled values alone.
    """

    min: float | None
    typical: float | None
    max: float | None
    rule: str
    because: str | None
    keys: tuple[str, ...]
    grade: str
    unchecked: bool

    @property
    def single(self) -> float | None:
        """The one number, or None where the figure is a range."""
        return self.typical


def state(role: str, values: Sequence[Value], choice: Mapping[str, Any] | None = None) -> Outcome:
    """Return the stated figure of the non-empty ``values`` of one quantity and variant.

    Raises KeyError when ``choice`` names a key that no value has.
    """
    choice = choice or {}
    credible = [value for value in values if value["grade"] != "recalled"] or list(values)
    if "key" in choice:
        chosen = {value["key"]: value for value in values}[choice["key"]]
        figures, basis, rule = _figures(chosen), [chosen], "named"
    else:
        rule = choice.get("rule") or RULE_OF_ROLE[role]
        figures, basis = _RULES[rule](credible)
    grade = _grade(basis, weakest=rule in ("span", "overlap"))
    is_limit = role != "typical"
    return Outcome(*figures, rule, choice.get("because"), tuple(v["key"] for v in basis), grade, is_limit and grade == "recalled")


Figures = tuple[float | None, float | None, float | None]


def _figures(value: Value) -> Figures:
    return value.get("min"), value.get("typical"), value.get("max")


def upper_figure(value: Value) -> float:
    """The number a value sets as an upper limit: its typical, else the safe (lower) end of its range."""
    return _first(value.get("typical"), value.get("min"), value.get("max"))


def lower_figure(value: Value) -> float:
    """The number a value sets as a lower limit: its typical, else the safe (upper) end of its range."""
    return _first(value.get("typical"), value.get("max"), value.get("min"))


def _first(*numbers: float | None) -> float:
    return next(number for number in numbers if number is not None)


def _lowest(values: Sequence[Value]) -> tuple[Figures, list[Value]]:
    figure = min(map(upper_figure, values))
    return (None, figure, None), [value for value in values if upper_figure(value) == figure]


def _highest(values: Sequence[Value]) -> tuple[Figures, list[Value]]:
    figure = max(map(lower_figure, values))
    return (None, figure, None), [value for value in values if lower_figure(value) == figure]


def _overlap(values: Sequence[Value]) -> tuple[Figures, list[Value]]:
    lows = [value["min"] for value in values if value.get("min") is not None]
    highs = [value["max"] for value in values if value.get("max") is not None]
    low, high = max(lows, default=None), min(highs, default=None)
    at_low = [value for value in values if low is not None and value.get("min") == low]
    at_high = [value for value in values if high is not None and value.get("max") == high and value not in at_low]
    basis = at_low + at_high
    if not basis:  # only single figures: the window cannot be closed, so the span is honest
        return _span(values)
    return (low, None, high), basis


def _span(values: Sequence[Value]) -> tuple[Figures, list[Value]]:
    if len(values) == 1:
        return _figures(values[0]), list(values)
    numbers = [number for value in values for number in _figures(value) if number is not None]
    low, high = min(numbers), max(numbers)
    if low == high:
        return (None, low, None), list(values)
    return (low, None, high), list(values)


_RULES = {"lowest": _lowest, "highest": _highest, "overlap": _overlap, "span": _span}


def _grade(basis: Sequence[Value], *, weakest: bool) -> str:
    ranks = [GRADES.index(value["grade"]) for value in basis]
    return GRADES[max(ranks) if weakest else min(ranks)]
