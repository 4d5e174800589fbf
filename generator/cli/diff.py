"""``diff``: what changes in the stated figures between two states of the data."""

from __future__ import annotations

import json
import sys
from collections import Counter
from pathlib import Path
from typing import Any

import click

from generator.build import DATA_DIR, load
from generator.check.rules.editions import NAME
from generator.editions import Change, difference, snapshot
from generator.model.edition import Edition
from generator.pages.changes import row_words
from generator.problem import Refused, nearest


@click.command("diff")
@click.argument("old")
@click.argument("new")
@click.option("--all", "every", is_flag=True, help="Values and remarks too, not only stated figures.")
@click.option("--json", "as_json", is_flag=True, help="Print the changes as JSON.")
def diff_command(old: str, new: str, every: bool, as_json: bool) -> None:
    """Print what changes from OLD to NEW, each a data folder or the name of an edition."""
    before, after = _state(old), _state(new)
    found = [change for change in difference(before, after) if every or change.part == "stated"]
    if as_json:
        click.echo(json.dumps([as_dict(change) for change in found], ensure_ascii=False, indent=2))
        return
    for change in found:
        click.echo(line(change))
    counts = Counter(change.kind for change in found)
    summary = ", ".join(f"{counts[kind]} {kind}" for kind in ("added", "changed", "retired") if counts[kind])
    click.echo(f"{summary or 'no change'} ({'figures, values and remarks' if every else 'stated figures'}, {old} to {new}).", err=True)


def line(change: Change) -> str:
    """Return one change as a line: kind, id, old figure, new figure, reason."""
    then = row_words(change.part, change.old) if change.old else "nothing"
    now = row_words(change.part, change.new) if change.new else "nothing"
    return f"{change.kind:8}{change.id}: {then} -> {now}{f' [{change.why}]' if change.why else ''}"


def as_dict(change: Change) -> dict[str, Any]:
    """Return one change as data; ``old`` and ``new`` are rows of an edition, null where there is none."""
    return {"id": change.id, "part": change.part, "kind": change.kind, "old": change.old, "new": change.new, "why": change.why}


def _state(name: str) -> Edition:
    """Return the state that a folder or an edition's name stands for, or exit 1 with the reason."""
    folder = Path(name)
    try:
        if folder.is_dir():
            return snapshot(load(folder))
        editions = {edition.name: edition for edition in load(DATA_DIR).editions}
    except Refused as refused:
        click.echo(str(refused), err=True)
        sys.exit(1)
    if name not in editions:
        kind = "edition" if NAME.fullmatch(name) else "data folder or edition"
        click.echo(f"no {kind} is called '{name}'. {nearest(name, editions)}".rstrip(), err=True)
        sys.exit(1)
    return editions[name]
