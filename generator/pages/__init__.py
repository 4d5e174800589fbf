"""Templates and what fills them: library and results to Markdown pages. Nothing is computed here."""

from __future__ import annotations

from collections.abc import Collection, Mapping

from generator.compute.results import Results
from generator.model.library import Library
from generator.pages import about, building, changes, chemistry, comparison, curves, find, labels, limits, markings, nominal, practice, sizes, sources, standin, start

# Each module has pages(library, results) -> {path: Markdown}.
_MODULES = (start, chemistry, comparison, standin, curves, limits, nominal, practice, building, labels, markings, sizes, find, about, sources, changes)


def render_all(library: Library, results: Results) -> Mapping[str, str]:
    """Return every generated page by its path in the site's source folder."""
    pages: dict[str, str] = {}
    for module in _MODULES:
        for path, text in module.pages(library, results).items():
            if path in pages:
                raise ValueError(f"two modules make the page {path}")
            pages[path] = text
    return pages


def render_subjects(library: Library, results: Results, ids: Collection[str]) -> Mapping[str, str]:
    """Return the pages of the subjects named and of no others."""
    made: dict[str, str] = {}
    for module in (chemistry, practice):
        made.update(module.pages(library, results, only=ids))
    return made
