"""The start page: from what is in the hand to the figure."""

from __future__ import annotations

from collections.abc import Mapping

from generator.compute.results import Results
from generator.model.library import Library
from generator.pages.comparison import FAMILIES, ordered
from generator.pages.environment import render, to_root
from generator.pages.voltages import never_charged, without_figure

TITLE = "Cell Almanac: battery voltages, limits and labels with their sources"
DESCRIPTION = (
    "Look up a battery cell by its voltage, marking or chemistry: full, empty, storage and nominal voltage, "
    "safe charging limits and pack tables, each figure with its source."
)


def pages(library: Library, results: Results) -> Mapping[str, str]:
    """Return the start page by path."""
    path = "index.md"
    subjects = ordered(library.chemistries.values())
    families = [(name, [s for s in subjects if s.family == id]) for id, name in FAMILIES.items()]
    counts = {"values": sum(1 for _ in library.values()), "sources": len(library.sources), "chemistries": len(subjects)}
    context = {
        "title": TITLE,
        "description": DESCRIPTION,
        "families": [(name, members) for name, members in families if members],
        "counts": counts,
        "never_charged": never_charged,
        "without_figure": without_figure,
        "edition": library.editions[-1].name if library.editions else None,
    }
    return {path: render("start.md.j2", library=library, root=to_root(path), **context)}
