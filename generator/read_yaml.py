"""YAML text to plain data and marks in one pass over the parser's events.

YAML is read with JSON's types only: ``null``, ``true``/``false``, JSON numbers and text. Everything else that YAML
would silently convert (``no``, ``010``, dates, ``12:30``, ``.nan``) stays the text the author typed, so that the schema
can refuse it by name. Aliases, anchors, tags, duplicate keys and several documents in one file are refused: they hide
what a record says.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Any, NamedTuple

import yaml
from yaml.events import AliasEvent, DocumentStartEvent, MappingEndEvent, MappingStartEvent, ScalarEvent, SequenceEndEvent, SequenceStartEvent, StreamEndEvent

MAX_DEPTH = 24

Path_ = tuple[str | int, ...]

# The C parser reads the same language ten times faster; it is part of PyYAML's wheels but not of every build.
_Loader = getattr(yaml, "CSafeLoader", yaml.SafeLoader)
_NULL = frozenset({"null", "~", ""})
_BOOLEAN = {"true": True, "false": False}
_INTEGER = re.compile(r"-?(?:0|[1-9][0-9]*)\Z")
_NUMBER = re.compile(r"-?(?:0|[1-9][0-9]*)(?:\.[0-9]+)?(?:[eE][-+]?[0-9]+)?\Z")
_MAX_DIGITS = 40


class Mark(NamedTuple):
    """Where something stands in its file, counted from 1."""

    line: int
    column: int


Marks = dict[Path_, Mark]


class Unreadable(Exception):
    """The text cannot be read; ``at`` is (mark, id, message, hint)."""

    def __init__(self, mark: Mark, id: str, message: str, hint: str) -> None:
        self.at = (mark, id, message, hint)
        super().__init__(message)


def plain_data(text: str) -> tuple[Any, Marks, Marks]:
    """Return (data, marks of values, marks of keys). Raises Unreadable, or yaml.YAMLError for what is not YAML."""
    events = yaml.parse(text, Loader=_Loader)
    values: Marks = {}
    keys: Marks = {}
    next(events)  # the stream's start
    if isinstance(next(events), StreamEndEvent):
        raise Unreadable(Mark(1, 1), "empty-file", "the file is empty", "See DEVELOPERS.md for a template.")
    data = _node(next(events), events, (), values, keys)
    next(events)  # the document's end
    after = next(events)
    if isinstance(after, DocumentStartEvent):
        raise Unreadable(_mark(after), "several-documents", "a second document begins here", "Keep one document a file.")
    return data, values, keys


def _mark(event: yaml.Event) -> Mark:
    start = event.start_mark
    return Mark(start.line + 1, start.column + 1)


def _node(event: yaml.Event, events: Iterator[yaml.Event], path: Path_, values: Marks, keys: Marks) -> Any:
    mark = values[path] = _mark(event)
    _refuse_hidden_meaning(event, mark)
    if isinstance(event, ScalarEvent):
        # Quoted or block text is text, whatever it looks like.
        return event.value if event.style else plain_scalar(event.value)
    if len(path) >= MAX_DEPTH:
        raise Unreadable(mark, "too-deep", f"nested deeper than {MAX_DEPTH} levels", "Flatten it.")
    if isinstance(event, MappingStartEvent):
        return _mapping(events, path, values, keys)
    assert isinstance(event, SequenceStartEvent)
    return _sequence(events, path, values, keys)


def _mapping(events: Iterator[yaml.Event], path: Path_, values: Marks, keys: Marks) -> dict[str, Any]:
    data: dict[str, Any] = {}
    for event in events:
        if isinstance(event, MappingEndEvent):
            return data
        at = _mark(event)
        _refuse_hidden_meaning(event, at)
        if not isinstance(event, ScalarEvent):
            raise Unreadable(at, "key-not-text", "a key must be plain text", "Quote the key or check the indentation.")
        key, where = event.value, (*path, event.value)
        first = keys.get(where)
        if first is not None:
            raise Unreadable(at, "duplicate-key", f"duplicate key '{key}' (first on line {first.line})", "Keep one of the two.")
        keys[where] = at
        data[key] = _node(next(events), events, where, values, keys)
    raise AssertionError("the parser ends every mapping")


def _sequence(events: Iterator[yaml.Event], path: Path_, values: Marks, keys: Marks) -> list[Any]:
    data: list[Any] = []
    for event in events:
        if isinstance(event, SequenceEndEvent):
            return data
        data.append(_node(event, events, (*path, len(data)), values, keys))
    raise AssertionError("the parser ends every sequence")


def _refuse_hidden_meaning(event: yaml.Event, mark: Mark) -> None:
    if isinstance(event, AliasEvent):
        raise Unreadable(mark, "alias", f"aliases such as '*{event.anchor}' are not allowed", "Write the value out.")
    if event.anchor:
        raise Unreadable(mark, "anchor", f"anchors such as '&{event.anchor}' are not allowed", "Remove it.")
    if event.tag:
        raise Unreadable(mark, "tag", "tags such as '!!str' are not allowed", "Quote text, leave numbers plain.")


def plain_scalar(text: str) -> None | bool | int | float | str:
    """Return an unquoted word as the JSON value it is, or as the text it stays."""
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
