"""Every table of the almanac. A new table is one function here: library and results to Tables."""

from __future__ import annotations

from collections.abc import Iterator

from generator.compute.results import Results
from generator.export import building, curves, labels
from generator.export.table import Column, ForeignKey, Table, unit_columns
from generator.model.library import Library

_TEXT = "string"


def quantities(library: Library, results: Results) -> Iterator[Table]:
    """The vocabulary, one row a quantity."""
    columns = (
        Column("id", _TEXT, "Permanent id of the quantity.", required=True),
        Column("name", _TEXT, "Name shown to readers.", required=True),
        Column("symbol", _TEXT, "Symbol in equations, where the field has one."),
        Column("unit", _TEXT, "Unit as the almanac writes it.", required=True),
        Column("unit_ucum", _TEXT, "The same unit as a UCUM code.", required=True),
        Column("role", _TEXT, "How one figure is stated from several: upper-limit, lower-limit, window, typical.", required=True),
        Column("group", _TEXT, "Part of a page it belongs to.", required=True),
        Column("meaning", _TEXT, "What the quantity is.", required=True),
    )
    rows = [(q.id, q.name, q.symbol, q.unit.symbol, q.unit.ucum, q.role, q.group, q.meaning) for q in library.quantities.values()]
    yield Table("quantities.csv", "Quantities", "The vocabulary: one row a quantity.", columns, rows, ("id",))


def sources(library: Library, results: Results) -> Iterator[Table]:
    """The bibliography in short, one row a publication; sources.json has every field."""
    columns = (
        Column("id", _TEXT, "Permanent id of the publication.", required=True),
        Column("type", _TEXT, "CSL item type.", required=True),
        Column("kind", _TEXT, "What it is to a reader who weighs it.", required=True),
        Column("title", _TEXT, "Title as published.", required=True),
        Column("year", "integer", "Year of publication."),
        Column("address", _TEXT, "Address of the original publication."),
    )
    rows = [(s.id, s.type, s.kind, s.title, s.year, s.address) for _, s in sorted(library.sources.items())]
    yield Table("sources.csv", "Publications", "One row a publication that a value rests on.", columns, rows, ("id",))


def values(library: Library, results: Results) -> Iterator[Table]:
    """What sources say, one row a value."""
    columns = (
        Column("id", _TEXT, "Permanent id: subject.quantity.key.", required=True),
        Column("subject", _TEXT, "Chemistry or practice file the value is about.", required=True),
        Column("quantity", _TEXT, "Quantity, an id of quantities.csv.", required=True),
        Column("variant", _TEXT, "Variant of the subject; standard where nothing else is said.", required=True),
        Column("key", _TEXT, "Key of the value under its quantity.", required=True),
        *unit_columns(" the source gives"),
        Column("condition", "object", "Circumstances as JSON; the names end in their unit."),
        Column("source", _TEXT, "Publication, an id of sources.csv; empty for common practice and recollection."),
        Column("locator", _TEXT, "Where in the source."),
        Column("grade", _TEXT, "How it is known: read, reported, recalled, practice, derived.", required=True),
        Column("unit_ucum", _TEXT, "The unit as a UCUM code.", required=True),
        Column("applies_to", _TEXT, "What the figure is about: cell, block, pack, material, ...", required=True),
        Column("reported_by", _TEXT, "Publication that reports what the source says, an id of sources.csv."),
        Column("working", _TEXT, "How a derived figure was worked."),
        Column("note", _TEXT, "What a reader should know beside the figure."),
    )
    rows = [
        (v.id, v.subject, v.quantity.id, v.variant, v.key, v.min, v.typical, v.max, v.unit.symbol, v.condition.given(), v.source)
        + (v.locator, v.grade, v.unit.ucum, v.applies_to, v.reported_by, v.working, v.note)
        for v in library.values()
    ]
    keys = (ForeignKey("quantity", "quantities", "id"), ForeignKey("source", "sources", "id"), ForeignKey("reported_by", "sources", "id"))
    yield Table("values.csv", "Values", "One row a value: one thing that one source says.", columns, rows, ("id",), keys)


def stated(library: Library, results: Results) -> Iterator[Table]:
    """What the almanac states, one row a subject, quantity and variant."""
    columns = (
        Column("id", _TEXT, "Permanent id: subject.quantity.variant.", required=True),
        Column("subject", _TEXT, "Chemistry or practice file the figure is about.", required=True),
        Column("quantity", _TEXT, "Quantity, an id of quantities.csv.", required=True),
        Column("variant", _TEXT, "Variant of the subject.", required=True),
        *unit_columns(" stated"),
        Column("rule", _TEXT, "How it was chosen: lowest, highest, overlap, span, named.", required=True),
        Column("value_ids", _TEXT, "The values it rests on, ids of values.csv parted by spaces.", required=True),
        Column("grade", _TEXT, "Grade of the figure, from the values it rests on.", required=True),
        Column("unit_ucum", _TEXT, "The unit as a UCUM code.", required=True),
        Column("because", _TEXT, "Why the rule of the quantity's role was not followed."),
        Column("unchecked", "boolean", "true for a limit that rests on recalled values alone.", required=True),
    )
    rows = [
        (s.id, s.subject, s.quantity.id, s.variant, s.min, s.typical, s.max, s.unit.symbol, s.rule, " ".join(s.value_ids))
        + (s.grade, s.unit.ucum, s.because, s.unchecked)
        for s in library.stated()
    ]
    keys = (ForeignKey("quantity", "quantities", "id"),)
    yield Table("stated.csv", "Stated figures", "One row a figure that the almanac states.", columns, rows, ("id",), keys)


def pack_voltages(library: Library, results: Results) -> Iterator[Table]:
    """Voltages of 1 to 24 cells in series."""
    columns = (
        Column("chemistry", _TEXT, "Chemistry id.", required=True),
        Column("series", "integer", "Cells in series.", unit="{cells}", required=True),
        Column("empty", "number", "Discharge cut-off voltage of the pack.", unit="V"),
        Column("nominal", "number", "Nominal voltage of the pack.", unit="V"),
        Column("storage", "number", "Storage voltage of the pack.", unit="V"),
        Column("full", "number", "Maximum charge voltage of the pack.", unit="V"),
    )
    rows = [(id, r.series, r.empty_v, r.nominal_v, r.storage_v, r.full_v) for id, pack in results.packs.items() for r in pack]
    text = "Voltages of 1 to 24 cells in series: the stated figures of one cell, multiplied."
    yield Table("pack-voltages.csv", "Pack voltages", text, columns, rows, ("chemistry", "series"))


# Every table, in the order of the data page. Each is a function (library, results) -> Tables.
TABLES = (values, stated, pack_voltages, labels.tables, curves.averages_table, curves.functions_table, curves.curve_tables, building.tables, quantities, sources)


def all_tables(library: Library, results: Results) -> tuple[Table, ...]:
    """Return every table of the almanac."""
    return tuple(table for make in TABLES for table in make(library, results))
