"""Shape: every document against its JSON Schema, with the place of each fault."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from functools import cache, lru_cache
from pathlib import Path
from typing import Any

import jsonschema

from generator.cache import key_of
from generator.problem import Problem, nearest
from generator.read import Document

# Which schema a document has, by its name below the data folder.
SCHEMA_OF = (
    (re.compile(r"records/.*"), "record"),
    (re.compile(r"practice/.*"), "practice"),
    (re.compile(r"cells/.*"), "cell"),
    (re.compile(r"designations/.*"), "designation"),
    (re.compile(r"(quantities|sources|retired|labels|sizes)\.yml"), None),
)

SCHEMA_DIR = Path(__file__).resolve().parents[2] / "chemistry" / "schema"


def schema_name(name: str) -> str:
    """Return the schema's name for a document such as ``records/lfp.yml``."""
    for pattern, schema in SCHEMA_OF:
        if pattern.fullmatch(name):
            return schema or name.removesuffix(".yml")
    raise KeyError(name)


@cache
def _validator(schema: str) -> jsonschema.Draft202012Validator:
    # References are written out first: looking them up for every value costs more than the validation itself.
    return jsonschema.Draft202012Validator(_written_out(_content(f"{schema}.schema.json"), f"{schema}.schema.json"))


@cache
def _content(file: str) -> Any:
    return json.loads((SCHEMA_DIR / file).read_text("utf-8"))


def _written_out(schema: Any, file: str) -> Any:
    """Return a schema with each $ref replaced by what it names; keys beside the $ref win. Our schemas do not recurse."""
    if isinstance(schema, list):
        return [_written_out(item, file) for item in schema]
    if not isinstance(schema, dict):
        return schema
    own = {key: _written_out(value, file) for key, value in schema.items() if key not in ("$ref", "$defs")}
    if "$ref" not in schema:
        return own
    there, _, pointer = schema["$ref"].partition("#")
    named = _content(there or file)
    for step in pointer.strip("/").split("/"):
        named = named[step]
    return {**_written_out(named, there or file), **own}


@cache
def schemas_digest() -> str:
    """Return the hash of every schema and of this module, which reads their faults."""
    paths = (*sorted(SCHEMA_DIR.glob("*.json")), Path(__file__))
    return key_of(*(part for path in paths for part in (path.name, path.read_bytes())))


@lru_cache(maxsize=256)  # a document is read once for the same bytes, so the same document has the same faults
def check_shape(name: str, document: Document) -> tuple[Problem, ...]:
    """Return every fault of one document's shape; ``name`` is its place below the data folder."""
    errors = _validator(schema_name(name)).iter_errors(document.data)
    return tuple(problem for error in errors for problem in _problems(document, error))


def _problems(document: Document, error: jsonschema.ValidationError) -> Iterator[Problem]:
    path = tuple(error.absolute_path)
    reader = _READERS.get(error.validator)
    if reader is not None:
        yield from reader(document, error, path)
        return
    yield document.problem(path, "schema", f"{_shown(error.instance)} is not allowed here: {error.message[:200]}", _described(error))


def _unknown_keys(document: Document, error: jsonschema.ValidationError, path: tuple) -> Iterator[Problem]:
    known = error.schema.get("properties", {})
    for key in error.instance:
        if key not in known:
            hint = nearest(key, known) or f"Known here: {', '.join(sorted(known))}."
            yield document.problem((*path, key), "unknown-key", f"unknown key '{_short(key)}'", hint, at_key=True)


def _missing_key(document: Document, error: jsonschema.ValidationError, path: tuple) -> Iterator[Problem]:
    for key in error.validator_value:
        if key not in error.instance and f"'{key}' is a required" in error.message:
            described = _resolve(error.schema.get("properties", {}).get(key, {}))
            yield document.problem(path, "missing-key", f"the key '{key}' is missing", described)


def _wrong_word(document: Document, error: jsonschema.ValidationError, path: tuple) -> Iterator[Problem]:
    allowed = [str(word) for word in error.validator_value]
    hint = nearest(error.instance, allowed) or f"Allowed: {', '.join(allowed)}."
    yield document.problem(path, "unknown-word", f"{_shown(error.instance)} is not one of the allowed words", hint)


def _wrong_type(document: Document, error: jsonschema.ValidationError, path: tuple) -> Iterator[Problem]:
    wanted = error.validator_value if isinstance(error.validator_value, str) else " or ".join(error.validator_value)
    words = {"number": "a number", "integer": "a whole number", "string": "text (quote it)", "boolean": "true or false", "object": "a mapping of keys", "array": "a list", "number or null": "a number or null"}
    message = f"{_shown(error.instance)} is not {words.get(wanted, wanted)}"
    yield document.problem(path, "wrong-type", message, _described(error))


def _wrong_pattern(document: Document, error: jsonschema.ValidationError, path: tuple) -> Iterator[Problem]:
    name_of_key = isinstance(error.instance, str) and "propertyNames" in error.absolute_schema_path
    where = (*path, error.instance) if name_of_key else path
    yield document.problem(where, "wrong-form", f"{_shown(error.instance)} does not have the form {error.validator_value}", _described(error), at_key=name_of_key)


_READERS = {
    "additionalProperties": _unknown_keys,
    "required": _missing_key,
    "enum": _wrong_word,
    "type": _wrong_type,
    "pattern": _wrong_pattern,
}


def _described(error: jsonschema.ValidationError) -> str:
    return str(error.schema.get("description", "")) if isinstance(error.schema, dict) else ""


def _resolve(schema: dict[str, Any]) -> str:
    return str(schema.get("description", ""))


def _shown(instance: Any) -> str:
    if isinstance(instance, (dict, list)):
        return "a mapping" if isinstance(instance, dict) else "a list"
    if instance is None:
        return "null"
    return f"'{_short(instance)}'" if isinstance(instance, str) else _short(instance)


def _short(instance: Any) -> str:
    text = str(instance)
    return text if len(text) <= 60 else f"{text[:57]}..."
