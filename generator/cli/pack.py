"""``pack``: the worksheet of one pack on the command line."""

from __future__ import annotations

import json
import re
import sys
from dataclasses import asdict

import click

from generator.build import CACHE
from generator.cli.pack_text import as_text, limit_sentence
from generator.cli.site import load_or_exit
from generator.compute.cell_table import cell_tables, default_cell
from generator.compute.curves import curves_of, is_computed
from generator.compute.pack_figures import pack_figures
from generator.compute.table_cell import table_curves
from generator.compute.worksheet import sheet
from generator.compute.worksheet_inputs import read
from generator.compute.worksheet_limits import transport_class
from generator.compute.worksheet_rules import worksheet_rules
from generator.compute.worksheet_types import Inputs, Sheet
from generator.model.library import Library

_PACK = re.compile(r"\s*(\d{1,9})\s*[sS]\s*(?:(\d{1,9})\s*[pP])?\s*")


@click.command("pack")
@click.argument("chemistry")
@click.argument("pack")
@click.option("--cell", default="", help="Published cell whose curve is used; default: the one that fits the chemistry best.")
@click.option("--capacity-ah", default="", help="Capacity of one cell [Ah]; default: the published cell's.")
@click.option("--resistance-mohm", default="", help="Measured resistance of one cell [mOhm]: used in place of the published curves.")
@click.option("--current-max-a", default="", help="Highest current of one cell from its data sheet [A].")
@click.option("--load-a", default=None, help="Constant current of the pack [A].")
@click.option("--load-w", default=None, help="Constant power of the pack [W].")
@click.option("--load-ohm", default=None, help="Constant resistance across the pack [ohm].")
@click.option("--duty-percent", default="100", help="Share of the time the load is on [%].")
@click.option("--ambient-c", default="25", help="Ambient temperature [degC].")
@click.option("--json", "as_json", is_flag=True, help="Print the result as JSON.")
def pack_command(chemistry: str, pack: str, as_json: bool, load_a: str | None, load_w: str | None, load_ohm: str | None, **texts: str) -> None:
    """Print the worksheet of a PACK such as 4S2P of one CHEMISTRY such as lfp: voltages, charger, energy, run time
    under a load, fuse, strip, watt-hours for transport, and every limit that is exceeded."""
    counts = _PACK.fullmatch(pack)
    if not counts:
        _refuse(f"PACK: '{pack[:40]}' is not a pack such as 4S2P: cells in series, then in parallel.")
    loads = {kind: text for kind, text in (("a", load_a), ("w", load_w), ("ohm", load_ohm)) if text is not None}
    if len(loads) > 1:
        _refuse("Load: give one of --load-a, --load-w and --load-ohm.")
    kind, text = next(iter(loads.items()), ("none", ""))
    raw = {**texts, "chemistry": chemistry, "series": counts[1], "parallel": counts[2] or "1", "load_kind": kind, "load": text}
    library = load_or_exit()
    inputs, made = _sheet(library, raw)
    click.echo(json.dumps(as_data(inputs, made, library), ensure_ascii=False, indent=2) if as_json else as_text(inputs, made, library))


def _refuse(sentence: str) -> None:
    click.echo(sentence, err=True)
    sys.exit(1)


def _sheet(library: Library, raw: dict[str, str]) -> tuple[Inputs, Sheet]:
    chemistry = raw["chemistry"]
    if chemistry not in library.chemistries:
        _refuse(f"Chemistry: '{chemistry[:40]}' is not one of the almanac's: {', '.join(library.chemistries)}.")
    cells = library.cells_of(chemistry)
    curves = {c.id: curves_of(c, CACHE) for c in cells if is_computed(c)}
    tables = {id: t for id, t in cell_tables(library, curves, {c.id: table_curves(c) for c in cells if c.tables}).items() if t.chemistry == chemistry}
    inputs, refusals = read(raw, tables, {chemistry: default_cell(library, tables, chemistry)})
    if inputs is None:
        _refuse("\n".join(refusal.sentence for refusal in refusals))
    return inputs, sheet(inputs, tables[inputs.cell], pack_figures(library, chemistry), worksheet_rules(library, chemistry), bool(library.chemistries[chemistry].rechargeable))


def as_data(inputs: Inputs, made: Sheet, library: Library) -> dict:
    """Return the worksheet for JSON."""
    exceeded = [{**asdict(limit), "sentence": limit_sentence(limit, library)} for limit in made.exceeded]
    return {"inputs": asdict(inputs), "model": made.model, "stop": made.stop, "numbers": dict(made.numbers), "transport": list(transport_class(made.exceeded, worksheet_rules(library, inputs.chemistry))), "exceeded": exceeded}
