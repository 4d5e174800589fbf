"""``fields``: the tables of DEVELOPERS.md that say what every field of the data means, made from the schemas."""

from __future__ import annotations

import json
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from typing import Any

import click

from generator.check.schema import SCHEMA_DIR

# Schemas that every contributor writes against, in the order they are met; the others are printed by name.
_SCHEMAS = ("record", "practice", "common", "quantities", "sources", "retired")
_OTHERS = ("cell", "labels", "sizes", "designation")
BEGIN, END = "<!-- fields: made by `python -m generator fields`, held by a test -->", "<!-- /fields -->"


@click.command("fields")
@click.argument("schemas", nargs=-1, type=click.Choice(_SCHEMAS + _OTHERS))
@click.option("--into", type=click.Path(path_type=Path, dir_okay=False, exists=True), help="Replace the tables between the marks of this file.")
def fields_command(schemas: tuple[str, ...], into: Path | None) -> None:
    """Print the fields of SCHEMAS as Markdown tables; without names those of DEVELOPERS.md, or put them in their place."""
    if into is None:
        click.echo("\n".join(text for name in schemas for text in _tables(name)) if schemas else field_tables(), nl=False)
        return
    text = into.read_text("utf-8")
    if text.count(BEGIN) != 1 or text.count(END) != 1:
        raise click.ClickException(f"{into} does not hold the two marks once each:\n{BEGIN}\n{END}")
    before, after = text.split(BEGIN)[0], text.split(END)[1]
    into.write_text(f"{before}{field_tables().rstrip()}{after}", "utf-8")


def field_tables() -> str:
    """Return the tables as Markdown between the two marks that DEVELOPERS.md has."""
    tables = [text for name in _SCHEMAS for text in _tables(name)]
    others = f"Fields of the other files: `python -m generator fields NAME`, with NAME one of {', '.join(_OTHERS)}.\n"
    return "\n".join([BEGIN, "", *tables, others, END, ""])


def _tables(name: str) -> Iterator[str]:
    for title, shape in _objects(_schema(name), name):
        rows = [_row(key, child, key in shape.get("required", ())) for key, child in shape["properties"].items()]
        head = ["| Field | Type | Needed | Meaning |", "|---|---|---|---|"]
        yield "\n".join([f"#### {title}", "", shape.get("description", ""), "", *head, *rows, ""])


def _objects(shape: Any, title: str) -> Iterator[tuple[str, dict[str, Any]]]:
    """Yield every object with properties, the outermost first, with the way to it as its title."""
    if not isinstance(shape, dict):
        return
    if "properties" in shape:
        yield title, shape
        for key, child in shape["properties"].items():
            yield from _objects(child, f"{title}.{key}")
    for inner in ("items", "additionalProperties"):
        yield from _objects(shape.get(inner), title)
    for key, child in shape.get("$defs", {}).items():
        yield from _objects(child, f"{title}.{key}" if title != "common" else key)


def _row(key: str, shape: dict[str, Any], needed: bool) -> str:
    return f"| `{key}` | {_type(shape)} | {'yes' if needed else ''} | {_cell(_meaning(shape))} |"


def _type(shape: dict[str, Any]) -> str:
    if "$ref" in shape:
        return shape["$ref"].rsplit("/", 1)[1]
    if "enum" in shape:
        return "one of " + ", ".join(f"`{word}`" for word in shape["enum"])
    kind = shape.get("type", "")
    name = " or ".join(kind) if isinstance(kind, list) else kind
    return f"list of {_type(shape['items'])}" if name == "array" else name


def _meaning(shape: dict[str, Any]) -> str:
    if "description" in shape or "$ref" not in shape:
        return shape.get("description", "")
    name = shape["$ref"].rsplit("/", 1)[1]
    return _schema("common")["$defs"].get(name, {}).get("description", "")


@cache
def _schema(name: str) -> dict[str, Any]:
    return json.loads((SCHEMA_DIR / f"{name}.schema.json").read_text("utf-8"))


def _cell(text: str) -> str:
    return text.replace("|", "\\|").replace("\n", " ")
