"""The building section: from an opened pack to sorted cells, and from sorted cells to a safe pack.

A topic is a module with SLUG, TITLE, SUMMARY and page(library, results) -> Markdown text; TOPICS is the order of work.
"""

from __future__ import annotations

from collections.abc import Mapping

from generator.compute.results import Results
from generator.model.library import Library
from generator.pages.building import board, sorting, strings, taking_apart, testing, triage, worth
from generator.pages.environment import render, to_root

TITLE = "Building: from an opened pack to a safe one"
DESCRIPTION = (
    "Take a pack apart without a short, read its board, refuse bad cells, test and sort the good ones, "
    "and learn what an unbalanced string costs."
)

# In the order of work.
TOPICS: tuple = (taking_apart, board, triage, testing, sorting, strings, worth)


def pages(library: Library, results: Results, figures: Mapping[str, str | bytes]) -> Mapping[str, str]:
    """Return the section's index and its topics by path."""
    path = "building/index.md"
    made = {path: render("building/index.md.j2", root=to_root(path), title=TITLE, description=DESCRIPTION, topics=TOPICS)}
    for topic in TOPICS:
        made[f"building/{topic.SLUG}/index.md"] = topic.page(library, results)
    return made
