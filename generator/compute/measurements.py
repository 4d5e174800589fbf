"""Measured cells from lines of text: a table with a header, separated by comma, semicolon or tab.

Reads line by line and stops after so many problems or cells, so that a huge or hostile file costs neither time nor
memory. Every problem carries its line and column. Nothing is repaired: a table with a problem is not used.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from generator.compute.delimited import fields_of
from generator.compute.plain import plain
from generator.problem import Problem, nearest

COLUMNS = ("cell", "capacity_mah", "resistance_mohm", "voltage_v", "self_discharge_mv_per_day")
REQUIRED = COLUMNS[:2]
MAX_CELLS = 100_000
MAX_PROBLEMS = 20
MAX_LINE = 2_000
MAX_NAME = 80
SEPARATORS = ",;\t"

_NUMBER = re.compile(r"[+-]?(\d+(\.\d*)?|\.\d+)([eE][+-]?\d{1,2})?")
# Least and greatest figure, and what a figure beyond them most likely is.
_RANGE = {
    "capacity_mah": (20.0, 1_000_000.0, "Ah instead of mAh", "uAh instead of mAh"),
    "resistance_mohm": (0.02, 10_000.0, "ohm instead of milliohm", "micro-ohm instead of milliohm"),
    "voltage_v": (-5.0, 20.0, "the reading of a reversed pack", "mV instead of V, or a whole pack"),
    "self_discharge_mv_per_day": (-100.0, 1_000.0, "a cell that was still settling", "microvolt instead of mV"),
}


@dataclass(frozen=True, slots=True)
class MeasuredCell:
    """One cell as measured: capacity [mAh], resistance [mOhm], voltage at rest [V], loss of voltage [mV/day].

    ``line`` and ``column`` are where its capacity stands in the text.
    """

    cell: str
    capacity_mah: float
    resistance_mohm: float | None
    voltage_v: float | None
    self_discharge_mv_per_day: float | None
    line: int = 0
    column: int = 0


class _Table:
    """What is known while the lines go by."""

    def __init__(self, file: str) -> None:
        self.file = file
        self.separator = ""
        self.names: list[str] = []
        self.cells: list[MeasuredCell] = []
        self.seen: dict[str, int] = {}
        self.problems: list[Problem] = []

    def problem(self, line: int, column: int, id: str, message: str, hint: str = "") -> None:
        self.problems.append(Problem(self.file, line, column, id, message, hint))

    @property
    def full(self) -> bool:
        return len(self.problems) >= MAX_PROBLEMS


def read_measurements(lines: Iterable[str], file: str = "cells.csv") -> tuple[list[MeasuredCell], list[Problem]]:
    """Return the cells and every problem of a table; use the cells only when there is no problem.

    Lines that are empty or start with # are passed over.
    """
    table = _Table(file)
    last = 0
    for last, raw in enumerate(lines, 1):
        text = raw.rstrip("\r\n").removeprefix("\ufeff" if last == 1 else "")
        if not text.strip() or text.startswith("#"):
            continue
        if len(text) > MAX_LINE:
            table.problem(last, MAX_LINE + 1, "line-too-long", f"The line has more than {MAX_LINE} characters.", "Is this a table of cells?")
            break
        if not _readable(table, text, last):
            pass
        elif not table.names:
            _header(table, text, last)
            if table.problems:
                break
        elif len(table.cells) == MAX_CELLS:
            table.problem(last, 1, "too-many-cells", f"More than {MAX_CELLS} cells.", "Sort them in parts.")
            break
        else:
            _row(table, text, last)
        if table.full:
            table.problem(last, 1, "too-many-problems", f"{MAX_PROBLEMS} problems up to here; the rest was not read.")
            break
    if not table.problems and not table.cells:
        _nothing(table, last)
    if not table.problems:
        table.problems.extend(_mixed_units(table.cells, file))
    return table.cells, table.problems


def _nothing(table: _Table, last: int) -> None:
    what = "holds a header but no cell" if table.names else "is empty"
    table.problem(max(last, 1), 1, "no-cells", f"The table {what}.", f"The first line is {','.join(COLUMNS)}; then one line a cell.")


def _readable(table: _Table, text: str, line: int) -> bool:
    bad = next((i for i, c in enumerate(text) if c == "\ufffd" or (ord(c) < 32 and c != "\t") or ord(c) == 127), None)
    if bad is not None:
        table.problem(line, bad + 1, "not-text", "There is a character here that is not text.", "Save the table as CSV in UTF-8.")
    return bad is None


def _header(table: _Table, text: str, line: int) -> None:
    table.separator = max(SEPARATORS, key=text.count)
    fields = list(fields_of(text, table.separator))
    names = [name.strip().lower() for name, _ in fields]
    for (name, column), known in zip(fields, names, strict=True):
        if known not in COLUMNS:
            hint = nearest(known, COLUMNS) or f"Known are {', '.join(COLUMNS)}."
            table.problem(line, column, "unknown-column", f"'{_short(name)}' is no column of the table.", hint)
        elif names.count(known) > 1:
            table.problem(line, column, "duplicate-column", f"The column '{known}' stands here more than once.")
    missing = [name for name in REQUIRED if name not in names]
    if missing:
        table.problem(line, 1, "missing-column", f"The header lacks {' and '.join(missing)}.", f"The first line is {','.join(COLUMNS)}; the last three may be left out.")
    table.names = names


def _row(table: _Table, text: str, line: int) -> None:
    fields = list(fields_of(text, table.separator))
    if len(fields) != len(table.names):
        column = fields[min(len(fields), len(table.names)) - 1][1]
        table.problem(line, column, "wrong-count", f"{len(fields)} fields instead of {len(table.names)}.", "A decimal comma splits a number in two: use a point.")
        return
    found: dict[str, float | None] = {}
    before = len(table.problems)
    name, capacity_column = "", 1
    for known, (content, column) in zip(table.names, fields, strict=True):
        if known == "cell":
            name = _name(table, content.strip(), line, column)
        else:
            found[known] = _figure(table, known, content.strip(), line, column)
            capacity_column = column if known == "capacity_mah" else capacity_column
    if len(table.problems) == before:
        figures = [found.get(column) for column in COLUMNS[1:]]
        table.cells.append(MeasuredCell(name, *figures, line=line, column=capacity_column))


def _name(table: _Table, name: str, line: int, column: int) -> str:
    if not name or len(name) > MAX_NAME:
        table.problem(line, column, "cell-name", f"A cell needs a name of 1 to {MAX_NAME} characters.")
    elif name in table.seen:
        table.problem(line, column, "duplicate-cell", f"The cell '{name}' was already in line {table.seen[name]}.", "Give every cell a name of its own.")
    else:
        table.seen[name] = line
    return name


def _figure(table: _Table, known: str, content: str, line: int, column: int) -> float | None:
    if not content:
        if known in REQUIRED:
            table.problem(line, column, "missing-number", f"{known} is empty.", "Leave a cell that was not measured out.")
        return None
    if not _NUMBER.fullmatch(content):
        hint = "Write the decimal point as a point." if re.fullmatch(r"[\d.,+-]+", content) else "Write the number alone, without its unit."
        table.problem(line, column, "not-a-number", f"{known} is '{_short(content)}', not a number.", hint)
        return None
    figure = float(content)
    least, greatest, below, above = _RANGE[known]
    if not least <= figure <= greatest:
        likely = below if figure < least else above
        table.problem(line, column, "unit", f"{known} is {content[:20]}: outside {plain(least)} to {plain(greatest)}.", f"Perhaps {likely}.")
    return figure


def _mixed_units(cells: list[MeasuredCell], file: str) -> Iterator[Problem]:
    """A capacity a thousand times smaller than its mates, or a resistance, is in another unit."""
    for name, wrong in (("capacity_mah", "Ah"), ("resistance_mohm", "ohm")):
        given = sorted(figure for cell in cells if (figure := getattr(cell, name)) is not None)
        middle = given[len(given) // 2] if given else 0.0
        for cell in cells:
            figure = getattr(cell, name)
            if figure is not None and figure * 100 < middle and middle / 3 < figure * 1000 < middle * 3:
                message = f"{name} of '{cell.cell}' is {plain(figure)} where the cells have about {plain(middle)}."
                yield Problem(file, cell.line, cell.column, "unit", message, f"Perhaps {wrong}: write it in the unit of the column.")


def _short(text: str) -> str:
    shown = text.strip()
    return shown if len(shown) <= 30 else f"{shown[:29]}..."
