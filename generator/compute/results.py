"""Everything that is computed from the library, once, for pages and exports alike."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from generator.cache import NO_CACHE, Cache
from generator.compute.curves import CellCurves, curves_of
from generator.compute.evidence import Evidence, evidence
from generator.compute.pack import PackRow, pack_table
from generator.editions import Step, history
from generator.model.library import Library


@dataclass(frozen=True, slots=True)
class Results:
    """``packs``: pack tables by chemistry. ``curves``: discharge curves by published cell. ``evidence``: work lists.

    ``history``: what changed between editions and since the newest, newest first.
    """

    packs: Mapping[str, tuple[PackRow, ...]]
    curves: Mapping[str, CellCurves]
    evidence: Evidence
    history: tuple[Step, ...]

    def curves_of(self, chemistry: str) -> tuple[CellCurves, ...]:
        """Return the curves of every published cell of one chemistry."""
        return tuple(curves for curves in self.curves.values() if curves.chemistry == chemistry)


def compute(library: Library, cache: Cache = NO_CACHE) -> Results:
    """Return the results for the whole library; ``cache`` keeps what is slow to compute."""
    return Results(
        packs={id: pack_table(subject) for id, subject in library.chemistries.items()},
        curves={cell.id: curves_of(cell, cache) for cell in library.cells.values() if cell.porous},
        evidence=evidence(library),
        history=history(library),
    )
