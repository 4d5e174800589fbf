"""Statements outside records, in labels, sizes and designations, say where they come from by the same rules as values."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from generator.problem import Problem
from generator.read import Document

Path_ = tuple[str | int, ...]


def graded(data: Any, path: Path_ = ()) -> Iterator[tuple[Path_, Mapping[str, Any]]]:
    """Yield (path, item) for every mapping with a grade anywhere in a document's data."""
    if isinstance(data, dict):
        if "grade" in data:
            yield path, data
        for key, child in data.items():
            yield from graded(child, (*path, key))
    elif isinstance(data, list):
        for index, child in enumerate(data):
            yield from graded(child, (*path, index))


def evidence_problems(document: Document, id: str) -> Iterator[Problem]:
    """Yield, as problems of rule ``id``, what is wrong with the evidence of one document: source, place in it, working."""
    for path, item in graded(document.data):
        grade, source = item["grade"], item.get("source")
        if source is None and grade not in ("practice", "recalled"):
            yield document.problem(path, id, f"a statement graded '{grade}' needs a source", "Name it, or grade it practice or recalled if that is the truth.")
        if source is not None and grade == "practice":
            yield document.problem(path, id, "common practice has no published source, but one is named", "Grade it read or reported, or remove the source.")
        if source is not None and grade != "recalled" and not item.get("locator"):
            yield document.problem(path, id, "the statement does not say where in its source it stands", "Add locator: page, table, clause or row.")
        if (grade == "derived") != bool(item.get("working")):
            message = "a derived statement does not show its working" if grade == "derived" else "only a derived statement has a working"
            yield document.problem(path, id, message, "Working and grade derived belong together.")


def chemistries_named(data: Any, path: Path_ = ()) -> Iterator[tuple[Path_, str]]:
    """Yield (path, id) for every chemistry named in a list under ``chemistries``."""
    if isinstance(data, dict):
        for key, child in data.items():
            if key == "chemistries" and isinstance(child, list):
                yield from (((*path, key, index), id) for index, id in enumerate(child))
            else:
                yield from chemistries_named(child, (*path, key))
    elif isinstance(data, list):
        for index, child in enumerate(data):
            yield from chemistries_named(child, (*path, index))
