"""Files to plain data, with the position of every key and value.

What cannot be read is a Document with problems, never an exception. How YAML is understood is in read_yaml.
"""

from __future__ import annotations

import hashlib
import re
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from functools import lru_cache
from pathlib import Path
from typing import Any

import yaml

from generator.problem import Problem
from generator.read_yaml import Mark, Path_, Unreadable, plain_data

MAX_BYTES = 512 * 1024

_CONTROL = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\x7f\u200e\u200f\u202a-\u202e\u2066-\u2069\ufeff]")


@dataclass(frozen=True, slots=True, eq=False)
class Document:
    """One file read: its name, its plain data and where everything stands.

    ``values`` and ``keys`` map a path such as ``("values", "nominal-voltage", 0, "unit")`` to its Mark.
    ``problems`` is not empty when the text could not be read; ``data`` is then None. ``digest`` is the hash of the bytes.
    """

    name: str
    data: Any
    values: Mapping[Path_, Mark] = field(default_factory=dict)
    keys: Mapping[Path_, Mark] = field(default_factory=dict)
    problems: tuple[Problem, ...] = ()
    digest: str = ""

    def mark(self, path: Path_) -> Mark:
        """Return the position of the value at ``path``, or of its nearest known ancestor."""
        for end in range(len(path), -1, -1):
            found = self.values.get(tuple(path[:end]))
            if found is not None:
                return found
        return Mark(1, 1)

    def key_mark(self, path: Path_) -> Mark:
        """Return the position of the key at ``path``, or of the nearest known place."""
        return self.keys.get(tuple(path)) or self.mark(path)

    def problem(self, path: Path_, id: str, message: str, hint: str = "", *, at_key: bool = False) -> Problem:
        """Return a Problem that points at ``path`` in this file."""
        mark = self.key_mark(path) if at_key else self.mark(path)
        return Problem(self.name, mark.line, mark.column, id, message, hint)


def read_file(path: Path, name: str) -> Document:
    """Read one file from disk; ``name`` is how problems call it."""
    try:
        if path.stat().st_size > MAX_BYTES:
            return _refused(name, Mark(1, 1), "file-too-large", f"the file is larger than {MAX_BYTES} bytes", "Split it.")
        raw = path.read_bytes()
    except OSError as error:
        return _refused(name, Mark(1, 1), "file-unreadable", f"the file cannot be read: {error.strerror}", "Check its permissions.")
    return read_bytes(raw, name)


@lru_cache(maxsize=256)  # an author's edit changes one file of many; the others need not be read again
def read_bytes(raw: bytes, name: str) -> Document:
    """Read UTF-8 bytes; any other encoding, a NUL or a hidden control character is refused with its place."""
    if len(raw) > MAX_BYTES:
        return _refused(name, Mark(1, 1), "file-too-large", f"the file is larger than {MAX_BYTES} bytes", "Split it.")
    try:
        text = raw.decode("utf-8")
    except UnicodeDecodeError as error:
        line = raw.count(b"\n", 0, error.start) + 1
        column = error.start - (raw.rfind(b"\n", 0, error.start) + 1) + 1
        return _refused(name, Mark(line, column), "not-utf-8", "the file is not UTF-8 text", "Save it as UTF-8 without a byte-order mark.")
    return replace(read_text(text, name), digest=hashlib.sha256(raw).hexdigest())


def read_text(text: str, name: str) -> Document:
    """Read YAML text into a Document; never raises for what the text holds."""
    hidden = _CONTROL.search(text)
    if hidden:
        line = text.count("\n", 0, hidden.start()) + 1
        column = hidden.start() - (text.rfind("\n", 0, hidden.start()) + 1) + 1
        code = f"U+{ord(hidden.group()):04X}"
        return _refused(name, Mark(line, column), "hidden-character", f"the character {code} is invisible and not allowed", "Remove it.")
    try:
        data, values, keys = plain_data(text)
    except Unreadable as error:
        return _refused(name, *error.at)
    except yaml.MarkedYAMLError as error:
        # A quote that is never closed is found at the end of the file; where it began is the place to look.
        at_end = "end of stream" in str(error.problem) and error.context_mark is not None
        at = error.context_mark if at_end else error.problem_mark or error.context_mark
        mark = Mark(at.line + 1, at.column + 1) if at else Mark(1, 1)
        return _refused(name, mark, "yaml-syntax", f"not valid YAML: {error.problem or error.context}", "Check indentation and quotes.")
    except yaml.YAMLError as error:
        return _refused(name, Mark(1, 1), "yaml-syntax", f"not valid YAML: {str(error).splitlines()[0]}", "Check the text.")
    return Document(name, data, values, keys)


def _refused(name: str, mark: Mark, id: str, message: str, hint: str) -> Document:
    return Document(name, None, problems=(Problem(name, mark.line, mark.column, id, message, hint),))
