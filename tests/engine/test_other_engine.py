"""The written folder built by another Markdown site engine: every page, file and value anchor is there, and the same words.

Opt-in, because it fetches the engine from the package index into an environment of its own and builds for a minute or more:

    OTHER_ENGINE=zensical python -m pytest tests/engine

The engine must read a configuration of mkdocs' form. DEVELOPERS.md records the last run.
"""

from __future__ import annotations

import html
import os
import re
import subprocess
import sys
import venv
from pathlib import Path

import pytest

from generator.build import ROOT, generate
from generator.sink.folder import write_folder
from generator.sink.finished import missing_anchors

ENGINE = os.environ.get("OTHER_ENGINE")
pytestmark = pytest.mark.skipif(not ENGINE, reason="opt-in: set OTHER_ENGINE=zensical")

# Nothing of ours but the folder: no plugin, no theme, no style sheet.
_CONFIGURATION = """
site_name: Cell Almanac
site_url: https://cell-almanac.org/
docs_dir: docs
site_dir: site
use_directory_urls: true
markdown_extensions: [attr_list, tables]
"""
_ARTICLE = re.compile(r"<article[^>]*>(.*)</article>", re.DOTALL)
_NOT_WORDS = re.compile(r'<span id="copy-size">.*?</span>|<(script|style)\b.*?</\1>|<!--.*?-->|<[^>]*>', re.DOTALL)


@pytest.fixture(scope="module")
def project(tmp_path_factory) -> Path:
    """A folder with the written pages in ``docs`` and the other engine's site in ``site``."""
    folder = tmp_path_factory.mktemp("engine")
    write_folder(generate(), ROOT / "docs", folder / "docs")
    (folder / "mkdocs.yml").write_text(_CONFIGURATION)
    venv.create(folder / "venv", with_pip=True)
    programs = folder / "venv" / ("Scripts" if sys.platform == "win32" else "bin")
    subprocess.run([programs / "pip", "install", "--quiet", "--disable-pip-version-check", ENGINE], check=True)
    subprocess.run([programs / ENGINE, "build", "-f", "mkdocs.yml"], cwd=folder, check=True)
    return folder


def test_every_value_anchor_stands_once(library, project):
    assert missing_anchors(library, project / "site") == []


def test_every_page_and_file_is_there(project):
    written = {path.relative_to(project / "docs") for path in (project / "docs").rglob("*") if path.is_file()}
    wanted = {path.with_suffix(".html") if path.suffix == ".md" else path for path in written}
    assert {path.as_posix() for path in wanted if not (project / "site" / path).is_file()} == set()


def words(page: Path) -> list[str]:
    """Return the words of a page's article, without marks a theme puts beside headings and the copy's size, which only our sink knows."""
    text = html.unescape(_NOT_WORDS.sub(" ", _ARTICLE.search(page.read_text("utf-8"))[1]))
    return text.replace("\u00b6", " ").split()


def test_the_articles_have_the_same_words(site, project):
    pages = sorted(path.relative_to(site) for path in site.rglob("index.html"))
    different = [page.as_posix() for page in pages if words(site / page) != words(project / "site" / page)]
    assert different == []
