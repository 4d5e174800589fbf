"""Hours and capacity that primary cells give, by size and load: what sources print, and the other of the two where it follows."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from generator.model.subject import Condition, Subject, Value

# The order in which the trade lists its sizes; others follow by name.
SIZES = ("AAAA", "AAA", "AA", "C", "D", "9 V block", "CR2", "CR123A", "2016", "2025", "2032")
_QUANTITIES = ("service-time", "service-capacity")


@dataclass(frozen=True, slots=True)
class ServiceLine:
    """One test: the value a source prints, hours [h] and capacity [mAh]; ``computed`` names which of the two was worked out.

    Only a constant current lets one follow from the other: a resistor draws less as the cell empties.
    """

    value: Value
    hours: tuple[float, float] | None
    capacity_mah: tuple[float, float] | None
    computed: str | None

    @property
    def load(self) -> Condition:
        """The condition without the size, which the table's heading says."""
        return replace(self.value.condition, size=None)


@dataclass(frozen=True, slots=True)
class ServiceSize:
    """The tests of one size, heaviest load last."""

    size: str
    lines: tuple[ServiceLine, ...]


def service_table(subject: Subject) -> tuple[ServiceSize, ...]:
    """Return the tests by size, empty when the record holds none."""
    groups: dict[str, list[ServiceLine]] = {}
    for value in _values(subject):
        groups.setdefault(value.condition.size or "", []).append(_line(value))
    sizes = sorted(groups, key=_size_place)
    return tuple(ServiceSize(size, tuple(sorted(groups[size], key=_load_place))) for size in sizes)


def _values(subject: Subject) -> Iterator[Value]:
    for quantity in _QUANTITIES:
        yield from subject.values_of(quantity)


def _line(value: Value) -> ServiceLine:
    given = [number for number in (value.min, value.typical, value.max) if number is not None]
    span, current = (min(given), max(given)), value.condition.current_a
    if value.quantity.id == "service-time":
        return ServiceLine(value, span, None, None)
    if not current:
        return ServiceLine(value, None, span, None)
    hours = tuple(round(mah / 1000.0 / current, 1) for mah in span)
    return ServiceLine(value, hours, span, "hours")


def _size_place(size: str) -> tuple[int, str]:
    return (SIZES.index(size) if size in SIZES else len(SIZES), size)


def _load_place(line: ServiceLine) -> tuple[float, float, str]:
    condition = line.value.condition
    ohms = condition.load_ohm
    return (condition.current_a or 0.0, -ohms if ohms else 0.0, line.value.id)
