"""Everything that is computed from the library, once, for pages and exports alike."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from generator.cache import NO_CACHE, Cache
from generator.compute.building import Building, building
from generator.compute.curves import CellCurves, all_curves
from generator.compute.evidence import Evidence, evidence
from generator.compute.nominal import NominalStudy, nominal_study
from generator.compute.open_circuit import FunctionCurve, function_curves
from generator.compute.label_results import LabelResults, label_results
from generator.compute.pack import PackRow, pack_table, packed_variants
from generator.compute.table_cell import TableCurve, table_curves
from generator.editions import Step, history
from generator.model.library import Library


@dataclass(frozen=True, slots=True)
class Results:
    """``packs``: pack tables by chemistry, ``variant_packs`` those of its kinds. ``curves``: discharge curves by published cell. ``evidence``: work lists.

    ``tables`` and ``functions``: measured tables and open-circuit functions by published cell. ``nominal``: 3.6 or 3.7 V.
    ``history``: what changed between editions and since the newest, newest first. ``labels``: printed and measured
    pack voltages. ``building``: what the building pages show.
    """

    packs: Mapping[str, tuple[PackRow, ...]]
    variant_packs: Mapping[str, Mapping[str, tuple[PackRow, ...]]]
    curves: Mapping[str, CellCurves]
    tables: Mapping[str, tuple[TableCurve, ...]]
    functions: Mapping[str, tuple[FunctionCurve, ...]]
    nominal: NominalStudy
    evidence: Evidence
    history: tuple[Step, ...]
    labels: LabelResults
    building: Building

    def curves_of(self, chemistry: str) -> tuple[CellCurves, ...]:
        """Return the curves of every published cell of one chemistry."""
        return tuple(curves for curves in self.curves.values() if curves.chemistry == chemistry)


def compute(library: Library, cache: Cache = NO_CACHE) -> Results:
    """Return the results for the whole library; ``cache`` keeps what is slow to compute."""
    curves = all_curves(library.cells.values(), cache)
    return Results(
        **_packs(library),
        curves=curves,
        tables={cell.id: table_curves(cell) for cell in library.cells.values() if cell.tables},
        functions={cell.id: function_curves(cell) for cell in library.cells.values() if cell.functions},
        nominal=nominal_study(library, curves),
        evidence=evidence(library),
        history=history(library),
        labels=label_results(library),
        building=building(library, curves),
    )


def with_packs(results: Results, library: Library) -> Results:
    """Return the results with the pack tables of ``library``: all that an edit to one record changes on its own page."""
    return replace(results, **_packs(library))


def _packs(library: Library) -> dict[str, Mapping]:
    chemistries = library.chemistries.items()
    return {
        "packs": {id: pack_table(subject) for id, subject in chemistries},
        "variant_packs": {id: {v: pack_table(subject, v) for v in packed_variants(subject)} for id, subject in chemistries},
    }
