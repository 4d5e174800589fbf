"""Text to plain data, with the position of every key and value.

YAML is read with JSON's types only: ``null``, ``true``/``false``, JSON numbers and text. Everything else
that YAML would silently convert (``no``, ``010``, dates, ``12:30``, ``.nan``) stays the text the author typed,
so that the schema can refuse it by name. Aliases, anchors, tags, duplicate keys and several documents in one
file are refused: they hide what a record says.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import yaml

from generator.problem import Problem

MAX_BYTES = 512 * 1024
MAX_DEPTH = 24

Path_ = tuple[str | int, ...]

_NULL = frozenset({"null", "~", ""})
_BOOLEAN = {"true": True, "false": False}
_INTEGER = re.compile(r"-?(?:0|[1-9][0-9]*)\Z")
_NUMBER = re.compile(r"-?(?:0|[1-9][0-9]*)(?:\.[0-9]+)?(?:[eE][-+]?[0-9]+)?\Z")
_CONTROL = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\x7f\u200e\u200f\u202a-\u202e\u2066-\u2069\ufeff]")
_MAX_DIGITS = 40


@dataclass(frozen=True, slots=True)
class Mark:
    """Where something stands in its file, counted from 1."""

    line: int
    column: int


@dataclass(frozen=True, slots=True)
class Document:
    """One file read: its name, its plain data and where everything stands.

    ``values`` and ``keys`` map a path such as ``("values", "nominal-voltage", 0, "unit")`` to its Mark.
    ``problems`` is not empty when the text could not be read; ``data`` is then None.
    """

    name: str
    data: Any
    values: Mapping[Path_, Mark] = field(default_factory=dict)
    keys: Mapping[Path_, Mark] = field(default_factory=dict)
    problems: tuple[Problem, ...] = ()

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


class _Unreadable(Exception):
    def __init__(self, mark: Mark, id: str, message: str, hint: str) -> None:
        self.at = (mark, id, message, hint)
        super().__init__(message)


def read_file(path: Path, name: str) -> Document:
    """Read one file from disk; ``name`` is how problems call it."""
    try:
        if path.stat().st_size > MAX_BYTES:
            return _refused(name, Mark(1, 1), "file-too-large", f"the file is larger than {MAX_BYTES} bytes", "Split it.")
        raw = path.read_bytes()
    except OSError as error:
        return _refused(name, Mark(1, 1), "file-unreadable", f"the file cannot be read: {error.strerror}", "Check its permissions.")
    return read_bytes(raw, name)


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
    return read_text(text, name)


def read_text(text: str, name: str) -> Document:
    """Read YAML text into a Document; never raises for what the text holds."""
    hidden = _CONTROL.search(text)
    if hidden:
        line = text.count("\n", 0, hidden.start()) + 1
        column = hidden.start() - (text.rfind("\n", 0, hidden.start()) + 1) + 1
        code = f"U+{ord(hidden.group()):04X}"
        return _refused(name, Mark(line, column), "hidden-character", f"the character {code} is invisible and not allowed", "Remove it.")
    try:
        node = _compose(text)
        if node is None:
            raise _Unreadable(Mark(1, 1), "empty-file", "the file is empty", "See DEVELOPERS.md for a template.")
        values: dict[Path_, Mark] = {}
        keys: dict[Path_, Mark] = {}
        data = _plain(node, (), values, keys)
    except _Unreadable as error:
        return _refused(name, *error.at)
    except yaml.MarkedYAMLError as error:
        # A quote that is never closed is found at the end of the file; where it began is the place to look.
        at_end = "end of stream" in str(error.problem) and error.context_mark is not None
        at = error.context_mark if at_end else error.problem_mark or error.context_mark
        mark = Mark(at.line + 1, at.column + 1) if at else Mark(1, 1)
        return _refused(name, mark, "yaml-syntax", f"not valid YAML: {error.problem or error.context}", "Check indentation and quotes.")
    except yaml.YAMLError as error:
        return _refused(name, Mark(1, 1), "yaml-syntax", f"not valid YAML: {str(error).splitlines()[0]}", "Check the text.")
    except RecursionError:
        return _refused(name, Mark(1, 1), "too-deep", f"nested deeper than {MAX_DEPTH} levels", "Flatten it.")
    return Document(name, data, values, keys)


def _refused(name: str, mark: Mark, id: str, message: str, hint: str) -> Document:
    return Document(name, None, problems=(Problem(name, mark.line, mark.column, id, message, hint),))


# The C parser reads the same language ten times faster; it is part of PyYAML's wheels but not of every build.
_Base = getattr(yaml, "CSafeLoader", yaml.SafeLoader)


def _compose(text: str) -> yaml.Node | None:
    """Return the node tree after refusing what JSON does not have: anchors, aliases, tags, second documents."""
    depth = documents = 0
    for event in yaml.parse(text, Loader=_Base):
        at = Mark(event.start_mark.line + 1, event.start_mark.column + 1)
        if isinstance(event, yaml.DocumentStartEvent):
            documents += 1
            if documents > 1:
                raise _Unreadable(at, "several-documents", "a second document begins here", "Keep one document a file.")
        if isinstance(event, yaml.AliasEvent):
            raise _Unreadable(at, "alias", f"aliases such as '*{event.anchor}' are not allowed", "Write the value out.")
        if getattr(event, "anchor", None):
            raise _Unreadable(at, "anchor", f"anchors such as '&{event.anchor}' are not allowed", "Remove it.")
        if getattr(event, "tag", None):
            raise _Unreadable(at, "tag", "tags such as '!!str' are not allowed", "Quote text, leave numbers plain.")
        if isinstance(event, yaml.CollectionStartEvent):
            depth += 1
            if depth > MAX_DEPTH:
                raise _Unreadable(at, "too-deep", f"nested deeper than {MAX_DEPTH} levels", "Flatten it.")
        elif isinstance(event, yaml.CollectionEndEvent):
            depth -= 1
    return yaml.compose(text, Loader=_Base)


def _plain(node: yaml.Node, path: Path_, values: dict[Path_, Mark], keys: dict[Path_, Mark]) -> Any:
    values[path] = Mark(node.start_mark.line + 1, node.start_mark.column + 1)
    if isinstance(node, yaml.MappingNode):
        return {key: _plain(child, (*path, key), values, keys) for key, child in _entries(node, path, keys)}
    if isinstance(node, yaml.SequenceNode):
        return [_plain(child, (*path, index), values, keys) for index, child in enumerate(node.value)]
    return _scalar(node)


def _entries(node: yaml.MappingNode, path: Path_, keys: dict[Path_, Mark]) -> Iterator[tuple[str, yaml.Node]]:
    for key_node, child in node.value:
        at = Mark(key_node.start_mark.line + 1, key_node.start_mark.column + 1)
        if not isinstance(key_node, yaml.ScalarNode):
            raise _Unreadable(at, "key-not-text", "a key must be plain text", "Quote the key or check the indentation.")
        key = key_node.value
        first = keys.get((*path, key))
        if first is not None:
            raise _Unreadable(at, "duplicate-key", f"duplicate key '{key}' (first on line {first.line})", "Keep one of the two.")
        keys[(*path, key)] = at
        yield key, child


def _scalar(node: yaml.ScalarNode) -> None | bool | int | float | str:
    text = node.value
    if node.style:  # quoted or block text is text, whatever it looks like
        return text
    if text in _NULL:
        return None
    if text in _BOOLEAN:
        return _BOOLEAN[text]
    if len(text) > _MAX_DIGITS:
        return text
    if _INTEGER.match(text):
        return int(text)
    if _NUMBER.match(text):
        number = float(text)
        # 1e999 overflows to infinity, which JSON cannot say: it stays text and the schema refuses it.
        return number if number not in (float("inf"), float("-inf")) else text
    return text
