"""How to read what is printed on a cell: the field, and the tables behind it for readers without scripts."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from generator.compute.marking import MESSAGES
from generator.compute.results import Results
from generator.model.designation import Designation, Row
from generator.model.library import Library
from generator.pages.environment import render, to_root

# Letters that people type as one word, with what the standard and the trade make of them.
TRIPLES = ("ICR", "INR", "IMR", "IFR", "IFpR", "ICP", "INP", "IFP", "NCR", "LIR")

SHORT_NAMES = {
    "iec-61960": "Lithium, IEC 61960",
    "iec-61951": "Nickel, IEC 61951",
    "iec-60086": "Primary, IEC 60086",
    "trade-lithium": "Five digits of the trade",
    "trade-names": "Everyday names",
}


def pages(library: Library, results: Results) -> Mapping[str, str]:
    """Return the page of markings by path."""
    path = "markings/index.md"
    # The standards before the everyday names, which are tried first but explain least.
    designations = sorted(library.designations.values(), key=lambda d: not d.tables)
    context = {"root": to_root(path), "library": library, "designations": designations, "messages": MESSAGES, "triples": triples(library.designations)}
    short = [(d.id, SHORT_NAMES.get(d.id, d.id)) for d in designations]
    return {path: render("markings.md.j2", table_rows=table_rows, order_lines=order_lines, short_names=short, **context)}


def triples(designations: Mapping[str, Designation]) -> list[tuple[str, Row]]:
    """Return the letter groups of the trade with their row: the standard's joined letters, or the trade's own prefix."""
    standard, trade = _table(designations, "iec-61960/chemistry"), _table(designations, "trade-lithium/prefix")
    found = []
    for letters in TRIPLES:
        capitals = letters.upper()
        row = standard.get(capitals[:-1]) or trade.get(capitals)
        if row is not None:
            found.append((letters, row))
    return found


def _table(designations: Mapping[str, Designation], id: str) -> dict[str, Row]:
    return {row.code: row for d in designations.values() for t in d.tables if t.id == id for row in t.rows}


def table_rows(rows: Sequence[Row]) -> list[Row]:
    """Return the rows that a table of the page shows: those that say more than their own code."""
    return [row for row in rows if row.meaning != f"the size {row.code}"]


def order_lines(designation: Designation) -> list[str]:
    """Return one line a form of marking: what it is and its parts in order, each line once."""
    lines = []
    for pattern in designation.patterns:
        parts = ", ".join(dict.fromkeys(part.name[:1].lower() + part.name[1:] for part in pattern.parts))
        lines.append(f"{pattern.meaning}: {parts}.{f' {pattern.note}' if pattern.note else ''}")
    return list(dict.fromkeys(lines))
