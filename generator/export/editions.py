"""The frozen editions, published as they were frozen."""

from __future__ import annotations

from collections.abc import Mapping

from generator.model.edition import edition_text
from generator.model.library import Library


def editions(library: Library) -> Mapping[str, str]:
    """Return every edition by its path below ``data/v1/``."""
    files = {}
    for edition in library.editions:
        files[f"editions/{edition.name}.json"] = edition_text(edition)
    return files
