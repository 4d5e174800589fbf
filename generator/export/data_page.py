"""The page about the data: which files exist, what their columns mean, what stays as it is."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from generator.address import LICENCE_ADDRESS, offline_copy
from generator.export.table import Table
from generator.model.library import Library
from generator.pages.environment import render, to_root


def data_page(library: Library, tables: Sequence[Table], schemas: Sequence[str]) -> Mapping[str, str]:
    """Return the page by its path. It stands here, not among the pages, because it describes the exports."""
    path = "data/index.md"
    one = [table for table in tables if "/" not in table.path]
    folders: dict[str, list[Table]] = {}
    for table in tables:
        if "/" in table.path:
            folders.setdefault(table.path.split("/")[0], []).append(table)
    context = {"one": one, "folders": folders, "schemas": schemas, "licence": LICENCE_ADDRESS, "paths": [t.path for t in tables]}
    context["copy"] = offline_copy(library.editions[-1].name if library.editions else None)
    return {path: render("data.md.j2", library=library, root=to_root(path), **context)}
