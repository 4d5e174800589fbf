"""What the worksheet takes and gives."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from generator.compute.conductor import Metal
from generator.compute.pack_figures import Figure

Figures = Mapping[str, Figure | None]


@dataclass(frozen=True, slots=True)
class Inputs:
    """What is typed. ``load_kind`` is a, w, ohm or none; optional numbers are None when not given."""

    chemistry: str
    cell: str
    series: int
    parallel: int
    capacity_ah: float
    resistance_mohm: float | None
    current_max_a: float | None
    load_kind: str
    load: float | None
    duty_percent: float
    ambient_c: float


@dataclass(frozen=True, slots=True)
class Limit:
    """A limit that is exceeded: what it is about, what the pack has, the limit, and the id of the stated figure."""

    code: str
    value: float | None
    limit: float | None
    id: str | None


@dataclass(frozen=True, slots=True)
class Rules:
    """Figures that belong to no chemistry: strip metal, transport limits [Wh] with their ids, empty where they do not hold."""

    strip: Metal
    transport: Mapping[str, Figure]


@dataclass(frozen=True, slots=True)
class Sheet:
    """The answer. Numbers by name, None where there is none; ``exceeded`` in order of weight."""

    numbers: Mapping[str, float | None]
    model: str
    stop: str | None
    exceeded: tuple[Limit, ...]


def figure_of(figures: Figures, name: str, end: str = "high") -> float | None:
    figure = figures[name]
    return None if figure is None else getattr(figure, end)


def times(a: float | None, b: float | None) -> float | None:
    return None if a is None or b is None else a * b
