"""Labels, sizes and markings for machines: tables, and the data that the pages' scripts look up."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from generator.compute import marking
from generator.compute.results import Results
from generator.export.schemas import json_text
from generator.export.table import Column, Table
from generator.model.designation import Designation, PartRule, Pattern, Row
from generator.model.library import Library

_TEXT = "string"


def label_rows(library: Library, results: Results) -> Iterator[Table]:
    """Every reading of every recorded label voltage, one row a chemistry and series count."""
    columns = (
        Column("label_v", "number", "Voltage as printed.", unit="V", required=True),
        Column("chemistry", _TEXT, "Chemistry id.", required=True),
        Column("series", "integer", "Cells in series.", unit="{cells}", required=True),
        Column("reading", _TEXT, "What the print then is: nominal, full, or class (the lead-acid voltage it stands in for).", required=True),
        Column("nominal_v", "number", "Stated nominal voltage of the pack.", unit="V"),
        Column("full_v", "number", "Stated maximum charge voltage of the pack.", unit="V"),
        Column("residual_v", "number", "Printed voltage minus cells times per_cell_v.", unit="V"),
        Column("rank", "integer", "1 is the best explanation of the label; equal ranks are equally good.", required=True),
        Column("variant", _TEXT, "Variant of the chemistry.", required=True),
        Column("per_cell_v", "number", "Voltage counted for each cell.", unit="V"),
        Column("empty_v", "number", "Stated discharge cut-off voltage of the pack.", unit="V"),
        Column("storage_v", "number", "Stated storage voltage of the pack.", unit="V"),
        Column("recorded", "boolean", "Whether labels.yml records such a label.", required=True),
    )
    rows = [
        (volts, r.chemistry, r.series, r.reading, r.row.nominal_v, r.row.full_v, r.residual_v, r.rank, r.variant, r.per_cell_v)
        + (r.row.empty_v, r.row.storage_v, bool(e.evidence))
        for volts, explanations in results.labels.table.items()
        for e in explanations
        for r in e.readings
    ]
    text = "Printed pack voltages and what explains them: chemistry, cells in series and the real voltages of each reading."
    yield Table("labels.csv", "Label voltages", text, columns, rows, ("label_v", "chemistry", "variant", "series"))


def size_rows(library: Library, results: Results) -> Iterator[Table]:
    """Cell sizes, one row a size."""
    columns = (
        Column("id", _TEXT, "Id of the size.", required=True),
        Column("name", _TEXT, "Name.", required=True),
        Column("shape", _TEXT, "cylinder, coin or block.", required=True),
        Column("across", "number", "Largest diameter, or width of a block.", unit="mm", required=True),
        Column("thickness", "number", "Largest thickness of a block.", unit="mm"),
        Column("length", "number", "Largest length or height.", unit="mm", required=True),
        Column("volume", "number", "Volume of the largest outline, computed.", unit="cm3", required=True),
        Column("mass_min", "number", "Lightest that a source gives.", unit="g"),
        Column("mass_max", "number", "Heaviest that a source gives.", unit="g"),
        Column("capacity_min", "number", "Smallest capacity that a source gives.", unit="A.h"),
        Column("capacity_max", "number", "Largest capacity that a source gives.", unit="A.h"),
        Column("also_called", _TEXT, "Other names, separated by semicolons."),
        Column("source", _TEXT, "Publication the outline rests on; empty where it is recalled without one."),
        Column("grade", _TEXT, "How the outline is known.", required=True),
    )
    rows = [
        (s.id, s.name, s.shape, s.across_mm, s.stated.thickness_mm[1], s.length_mm, round(s.volume_cm3, 2))
        + (*s.span("mass_g"), *s.span("capacity_ah"), "; ".join(s.also_called), s.stated.evidence.source, s.stated.evidence.grade)
        for s in library.sizes.values()
    ]
    yield Table("sizes.csv", "Cell sizes", "Outlines of cell sizes with computed volume, masses and capacities.", columns, rows, ("id",))


def scripts_data(library: Library, results: Results) -> dict[str, str]:
    """Return labels.json and markings.json, which the pages' scripts look up."""
    return {"labels.json": json_text(dict(results.labels.lookup), compact=True), "markings.json": json_text(markings_data(library), compact=True)}


def markings_data(library: Library) -> dict:
    """Return everything a marking is read with: patterns, tables and names in order, and the texts of the reader."""
    designations = library.designations.values()
    names: dict[str, dict] = {}
    for d in designations:
        for row in d.names:
            names.setdefault(row.code, {"form": f"{d.id}/names", **_row(row)})
    return {
        "max_length": marking.MAX_LENGTH,
        "max_tokens": marking.MAX_TOKENS,
        "span": marking.SPAN,
        "replaced": marking.REPLACED,
        "messages": marking.MESSAGES,
        "names": names,
        "tables": {t.id: {row.code: _row(row) for row in t.rows} for d in designations for t in d.tables},
        "patterns": [_pattern(p) for d in designations for p in d.patterns],
        "forms": {d.id: d.name for d in designations},
        "chemistries": {id: s.abbreviation for id, s in library.chemistries.items()},
        "sizes": {id: s.name for id, s in library.sizes.items()},
        "sources": _sources(library, designations),
    }


def _row(row: Row) -> dict:
    item = {"meaning": row.meaning, "chemistries": list(row.chemistries), "size": row.size, "series": row.series}
    return {**item, "source": row.evidence.source, "grade": row.evidence.grade}


def _pattern(pattern: Pattern) -> dict:
    return {
        "id": pattern.id,
        "expression": pattern.expression,
        "meaning": pattern.meaning,
        "note": pattern.note,
        "parts": [_part(part) for part in pattern.parts],
        "chemistry_parts": list(pattern.chemistry_parts),
        "chemistry_table": pattern.chemistry_table,
        "size_parts": list(pattern.size_parts),
        "size_table": pattern.size_table,
    }


def _part(part: PartRule) -> dict:
    evidence = {"source": part.evidence.source, "grade": part.evidence.grade} if part.evidence else {"source": None, "grade": None}
    return {"role": part.role, "name": part.name, "table": part.table, "decimals": part.decimals, "meaning": part.meaning, **evidence}


def _sources(library: Library, designations) -> Mapping[str, str]:
    found: dict[str, str] = {}
    for d in designations:
        rows = [row.evidence for t in d.tables for row in t.rows] + [n.evidence for n in d.names]
        rows += [part.evidence for p in d.patterns for part in p.parts if part.evidence]
        found |= {e.source: library.sources[e.source].short for e in rows if e.source in library.sources}
    return dict(sorted(found.items()))


def tables(library: Library, results: Results) -> Iterator[Table]:
    """Every table of this module."""
    yield from label_rows(library, results)
    yield from size_rows(library, results)
