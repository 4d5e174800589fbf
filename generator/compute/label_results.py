"""What labels and measured voltages mean, computed once for pages and exports."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from generator.compute.label import Explanation, label_table
from generator.compute.label_lookup import lookup_data
from generator.compute.measured import OpenCircuit, RestTable, open_circuit_curves, rest_table
from generator.model.library import Library


@dataclass(frozen=True, slots=True)
class LabelResults:
    """``table``: explanations by recorded label voltage [V]. ``curves``: open-circuit curves by chemistry.

    ``rest``: resting voltages by (chemistry, cells in series) of the table's readings. ``lookup``: the data behind the page's voltage field.
    """

    table: Mapping[float, tuple[Explanation, ...]]
    curves: Mapping[str, tuple[OpenCircuit, ...]]
    rest: Mapping[tuple[str, int], RestTable]
    lookup: Mapping[str, Any]


def label_results(library: Library) -> LabelResults:
    """Return the label results of the whole library."""
    curves = open_circuit_curves(library)
    table = label_table(library)
    readings = (r for found in table.values() for e in found if e.evidence for r in e.readings if r.variant == "standard")
    packs = dict.fromkeys((r.chemistry, r.series) for r in readings if r.chemistry in curves)
    rest = {(chemistry, series): rest_table(curves[chemistry], series) for chemistry, series in packs}
    return LabelResults(table, curves, rest, lookup_data(library, curves))
