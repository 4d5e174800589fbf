"""The building section: from an opened pack to sorted cells, and from sorted cells to a safe pack.

A topic is a module with SLUG, TITLE, SUMMARY and page(library, results) -> Markdown text; TOPICS is the order of work.
A topic may name the records its worked example NEEDS: a library without them has no such page.
"""

from __future__ import annotations

from collections.abc import Mapping

from generator.compute.results import Results
from generator.model.library import Library
from generator.pages.building import (
    bench_card,
    board,
    charging,
    equipment,
    interconnects,
    protection,
    sorting,
    storage,
    strings,
    taking_apart,
    testing,
    triage,
    worksheet,
    worth,
)
from generator.pages.environment import render, to_root

TITLE = "Building: from an opened pack to a safe one"
DESCRIPTION = (
    "Take a pack apart without a short, read its board, refuse bad cells, test and sort the good ones, "
    "then work out a pack: run time, protection, charging, strip and fuse, storage and transport."
)

# In the order of work.
TOPICS: tuple = (taking_apart, board, triage, testing, sorting, strings, worth, worksheet, equipment, protection, charging, interconnects, storage, bench_card)


def pages(library: Library, results: Results) -> Mapping[str, str]:
    """Return the section's index and its topics by path."""
    path, topics = "building/index.md", topics_of(library)
    made = {path: render("building/index.md.j2", root=to_root(path), title=TITLE, description=DESCRIPTION, topics=topics)}
    for topic in topics:
        made[f"building/{topic.SLUG}/index.md"] = topic.page(library, results)
    return {**made, **bench_card.cards(library)}


def topics_of(library: Library) -> tuple:
    """Return the topics whose records the library has."""
    known = {subject.id for subject in library.subjects()}
    return tuple(topic for topic in TOPICS if known.issuperset(getattr(topic, "NEEDS", ())))
