"""Bench cards: one printed page a chemistry for the wall, and the list of them."""

from __future__ import annotations

import sys
from collections.abc import Mapping

from generator.compute.results import Results
from generator.draw.card_data import FIRST, card_of
from generator.model.library import Library
from generator.pages.building.common import topic_page
from generator.pages.environment import render, to_root

SLUG = "bench-card"
TITLE = "Bench cards for the wall"
SUMMARY = "One printed page a chemistry, limits large: as a page and as a PDF for A4 and Letter."


def page(library: Library, results: Results) -> str:
    """Return the list of cards."""
    return topic_page("bench_cards.md.j2", sys.modules[__name__], library, results, subjects=tuple(library.chemistries.values()))


def cards(library: Library) -> Mapping[str, str]:
    """Return the card of every chemistry by path."""
    made = {}
    for id, subject in library.chemistries.items():
        path = f"building/{SLUG}/{id}/index.md"
        made[path] = render("building/bench_card.md.j2", root=to_root(path), library=library, subject=subject, card=card_of(subject), first=FIRST)
    return made
