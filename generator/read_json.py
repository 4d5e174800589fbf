"""A frozen edition's JSON to plain data. What the generator itself once wrote is still read with suspicion."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

from generator.problem import Problem
from generator.read import Document, Mark

MAX_BYTES = 16 * 1024 * 1024


def read_json_file(path: Path, name: str) -> Document:
    """Read one JSON file from disk; a file that cannot be read carries its problem, with its place."""
    try:
        if path.stat().st_size > MAX_BYTES:
            return _refused(name, 1, 1, "file-too-large", f"the file is larger than {MAX_BYTES} bytes")
        return read_json(path.read_bytes(), name)
    except OSError as error:
        return _refused(name, 1, 1, "file-unreadable", f"the file cannot be read: {error.strerror}")


def read_json(raw: bytes, name: str) -> Document:
    """Read UTF-8 JSON; duplicate keys, NaN and Infinity are refused."""
    try:
        data = json.loads(raw.decode("utf-8"), object_pairs_hook=_object, parse_constant=_constant)
    except UnicodeDecodeError:
        return _refused(name, 1, 1, "not-utf-8", "the file is not UTF-8 text")
    except json.JSONDecodeError as error:
        return _refused(name, error.lineno, error.colno, "json-syntax", f"not valid JSON: {error.msg}")
    except (ValueError, RecursionError) as error:
        return _refused(name, 1, 1, "json-syntax", f"not valid JSON: {error}")
    return Document(name, data, {(): Mark(1, 1)})


def _object(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    made = dict(pairs)
    if len(made) != len(pairs):
        raise ValueError("a key stands twice in one object")
    return made


def _constant(word: str) -> None:
    raise ValueError(f"{word} is not a number")


def _refused(name: str, line: int, column: int, id: str, message: str) -> Document:
    hint = "An edition is written by 'python -m generator freeze' and never edited: restore the file."
    return Document(name, None, problems=(Problem(name, line, column, id, message, hint),))
