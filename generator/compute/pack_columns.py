"""Pack tables whose columns fit the kind of cell: what the trade asks of lead-acid blocks, nickel strings and primary cells.

Every figure is the stated one of a cell, multiplied by the cells in series (Kirchhoff's voltage law).
"""

from __future__ import annotations

from dataclasses import dataclass

from generator.compute.span import Span, span_of
from generator.model.subject import Stated, Subject


@dataclass(frozen=True, slots=True)
class PackColumn:
    """One column: its heading and the stated figure that is multiplied."""

    name: str
    stated: Stated


@dataclass(frozen=True, slots=True)
class PackLine:
    """Volts of ``cells`` in series, one span a column [V]."""

    cells: int
    volts: tuple[Span, ...]


@dataclass(frozen=True, slots=True)
class PackTable:
    """Columns and lines of one chemistry's pack table."""

    columns: tuple[PackColumn, ...]
    lines: tuple[PackLine, ...]


def pack_table_of(subject: Subject, wanted: tuple[tuple[str, str], ...], counts: tuple[int, ...]) -> PackTable:
    """Return the table for pairs of heading and quantity; a quantity the record does not state has no column."""
    columns = tuple(PackColumn(name, stated) for name, quantity in wanted if (stated := subject.figure(quantity)))
    lines = tuple(PackLine(n, tuple(span_of(column.stated).times(n, _places(n)) for column in columns)) for n in counts)
    return PackTable(columns, lines)


def _places(cells: int) -> int:
    """A millivolt for a cell, a hundredth of a volt for a pack: sources print packs no finer."""
    return 3 if cells == 1 else 2


PRIMARY_COLUMNS = (
    ("Empty", "discharge-cutoff-voltage"),
    ("Nominal", "nominal-voltage"),
    ("New, at most", "open-circuit-voltage-max"),
)


def primary_packs(subject: Subject) -> PackTable:
    """Return the pack table of a cell that is never charged, for the counts it is used in."""
    return pack_table_of(subject, PRIMARY_COLUMNS, subject.series_usual or (1, 2, 3, 4))
