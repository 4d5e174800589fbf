"""``match``: measured cells to groups in parallel and series."""

from __future__ import annotations

import json
import re
import sys
from collections.abc import Iterator
from dataclasses import asdict
from pathlib import Path

import click

from generator.cli.site import load_or_exit
from generator.compute.building import general_floor_v
from generator.compute.match import Match, TooFewCells, match_cells
from generator.compute.measurements import MAX_LINE, MeasuredCell, read_measurements

_PACK = re.compile(r"\s*(\d{1,9})\s*[sS]\s*(\d{1,9})\s*[pP]\s*")


@click.command("match")
@click.argument("file", type=click.Path(path_type=Path, exists=True, dir_okay=False, readable=True))
@click.argument("pack")
@click.option("--floor-v", type=float, default=None, help="Refuse cells found below this voltage; default: the almanac's lithium-ion figure.")
@click.option("--json", "as_json", is_flag=True, help="Print the result as JSON.")
def match_command(file: Path, pack: str, floor_v: float | None, as_json: bool) -> None:
    """Group the cells of FILE (CSV: cell,capacity_mah and, if measured, resistance_mohm, voltage_v,
    self_discharge_mv_per_day) into PACK, such as 3S4P, so that least capacity is wasted."""
    series, parallel = _counts(pack)
    cells, problems = read_measurements(_lines(file), str(file))
    if problems:
        for problem in problems:
            click.echo(str(problem), err=True)
        sys.exit(1)
    try:
        result = match_cells(cells, series, parallel, _floor(cells, floor_v))
    except (TooFewCells, ValueError) as error:
        click.echo(f"{file}: {error}", err=True)
        sys.exit(1)
    click.echo(json.dumps(as_data(result), ensure_ascii=False, indent=2) if as_json else as_text(result))


def _counts(pack: str) -> tuple[int, int]:
    found = _PACK.fullmatch(pack)
    if not found:
        raise click.BadParameter(f"'{pack[:40]}' is not a pack such as 3S4P: cells in series, then in parallel.", param_hint="PACK")
    return int(found[1]), int(found[2])


def _lines(file: Path) -> Iterator[str]:
    """Lines of a file, one at a time and none longer than needed to see that it is too long."""
    try:
        with file.open("rb") as stream:
            while chunk := stream.readline(4 * MAX_LINE + 4):
                yield chunk.decode("utf-8", errors="replace")
    except OSError as error:
        click.echo(f"{file}: {error.strerror or error}", err=True)
        sys.exit(1)


def _floor(cells: list[MeasuredCell], given: float | None) -> float | None:
    """The voltage below which a found cell is refused; the records are only read when a voltage was measured."""
    if given is not None or all(cell.voltage_v is None for cell in cells):
        return given
    return general_floor_v(load_or_exit())


def as_data(result: Match) -> dict:
    """Return the result for JSON."""
    data = asdict(result)
    return {**data, "rejects": [{"cell": r.cell, "reason": r.reason, "refused": r.refused} for r in result.rejects]}


def as_text(result: Match) -> str:
    """Return the result for people."""
    lines = [f"{result.series}S{result.parallel}P, usable {result.usable_capacity_mah:g} mAh: the weakest group"]
    lines.append("  proven the best possible" if result.optimal else f"  no grouping gives more than {result.bound_mah:g} mAh")
    lines.append(f"  strongest less weakest group {result.spread_mah:g} mAh; wasted {result.wasted_mah:g} mAh, {result.wasted_share:.2%} of the cells used")
    for number, group in enumerate(result.groups, 1):
        ohms = f", {group.resistance_mohm:g} mOhm" if group.resistance_mohm is not None else ""
        lines.append(f"group {number}: {group.capacity_mah:g} mAh{ohms}: {', '.join(group.cells)}")
    lines += [f"{'refused' if reject.refused else 'left out'} {reject.cell}: {reject.reason}" for reject in result.rejects]
    lines += [f"note: {note}" for note in result.notes]
    lines.append("Capacity and resistance do not show every fault: watch the cells through a rest of some weeks before you build.")
    return "\n".join(lines)
