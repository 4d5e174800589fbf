"""Cell sizes: drawn to one scale, and in a table with what sources say."""

from __future__ import annotations

from collections.abc import Mapping

from markupsafe import Markup

from generator.compute.results import Results
from generator.draw.sizes import sizes_svg
from generator.model.library import Library
from generator.model.size import Size, figure_words, span
from generator.pages.environment import render, to_root

USES = {"lithium-ion": "Lithium-ion sizes", "nickel": "Nickel sizes", "primary": "Household sizes, coins and buttons"}


def pages(library: Library, results: Results) -> Mapping[str, str]:
    """Return the page of sizes by path."""
    path = "sizes/index.md"
    groups = [(use, name, [s for s in library.sizes.values() if s.use == use]) for use, name in USES.items()]
    drawn = [(use, name, sizes, _drawing(use, name, sizes)) for use, name, sizes in groups if sizes]
    return {path: render("sizes.md.j2", root=to_root(path), library=library, groups=drawn, span=span, figure_words=figure_words)}


def _drawing(use: str, name: str, sizes: list[Size]) -> Markup:
    return Markup(sizes_svg(sizes, id=f"sizes-{use}", title=f"{name}, to one scale"))
