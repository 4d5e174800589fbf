"""The published JSON Schemas, and the promise that every JSON export keeps its own."""

from __future__ import annotations

import json
from collections.abc import Mapping
from functools import cache as cache_once
from pathlib import Path
from typing import Any

import jsonschema
from referencing import Registry, Resource

from generator.address import SITE

SCHEMA_DIR = Path(__file__).resolve().parents[2] / "chemistry" / "schema"
BASE = f"{SITE}data/v1/schema/"


class NotAsPublished(Exception):
    """An export does not have the shape its published schema promises."""


@cache_once
def published() -> Mapping[str, Mapping[str, Any]]:
    """Return every schema by file name, with its absolute ``$id`` under the site's address."""
    made = {}
    for path in sorted(SCHEMA_DIR.glob("*.schema.json")):
        made[path.name] = {**json.loads(path.read_text("utf-8")), "$id": f"{BASE}{path.name}"}
    return made


@cache_once
def _validator(name: str) -> jsonschema.Draft202012Validator:
    registry = Registry().with_resources((f"{BASE}{file}", Resource.from_contents(body)) for file, body in published().items())
    return jsonschema.Draft202012Validator(published()[name], registry=registry)


def checked(path: str, data: Any, schema: str, *, compact: bool = False) -> str:
    """Return ``data`` as JSON text; raises NotAsPublished when it does not keep ``schema`` (a file name)."""
    error = next(_validator(schema).iter_errors(data), None)
    if error is not None:
        place = "/".join(str(step) for step in error.absolute_path)
        raise NotAsPublished(f"{path} does not keep {schema}: at '{place}': {error.message[:300]}")
    return json_text(data, compact=compact)


def json_text(data: Any, *, compact: bool = False) -> str:
    """Return JSON text for a file: indented by one space, or compact where pages fetch it; NaN is refused."""
    layout = {"separators": (",", ":")} if compact else {"indent": 1}
    return json.dumps(data, ensure_ascii=False, allow_nan=False, **layout) + "\n"
