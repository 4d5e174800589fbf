"""``cite``: one figure as a citation."""

from __future__ import annotations

import json
import sys

import click

from generator.cite.cited import Citer, UnknownId
from generator.cite.styles import STYLES, citation
from generator.cli.site import load_or_exit


@click.command("cite")
@click.argument("id")
@click.option("--style", type=click.Choice(list(STYLES)), default="plain", show_default=True, help="The format.")
@click.option("--json", "as_json", is_flag=True, help="Print the figure and its citation in every style as JSON.")
def cite_command(id: str, style: str, as_json: bool) -> None:
    """Print the citation of figure ID, such as lfp.charge-voltage-max or lfp.charge-voltage-max.power-cell."""
    citer = Citer(load_or_exit())
    try:
        cited = citer.cited(citer.find(id))
    except UnknownId as error:
        click.echo(str(error), err=True)
        sys.exit(1)
    if as_json:
        styles = {name: citation(cited, each) for name, each in STYLES.items()}
        record = {"id": cited.item.id, "figure": cited.figure, "link": cited.link, "edition": cited.edition and cited.edition.name, "styles": styles}
        click.echo(json.dumps(record, ensure_ascii=False, indent=2))
    else:
        click.echo(citation(cited, STYLES[style]).rstrip("\n"))
