"""About: method, grades, cautions, licence, how to cite."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping

from generator.compute.results import Results
from generator.model.library import Library
from generator.pages.environment import render, to_root
from generator.pages.format import GRADE_MEANINGS, GRADE_WORDS


def pages(library: Library, results: Results) -> Mapping[str, str]:
    """Return the about page by path."""
    path = "about/index.md"
    counts = Counter(value.grade for value in library.values())
    grades = [(grade, words, GRADE_MEANINGS[grade], counts[grade]) for grade, words in GRADE_WORDS.items()]
    edition = library.editions[-1].name if library.editions else None
    return {path: render("about.md.j2", grades=grades, edition=edition, root=to_root(path))}
