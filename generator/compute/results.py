"""Everything that is computed from the library, once, for pages and exports alike."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from generator.compute.pack import PackRow, pack_table
from generator.model.library import Library


@dataclass(frozen=True, slots=True)
class Results:
    """``packs``: pack tables by chemistry."""

    packs: Mapping[str, tuple[PackRow, ...]]


def compute(library: Library) -> Results:
    """Return the results for the whole library."""
    packs = {id: pack_table(subject) for id, subject in library.chemistries.items()}
    return Results(packs=packs)
