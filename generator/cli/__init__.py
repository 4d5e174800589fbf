"""Commands, one module each; this one gathers them."""

from __future__ import annotations

import click

from generator.cli.check import check_command
from generator.cli.cite import cite_command
from generator.cli.diff import diff_command
from generator.cli.fields import fields_command
from generator.cli.freeze import freeze_command
from generator.cli.match import match_command
from generator.cli.new import new_command
from generator.cli.pack import pack_command
from generator.cli.site import build_command, serve_command, write_command


@click.group(context_settings={"help_option_names": ["-h", "--help"]})
def main() -> None:
    """Cell Almanac: check the records, build the site, cite a figure."""


for command in (check_command, write_command, build_command, serve_command, cite_command, freeze_command, diff_command, new_command, fields_command, match_command, pack_command):
    main.add_command(command)
