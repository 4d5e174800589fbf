"""What the picture of a link shows: the voltages of a cell, or those of the pack that a printed label most likely means."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from generator.compute.label import Explanation
from generator.compute.label_voltages import EMPTY, FIVE, FULL, safe_voltages
from generator.compute.label_words import cells
from generator.draw.axis import CELL_AXIS, Axis, axis_for, volts_text
from generator.model.subject import Subject

LABEL_CAUTION = "A label proves nothing: count the cells first"


@dataclass(frozen=True, slots=True)
class Preview:
    """Everything the picture shows; ``marks`` are (name, volts), the same volts named together, lowest first."""

    short: str
    name: str
    marks: tuple[tuple[str, float], ...]
    empty_v: float | None
    full_v: float | None
    window: str
    axis: Axis = CELL_AXIS

    @property
    def in_words(self) -> str:
        """The picture in words, for those who do not see it."""
        name = "" if self.name == self.short else f", {self.name}"
        volts = ", ".join(f"{name} {volts_text(volts)} V" for name, volts in self.marks)
        return ". ".join(part for part in (f"{self.short}{name}{': ' if volts else ''}{volts}", self.window) if part) + "."


def preview_of(subject: Subject) -> Preview:
    """Return what the picture of a chemistry shows."""
    volts = {name: subject.volts(quantity) for name, quantity in FIVE}
    return Preview(subject.abbreviation, subject.name, _marks(volts.items()), volts[EMPTY], volts[FULL], _window(subject))


def _window(subject: Subject) -> str:
    figure = subject.figure("charge-temperature")
    if subject.rechargeable is False:
        return "Never charge: a primary cell"
    if figure is None or figure.min is None or figure.max is None:
        return ""
    return f"Charge only at {figure.min:g} to {figure.max:g} \u00b0C".replace("-", "\u2212")


def label_preview(volts: float, likely: Sequence[Explanation], chemistries: Mapping[str, Subject]) -> Preview:
    """Return what the picture of a printed voltage shows: the pack it most likely means, with the safe ends of all it may be.

    ``likely`` is not empty; its first explanation is shown and the others are counted.
    """
    first = likely[0]
    given = safe_voltages(first, chemistries)
    known = [v for v in given.values() if v is not None]
    others = len(likely) - 1
    name = f"{cells(first.series)} of {first.group.name}{f', or {others} other pack' + 's' * (others > 1) if others else ''}"
    primary = not chemistries[first.best.chemistry].rechargeable
    caution = "Never charge: primary cells" if primary else LABEL_CAUTION
    return Preview(f"{volts:g} V", f"{name[:1].upper()}{name[1:]}", _marks(given.items()), given[EMPTY], given[FULL], caution, axis_for(known))


def _marks(named: Iterable[tuple[str, float | None]]) -> tuple[tuple[str, float], ...]:
    together: dict[float, list[str]] = {}
    for name, volts in named:
        if volts is not None:
            together.setdefault(volts, []).append(name)
    return tuple((", ".join(names), volts) for volts, names in sorted(together.items()))
