"""The frozen editions, published as they were frozen."""

from __future__ import annotations

from collections.abc import Mapping

from generator.export.schemas import checked
from generator.model.edition import edition_data, edition_text
from generator.model.library import Library


def editions(library: Library) -> Mapping[str, str]:
    """Return every edition by its path below ``data/v1/``."""
    files = {}
    for edition in library.editions:
        path = f"editions/{edition.name}.json"
        checked(path, edition_data(edition), "export-edition.schema.json")
        files[path] = edition_text(edition)
    return files
