"""Fixtures every test may use: the real data, read and built."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from generator.build import DATA_DIR, ROOT, load
from generator.model.library import Library
from generator.sink.site import build_site
from generator.tree import Tree, read_tree

@pytest.fixture(scope="session")
def tree() -> Tree:
    """The real data, read."""
    return read_tree(DATA_DIR)


@pytest.fixture(scope="session")
def library() -> Library:
    """The real library."""
    return load()


@pytest.fixture(scope="session")
def site(library: Library, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The real site, built once a test run; with ALMANAC_SITE set, the site that was built there before."""
    if prebuilt := os.environ.get("ALMANAC_SITE"):
        assert (Path(prebuilt) / "index.html").is_file(), f"ALMANAC_SITE: there is no site in {prebuilt}"
        return Path(prebuilt)
    out = tmp_path_factory.mktemp("site") / "site"
    build_site(ROOT, lambda: library, out, epoch="1767225600")
    return out
