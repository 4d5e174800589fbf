"""Cell sizes: drawn to one scale, and in a table with what sources say."""

from __future__ import annotations

from collections.abc import Mapping

from markupsafe import Markup

from generator.compute.results import Results
from generator.draw.sizes import sizes_svg
from generator.model.library import Library
from generator.model.size import Size, SizeFigure, Span
from generator.pages.environment import render, to_root
from generator.pages.format import number

USES = {"lithium-ion": "Lithium-ion sizes", "nickel": "Nickel sizes", "primary": "Household sizes, coins and buttons"}


def pages(library: Library, results: Results) -> Mapping[str, str]:
    """Return the page of sizes by path."""
    path = "sizes/index.md"
    groups = [(use, name, [s for s in library.sizes.values() if s.use == use]) for use, name in USES.items()]
    drawn = [(use, name, sizes, _drawing(use, name, sizes)) for use, name, sizes in groups if sizes]
    return {path: render("sizes.md.j2", root=to_root(path), library=library, groups=drawn, span=span, outline=outline, figure_words=figure_words)}


def _drawing(use: str, name: str, sizes: list[Size]) -> Markup:
    return Markup(sizes_svg(sizes, id=f"sizes-{use}", title=f"{name}, to one scale"))


def span(values: Span) -> str:
    """Return a span as "44 to 50", "44", "at most 44" or an empty text."""
    low, high = values
    if low is None and high is None:
        return ""
    if low is None or high is None:
        return f"at most {number(high)}" if low is None else f"at least {number(low)}"
    return number(low) if low == high else f"{number(low)} to {number(high)}"


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
