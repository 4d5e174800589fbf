"""Commands, one module each; a command's module is loaded only when the command is called, so that ``check`` is quick."""

from __future__ import annotations

import importlib

import click

# Name of the command -> module below generator.cli that has NAME_command.
COMMANDS = {
    "build": "site",
    "check": "check",
    "cite": "cite",
    "diff": "diff",
    "fields": "fields",
    "freeze": "freeze",
    "match": "match",
    "new": "new",
    "pack": "pack",
    "serve": "site",
    "write": "site",
}


class LazyGroup(click.Group):
    """A group that knows its commands by name and loads each when it is asked for."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        return sorted(COMMANDS)

    def get_command(self, ctx: click.Context, name: str) -> click.Command | None:
        if name not in COMMANDS:
            return None
        return getattr(importlib.import_module(f"generator.cli.{COMMANDS[name]}"), f"{name}_command")


@click.command(cls=LazyGroup, context_settings={"help_option_names": ["-h", "--help"]})
def main() -> None:
    """Cell Almanac: check the records, build the site, cite a figure."""
