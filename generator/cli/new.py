"""``new``: a commented template of a record, made from its schema so that it cannot fall behind."""

from __future__ import annotations

import json
import re
import sys
import textwrap
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from typing import Any

import click

from generator.build import DATA_DIR
from generator.check.schema import SCHEMA_DIR
from generator.cli.freeze import NotFrozen, write_new

WIDTH = 110
_FOLDER = {"record": "records", "practice": "practice"}
# Maps whose keys are not in the schema: one key to show.
_SAMPLE_KEY = ("nominal-voltage", "standard")


@click.command("new")
@click.argument("id")
@click.option("--practice", "schema", flag_value="practice", help="A practice file instead of a chemistry record.")
@click.option("--record", "schema", flag_value="record", default="record", hidden=True)
@click.option("--data", type=click.Path(path_type=Path, file_okay=False, exists=True), default=DATA_DIR, help="The data folder.")
def new_command(id: str, schema: str, data: Path) -> None:
    """Write a commented template for a new chemistry ID; a file that exists is never overwritten."""
    if not re.fullmatch(_id_pattern(), id):
        click.echo(f"'{id}' is no id: lower-case letters, digits and single hyphens, such as lithium-air", err=True)
        sys.exit(1)
    path = data / _FOLDER[schema] / f"{id}.yml"
    try:
        write_new(path, template(schema, id))
    except NotFrozen as error:
        click.echo(str(error).replace("; an edition is never overwritten", "; nothing was written"), err=True)
        sys.exit(1)
    click.echo(f"{path} is ready: fill it in, then run 'python -m generator check'.")


def template(schema: str, id: str) -> str:
    """Return the template: lines of ``##`` explain, lines of ``#`` are keys that may be left out."""
    shape = _schema(schema)
    head = [
        f"# yaml-language-server: $schema=../schema/{schema}.schema.json",
        "## Lines that begin with ## explain and may go. Take the # off a key to use it. Every field: DEVELOPERS.md.",
    ]
    return "\n".join([*head, *_object(shape, 0, {"id": id}, live=True)]) + "\n"


def _object(shape: dict[str, Any], depth: int, known: dict[str, str], *, live: bool) -> Iterator[str]:
    needed = shape.get("required", ())
    for key, child in shape.get("properties", {}).items():
        child = _resolved(child)
        used = live and key in needed
        pad = "  " * depth
        yield from (f"{pad}## {line}" for line in textwrap.wrap(child.get("description", ""), WIDTH - len(pad)))
        yield from _entry(key, child, depth, known.get(key), live=used)
    extra = shape.get("additionalProperties")
    if isinstance(extra, dict):
        key = _SAMPLE_KEY[0] if depth < 2 else _SAMPLE_KEY[1]
        yield from _entry(key, _resolved(extra), depth, None, live=live)


def _entry(key: str, shape: dict[str, Any], depth: int, known: str | None, *, live: bool) -> Iterator[str]:
    mark = "  " * depth if live else f"# {'  ' * depth}"
    kind = shape.get("type")
    if kind == "object":
        yield f"{mark}{key}:"
        yield from _object(shape, depth + 1, {}, live=live)
    elif kind == "array" and _resolved(shape["items"]).get("type") == "object":
        yield f"{mark}{key}:"
        yield from _first_item(list(_object(_resolved(shape["items"]), depth + 2, {}, live=live)))
    else:
        yield f"{mark}{key}: {known or _placeholder(shape)}"


def _first_item(lines: list[str]) -> Iterator[str]:
    """Put the dash of a list before the first key that stands there, live or not."""
    dashed = False
    for line in lines:
        if not dashed and not line.lstrip().startswith("##"):
            dashed = True
            line = re.sub(r"  (?=\w)", "- ", line, count=1)
        yield line


def _placeholder(shape: dict[str, Any]) -> str:
    if "enum" in shape:
        return str(shape["enum"][0])
    kind = shape.get("type")
    if kind == "array":
        return f"[{_placeholder(_resolved(shape['items']))}]"
    if isinstance(kind, list):
        return "null"
    if kind == "string":
        return "some-id" if str(shape.get("pattern", "")).startswith("^[a-z0-9]") else "TO DO"
    return {"boolean": "true", "integer": "1", "number": "0"}[str(kind)]


def _resolved(shape: dict[str, Any]) -> dict[str, Any]:
    """Return the shape a ``$ref`` leads to, with the description that stands beside the reference."""
    if "$ref" not in shape:
        return shape
    file, _, name = shape["$ref"].partition("#/$defs/")
    return {**_schema(file.removesuffix(".schema.json") or "common")["$defs"][name], **{k: v for k, v in shape.items() if k != "$ref"}}


@cache
def _schema(name: str) -> dict[str, Any]:
    return json.loads((SCHEMA_DIR / f"{name}.schema.json").read_text("utf-8"))


def _id_pattern() -> str:
    return _schema("common")["$defs"]["id"]["pattern"]
