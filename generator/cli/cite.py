"""``cite``: one figure as a citation, as it stands now or as it stood in an edition."""

from __future__ import annotations

import json
import sys

import click

from generator.cite.cited import Cited, Citer, UnknownId
from generator.cite.styles import STYLES, citation
from generator.cite.then import UnknownEdition, changed_since, cited_then, edition_named, now_words
from generator.cli.site import load_or_exit


@click.command("cite")
@click.argument("id")
@click.option("--style", type=click.Choice(list(STYLES)), default="plain", show_default=True, help="The format.")
@click.option("--edition", default=None, metavar="NAME", help="As it stood in this edition, such as 2026.11; what stands now goes to standard error.")
@click.option("--json", "as_json", is_flag=True, help="Print the figure and its citation in every style as JSON.")
def cite_command(id: str, style: str, edition: str | None, as_json: bool) -> None:
    """Print the citation of ID: a figure (lfp.charge-voltage-max), a kind's (lfp.charge-voltage-max.power-cell), a value, a remark, a size (size.18650) or a label."""
    citer = Citer(load_or_exit())
    try:
        cited = citer.cited(citer.find(id)) if edition is None else cited_then(citer, id, edition_named(citer.library, edition))
    except (UnknownId, UnknownEdition) as error:
        click.echo(str(error), err=True)
        sys.exit(1)
    if as_json:
        click.echo(json.dumps(_record(cited, citer, edition), ensure_ascii=False, indent=2))
        return
    click.echo(citation(cited, STYLES[style]).rstrip("\n"))
    note = _note(cited, citer, edition)
    if note:
        click.echo(note, err=True)


def _note(cited: Cited, citer: Citer, edition: str | None) -> str | None:
    """Return then and now in words where the two differ."""
    if edition is not None:
        return f"Now: {now_words(citer, cited.id)}"
    changed = changed_since(citer, cited.id)
    return f"In edition {changed[0].name}: {changed[1]}" if changed else None


def _record(cited: Cited, citer: Citer, edition: str | None) -> dict[str, object]:
    changed = changed_since(citer, cited.id)
    styles = {name: citation(cited, each) for name, each in STYLES.items()}
    then = {"edition": changed[0].name, "figure": changed[1]} if changed and edition is None else None
    now = now_words(citer, cited.id) if edition is not None else None
    return {"id": cited.id, "figure": cited.figure, "link": cited.link, "edition": cited.edition and cited.edition.name, "then": then, "now": now, "styles": styles}
