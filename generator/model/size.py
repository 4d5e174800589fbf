"""Cell sizes: names, outlines, masses and capacities that sources give."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from math import pi
from typing import Any

from generator.model.label import Evidence, evidence_from

Span = tuple[float | None, float | None]


@dataclass(frozen=True, slots=True)
class SizeFigure:
    """What one source says of one size. Each span is (smallest, largest), None where not given."""

    key: str
    chemistries: tuple[str, ...]
    product: str | None
    diameter_mm: Span
    length_mm: Span
    width_mm: Span
    thickness_mm: Span
    mass_g: Span
    capacity_ah: Span
    evidence: Evidence


@dataclass(frozen=True, slots=True)
class Size:
    """One size. ``stated`` is the figure whose outline is drawn."""

    id: str
    name: str
    shape: str
    use: str
    also_called: tuple[str, ...]
    stated: SizeFigure
    because: str | None
    caution: str | None
    figures: tuple[SizeFigure, ...]

    @property
    def across_mm(self) -> float:
        """Largest extent across the drawing: the diameter, or the width of a block [mm]."""
        return self.stated.width_mm[1] if self.shape == "block" else self.stated.diameter_mm[1]

    @property
    def length_mm(self) -> float:
        """Largest length over the terminals [mm]."""
        return self.stated.length_mm[1]

    @property
    def volume_cm3(self) -> float:
        """Volume of the largest outline [cm3]: pi/4 d^2 l for a round cell, the product of the sides for a block."""
        if self.shape == "block":
            return self.stated.thickness_mm[1] * self.across_mm * self.length_mm / 1000.0
        return pi / 4.0 * self.across_mm**2 * self.length_mm / 1000.0

    def span(self, name: str, *, chemistry: str | None = None) -> Span:
        """Return (smallest, largest) of one figure such as ``mass_g`` over all sources, or of one chemistry's."""
        figures = [f for f in self.figures if chemistry is None or chemistry in f.chemistries]
        given = [v for f in figures for v in getattr(f, name) if v is not None]
        return (min(given), max(given)) if given else (None, None)


def sizes_from(data: Mapping[str, Any]) -> dict[str, Size]:
    """Return the sizes by id in the file's order, from the checked content of sizes.yml."""
    return {item["id"]: _size(item) for item in data["sizes"]}


def _size(item: Mapping[str, Any]) -> Size:
    figures = tuple(_figure(f) for f in item["figures"])
    return Size(
        id=item["id"],
        name=item["name"],
        shape=item["shape"],
        use=item["use"],
        also_called=tuple(item["also_called"]),
        stated=next(f for f in figures if f.key == item["stated"]),
        because=item.get("because"),
        caution=item.get("caution"),
        figures=figures,
    )


def _figure(item: Mapping[str, Any]) -> SizeFigure:
    def span(name: str, unit: str) -> Span:
        return item.get(f"{name}_min_{unit}"), item.get(f"{name}_max_{unit}")

    return SizeFigure(
        key=item["key"],
        chemistries=tuple(item.get("chemistries", ())),
        product=item.get("product"),
        diameter_mm=span("diameter", "mm"),
        length_mm=span("length", "mm"),
        width_mm=span("width", "mm"),
        thickness_mm=span("thickness", "mm"),
        mass_g=span("mass", "g"),
        capacity_ah=span("capacity", "ah"),
        evidence=evidence_from(item),
    )


def span(values: Span) -> str:
    """Return a span as "44 to 50", "44", "at most 44" or an empty text."""
    low, high = values
    if low is None and high is None:
        return ""
    if low is None or high is None:
        return f"at most {high:g}" if low is None else f"at least {low:g}"
    return f"{low:g}" if low == high else f"{low:g} to {high:g}"


def outline(figure: SizeFigure, shape: str) -> str:
    """Return the sides of one figure with their names."""
    sides = [("diameter", figure.diameter_mm), ("thickness", figure.thickness_mm), ("width", figure.width_mm), ("length", figure.length_mm)]
    if shape == "coin":
        sides[-1] = ("height", figure.length_mm)
    return ", ".join(f"{name} {span(values)} mm" for name, values in sides if span(values))


def figure_words(figure: SizeFigure, shape: str) -> str:
    """Return everything one source says of a size as one line."""
    parts = [figure.product or "", outline(figure, shape)]
    parts += [f"{span(v)} {unit}" for v, unit in ((figure.mass_g, "g"), (figure.capacity_ah, "Ah")) if span(v)]
    return ", ".join(part for part in parts if part)
