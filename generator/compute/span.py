"""A stated figure as the span it covers, whether the record gives one number or a range."""

from __future__ import annotations

from dataclasses import dataclass

from generator.model.subject import Stated


@dataclass(frozen=True, slots=True)
class Span:
    """``low`` <= ``high``, both in one unit; equal where the figure is one number."""

    low: float
    high: float

    def times(self, factor: float, places: int = 3) -> Span:
        """Return the span multiplied by a factor above zero, rounded."""
        return Span(round(self.low * factor, places), round(self.high * factor, places))

    @property
    def one(self) -> bool:
        """Whether the span is a single number."""
        return self.low == self.high


def hull(numbers) -> Span | None:
    """Return the smallest span that holds all given numbers, None when there are none."""
    given = [number for number in numbers if number is not None]
    return Span(min(given), max(given)) if given else None


def span_of(stated: Stated | None) -> Span | None:
    """Return what a stated figure covers; None for no figure."""
    return hull((stated.min, stated.typical, stated.max)) if stated else None
