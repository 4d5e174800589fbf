"""Tables of the building section: what strings lose, and how a capacity measured otherwise relates to the standard test."""

from __future__ import annotations

from collections.abc import Iterator

from generator.compute.building import DAYS
from generator.compute.curves import REFERENCE_C
from generator.compute.results import Results
from generator.export.table import Column, Table
from generator.model.library import Library

_TEXT = "string"


def string_histories(library: Library, results: Results) -> Iterator[Table]:
    """Usable capacity of invented five-cell strings without balancing."""
    strings = results.building.strings
    columns = (
        Column("case", _TEXT, "Id of the case.", required=True),
        Column("title", _TEXT, "How its cells differ.", required=True),
        Column("day", "integer", "Days since the cells were balanced.", unit="d", required=True),
        Column("usable_ah", "number", "What one charge and discharge give, by the closed form.", unit="A.h", required=True),
        Column("cell", _TEXT, "Published cell whose open-circuit curve is used.", required=True),
    )
    cases = strings.cases if strings else ()
    rows = [(c.id, c.title, day, ah, strings.cell) for c in cases for day, ah in zip(DAYS, c.usable_ah, strict=True)]
    text = "Computed usable capacity of five invented cells in series at 2.5 A, by what makes them differ."
    yield Table("building/strings.csv", "Strings without balancing", text, columns, rows, ("case", "day"))


def capacity_factors(library: Library, results: Results) -> Iterator[Table]:
    """Standard capacity divided by capacity at another rate or cut-off."""
    columns = (
        Column("chemistry", _TEXT, "Chemistry id.", required=True),
        Column("c_rate", "number", "Rate of the test in multiples of the rated capacity per hour.", required=True),
        Column("cutoff_v", "number", "Voltage at which the test ended.", unit="V", required=True),
        Column("least", "number", "Smallest factor among the published cells.", required=True),
        Column("middle", "number", "Middle factor.", required=True),
        Column("most", "number", "Largest factor.", required=True),
        Column("cells", "integer", "Published cells behind it.", required=True),
    )
    rows = [(f.chemistry, f.c_rate, f.cutoff_v, *(round(x, 6) for x in (f.least, f.middle, f.most)), f.cells) for f in results.building.factors]
    text = f"Capacity of the standard test (0.2 C to the set's own cut-off, {REFERENCE_C:g} degC) over that of another test, from computed curves of new cells."
    yield Table("building/capacity-factors.csv", "Capacity by test", text, columns, rows, ("chemistry", "c_rate", "cutoff_v"))


def tables(library: Library, results: Results) -> Iterator[Table]:
    """Every table of the building section."""
    yield from string_histories(library, results)
    yield from capacity_factors(library, results)
