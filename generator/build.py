"""The whole flow: files -> data -> library -> results -> {path: bytes}."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

from generator.cache import Cache
from generator.check import check
from generator.compute.results import Results, compute
from generator.draw import draw_all
from generator.export import export_all
from generator.model.library import Library, library_from
from generator.pages import render_all
from generator.problem import Refused
from generator.tree import read_tree

ROOT = Path(__file__).resolve().parents[1]
DATA_DIR = ROOT / "chemistry"
CACHE = Cache(ROOT / ".cache")


def load(data_dir: Path = DATA_DIR) -> Library:
    """Return the library of a data folder; raises Refused with every problem when the data is not sound."""
    tree = read_tree(data_dir)
    problems = check(tree)
    if problems:
        raise Refused(problems)
    return library_from(tree)


def build(library: Library, results: Results | None = None, cache: Cache = CACHE) -> Mapping[str, bytes]:
    """Return every generated file of the site by its path below the site's source folder."""
    results = results or compute(library, cache)
    figures = draw_all(library, results, cache)
    files = {**figures, **export_all(library, results, cache), **render_all(library, results, figures)}
    return {path: content.encode("utf-8") if isinstance(content, str) else content for path, content in sorted(files.items())}
