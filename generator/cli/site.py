"""``write``, ``build``, ``serve``: the two sinks and the author's view."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path
from typing import TYPE_CHECKING

import click

from generator.places import DATA_DIR, ROOT
from generator.problem import Refused
from generator.sink.site import build_site
from generator.sink.staging import NotWritten

if TYPE_CHECKING:
    from generator.model.library import Library

DOCS = ROOT / "docs"


def load_or_exit(data: Path = DATA_DIR) -> Library:
    """Return the library, or print every problem and exit 1."""
    from generator.build import load  # slow to import: a build starts the site engine first

    try:
        return load(data)
    except Refused as refused:
        click.echo(str(refused), err=True)
        click.echo(f"{len(refused.problems)} problems found; nothing was written.", err=True)
        sys.exit(1)


def _exit_unwritten(error: NotWritten) -> None:
    click.echo(f"{error}\nWhat stood there before is untouched.", err=True)
    sys.exit(1)


def _report(stage: str) -> None:
    click.echo(f"  {stage} ...", err=True)


@click.command("write")
@click.argument("out", type=click.Path(path_type=Path, file_okay=False))
def write_command(out: Path) -> None:
    """Write the whole site source to OUT/, a plain folder that any Markdown engine can build."""
    from generator.build import generate
    from generator.sink.folder import write_folder

    load_or_exit()
    files = generate(report=_report)
    try:
        write_folder(files, DOCS, out)
    except NotWritten as error:
        _exit_unwritten(error)
    click.echo(f"{len(files)} generated files and the hand-written pages are in {out}/")


@click.command("build")
@click.option("--out", type=click.Path(path_type=Path, file_okay=False), default=ROOT / "site", help="The site's folder.")
def build_command(out: Path) -> None:
    """Check the records and build the site; a failed build leaves the old site as it was."""
    _report("checking the records, writing pages, drawing figures and building the site; the first time takes longer")
    try:
        build_site(ROOT, load_or_exit, out.resolve(), epoch=source_date_epoch())
    except NotWritten as error:
        _exit_unwritten(error)
    click.echo(f"The site is built: open {out / 'index.html'}")
    click.echo("For working links and search, serve it: python -m http.server -d site 8000, then http://localhost:8000/")


@click.command("serve")
@click.option("--port", default=8000, show_default=True, help="Port on this machine.")
def serve_command(port: int) -> None:
    """Serve the site while you write: an edit to a record shows in the browser."""
    load_or_exit()
    environment = {**os.environ, "NO_MKDOCS_2_WARNING": "1"}
    command = [sys.executable, "-m", "mkdocs", "serve", "--dirty", "--no-strict", "--dev-addr", f"127.0.0.1:{port}"]
    sys.exit(subprocess.call(command, cwd=ROOT, env=environment))


def source_date_epoch() -> str:
    """Return SOURCE_DATE_EPOCH if set, else the time of the last commit, else a fixed day: never the clock."""
    given = os.environ.get("SOURCE_DATE_EPOCH")
    if given:
        return given
    try:
        done = subprocess.run(["git", "log", "-1", "--format=%ct"], cwd=ROOT, capture_output=True, text=True)
    except OSError:  # no git on this machine: a source archive
        return "1767225600"
    return done.stdout.strip() or "1767225600"
