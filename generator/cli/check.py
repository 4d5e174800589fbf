"""``check``: every problem of the data, with its place."""

from __future__ import annotations

import json
import os
import sys
from pathlib import Path

import click

from generator.check import check
from generator.model.library import library_from
from generator.places import CACHE, DATA_DIR
from generator.problem import Problem
from generator.tree import read_tree


@click.command("check")
@click.option("--data", type=click.Path(path_type=Path, file_okay=False, exists=True), default=DATA_DIR, help="The data folder.")
@click.option("--json", "as_json", is_flag=True, help="Print the problems as JSON.")
def check_command(data: Path, as_json: bool) -> None:
    """Print every problem of the data as FILE:LINE:COLUMN; exit 1 when there is one."""
    tree = read_tree(data)
    problems = check(tree, CACHE)
    if as_json:
        click.echo(json.dumps([problem.as_dict() for problem in problems], indent=2))
    else:
        for problem in problems:
            click.echo(str(problem), err=True)
            if os.environ.get("GITHUB_ACTIONS"):
                click.echo(annotation(problem))
        if not problems:
            library = library_from(tree)
            values, sources = sum(1 for _ in library.values()), len(library.sources)
            click.echo(f"{len(tree.documents)} files, {values} values from {sources} sources: no problem found.")
        else:
            click.echo(f"{len(problems)} problem{'s' * (len(problems) != 1)} found.", err=True)
    sys.exit(1 if problems else 0)


def annotation(problem: Problem) -> str:
    """Return the problem as the annotation line that GitHub's checks read from standard output."""
    text = f"{problem.message} {problem.hint}".strip().replace("%", "%25").replace("\n", "%0A").replace("\r", "%0D")
    return f"::error file={problem.file},line={problem.line},col={problem.column}::{text}"
