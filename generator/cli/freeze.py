"""``freeze``: everything the almanac says now, as an edition that never changes again."""

from __future__ import annotations

import datetime
import os
import sys
from pathlib import Path

import click

from generator.build import DATA_DIR
from generator.check.rules.editions import DATE, NAME
from generator.cli.site import load_or_exit
from generator.editions import snapshot
from generator.export.schemas import checked
from generator.model.edition import edition_data, edition_text
from generator.model.library import Library


class NotFrozen(Exception):
    """The edition cannot be frozen under this name or day."""


@click.command("freeze")
@click.argument("edition")
@click.option("--date", default=None, metavar="YYYY-MM-DD", help="Day of the edition; today when left out.")
@click.option("--data", type=click.Path(path_type=Path, file_okay=False, exists=True), default=DATA_DIR, help="The data folder.")
def freeze_command(edition: str, date: str | None, data: Path) -> None:
    """Write EDITION, such as 2026.12, to chemistry/editions/; an edition that exists is never overwritten."""
    library = load_or_exit(data)
    path = data / "editions" / f"{edition}.json"
    try:
        text = frozen(library, edition, date or datetime.date.today().isoformat())
        write_new(path, text)
    except NotFrozen as error:
        click.echo(str(error), err=True)
        sys.exit(1)
    click.echo(f"Frozen: {path} ({len(text.encode('utf-8')) // 1024} KiB). Its ids are now permanent.")


def frozen(library: Library, name: str, date: str) -> str:
    """Return the text of the edition; raises NotFrozen for a name or day that does not follow the newest edition."""
    if not NAME.fullmatch(name):
        raise NotFrozen(f"'{name}' is no edition's name: use year and month, such as 2026.12, or 2026.12.1 for a second one")
    if not DATE.fullmatch(date) or not _is_day(date):
        raise NotFrozen(f"'{date}' is not a day such as 2026-12-01")
    newest = library.editions[-1] if library.editions else None
    if newest and (_order(name) <= _order(newest.name) or date < newest.date):
        raise NotFrozen(f"edition {newest.name} of {newest.date} is newer or the same; a new edition comes after it")
    edition = snapshot(library, name, date)
    checked(f"editions/{name}.json", edition_data(edition), "export-edition.schema.json")
    return edition_text(edition)


def _is_day(date: str) -> bool:
    try:
        datetime.date.fromisoformat(date)
    except ValueError:
        return False
    return True


def _order(name: str) -> tuple[int, ...]:
    return tuple(int(part) for part in name.split("."))


def write_new(path: Path, text: str) -> None:
    """Write a file that must not exist yet, whole or not at all; raises NotFrozen otherwise."""
    part = path.with_suffix(".part")
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        part.write_text(text, "utf-8")
        os.link(part, path)  # fails where the name is taken, even by someone a moment earlier
    except FileExistsError:
        raise NotFrozen(f"{path} exists; an edition is never overwritten") from None
    except OSError as error:
        raise NotFrozen(f"{path} cannot be written: {error.strerror}") from None
    finally:
        part.unlink(missing_ok=True)
