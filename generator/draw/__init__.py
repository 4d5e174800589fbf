"""Figures: one function a figure, each returning SVG text."""

from __future__ import annotations

from collections.abc import Mapping

from generator.compute.results import Results
from generator.model.library import Library


def draw_all(library: Library, results: Results) -> Mapping[str, str]:
    """Return every figure file by its path in the site."""
    return {}
