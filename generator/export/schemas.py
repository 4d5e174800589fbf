"""The published JSON Schemas, and the promise that every JSON export keeps its own."""

from __future__ import annotations

import json
from collections.abc import Mapping
from functools import cache as cache_once
from importlib.metadata import version
from pathlib import Path
from typing import Any

import jsonschema
from referencing import Registry, Resource

from generator.address import SITE
from generator.cache import NO_CACHE, Cache, key_of

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


def checked(path: str, data: Any, schema: str, *, compact: bool = False, cache: Cache = NO_CACHE) -> str:
    """Return ``data`` as JSON text; raises NotAsPublished when it does not keep ``schema`` (a file name).

    The same text against the same schema is checked once: ``cache`` remembers what passed.
    """
    text = json_text(data, compact=compact)
    cache.get_or_make(key_of("keeps", schema, _digest_of_schemas(), version("jsonschema"), text), lambda: _check(path, data, schema))
    return text


def _check(path: str, data: Any, schema: str) -> bytes:
    error = next(_validator(schema).iter_errors(data), None)
    if error is not None:
        place = "/".join(str(step) for step in error.absolute_path)
        raise NotAsPublished(f"{path} does not keep {schema}: at '{place}': {error.message[:300]}")
    return b"kept"


@cache_once
def _digest_of_schemas() -> str:
    return key_of(*(json_text(schema) for schema in published().values()))


def json_text(data: Any, *, compact: bool = False) -> str:
    """Return JSON text for a file: indented by one space, or compact where pages fetch it; NaN is refused."""
    layout = {"separators": (",", ":")} if compact else {"indent": 1}
    return json.dumps(data, ensure_ascii=False, allow_nan=False, **layout) + "\n"
