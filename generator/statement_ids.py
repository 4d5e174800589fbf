"""Ids of sourced statements outside subjects: printed pack voltages, cell sizes and remarks on markings.

They have three parts like the ids of values: ``label.10-8-v.KEY``, ``label.rounded.KEY``, ``size.18650.KEY``,
``marking.iec-61960.KEY``. Where one is answered follows from the id alone, also when it is retired.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from typing import Any

from generator.read import Path_
from generator.tree import Tree

# First part of the id, with the page that answers and where the data stand: names no record may have.
COLLECTIONS = {"label": "labels/", "size": "sizes/", "marking": "markings/"}
STATEMENT_FILES = {"label": "labels.yml", "size": "sizes.yml", "marking": "designations/"}
ROUNDED = "rounded"


def label_id(volts: float, key: str) -> str:
    """Return the id of a recorded label: volts and its own key."""
    return f"label.{f'{volts:g}'.replace('.', '-')}-v.{key}"


def rounded_id(key: str) -> str:
    """Return the id of a rounded highest voltage per cell."""
    return f"label.{ROUNDED}.{key}"


def size_id(size: str, key: str) -> str:
    """Return the id of what one source says of one size."""
    return f"size.{size}.{key}"


def marking_id(designation: str, key: str) -> str:
    """Return the id of a remark on one way of marking."""
    return f"marking.{designation}.{key}"


def statement_address(id: str) -> str:
    """Return page and anchor of a statement from the site's root; KeyError for the id of a subject's item."""
    collection, group, key = id.split(".")
    page = COLLECTIONS[collection]
    if collection == "label" and group != ROUNDED:
        volts = re.sub("([0-9])-([0-9])", r"\1.\2", group)
        return f"{page}{volts}/#{key}"
    return f"{page}#{group}.{key}"


def statement_ids(tree: Tree) -> Iterator[tuple[str, str, Path_, Mapping[str, Any]]]:
    """Yield (id, name of the document in the tree, path in it, item) of every statement, in the order of the files."""
    if "labels.yml" in tree.documents:
        data = tree.documents["labels.yml"].data
        yield from ((label_id(item["volts"], item["id"]), "labels.yml", ("labels", n), item) for n, item in enumerate(data["labels"]))
        yield from ((rounded_id(item["id"]), "labels.yml", ("rounded_full", n), item) for n, item in enumerate(data["rounded_full"]))
    if "sizes.yml" in tree.documents:
        for place, size in enumerate(tree.documents["sizes.yml"].data["sizes"]):
            yield from ((size_id(size["id"], f["key"]), "sizes.yml", ("sizes", place, "figures", n), f) for n, f in enumerate(size["figures"]))
    for document in tree.folder("designations"):
        name = f"designations/{document.name.rpartition('/')[2]}"
        yield from ((marking_id(document.data["id"], r["key"]), name, ("remarks", n), r) for n, r in enumerate(document.data["remarks"]))
