"""Two sinks, one set of files; a site that is either whole or the old one."""

from __future__ import annotations

import hashlib
import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest
from mkdocs.config import load_config
from mkdocs.structure.files import get_files

from generator.build import ROOT, build
from generator.sink.folder import write_folder
from generator.sink.finished import missing_anchors
from generator.sink.site import build_site
from tests.made_up import digests


def test_both_sinks_give_the_same_bytes(library, tmp_path):
    files = build(library).files()
    write_folder(files, ROOT / "docs", tmp_path / "out")
    config = load_config(str(ROOT / "mkdocs.yml"))
    handed = get_files(config)
    config.plugins._current_plugin = "cell-almanac"  # what the engine sets while it runs the plugin
    config.plugins["cell-almanac"].on_startup(command="build", dirty=False)
    config.plugins["cell-almanac"].on_files(handed, config)
    config.site_dir = str(tmp_path / "site")
    config.plugins["cell-almanac"].on_post_build(config)
    by_plugin = {file.src_uri: file.content_bytes for file in handed if file.src_uri in files}  # the others are hand-written
    by_plugin |= {path.relative_to(tmp_path / "site").as_posix(): path.read_bytes() for path in (tmp_path / "site").rglob("*") if path.is_file()}
    written = {path: (tmp_path / "out" / path).read_bytes() for path in files}
    assert by_plugin == written == files
    hand_written = {p.relative_to(ROOT / "docs").as_posix() for p in (ROOT / "docs").rglob("*") if p.is_file()}
    assert set(digests(tmp_path / "out")) == set(files) | hand_written


def test_every_figure_stands_in_the_site(library, site):
    assert missing_anchors(library, site) == []


def test_a_figure_that_is_not_shown_fails_the_build(library, site, tmp_path):
    """The guard against a site engine that ignores the plugin: an empty page must not pass."""
    copy = tmp_path / "site"
    shutil.copytree(site, copy)
    subject = next(iter(library.chemistries.values()))
    page = copy / subject.page / "index.html"
    anchor = subject.values[0].anchor
    page.write_text(page.read_text("utf-8").replace(f'id="{anchor}"', "", 1), "utf-8")
    assert missing_anchors(library, copy) == [f"{subject.page}#{anchor}"]


def test_two_builds_give_the_same_bytes(library, site, tmp_path, monkeypatch):
    """Another folder, time zone, locale and hash seed; the clock plays no part because SOURCE_DATE_EPOCH is set."""
    monkeypatch.setenv("TZ", "Asia/Kathmandu")
    monkeypatch.setenv("LC_ALL", "C")
    monkeypatch.setenv("PYTHONHASHSEED", "4711")
    again = tmp_path / "a place with spaces, \u00e4\u00f6" / "site"
    build_site(ROOT, lambda: library, again, epoch="1767225600")
    assert digests(again) == digests(site)


@pytest.fixture
def checkout(tmp_path: Path) -> Path:
    """A copy of what a build needs, to be broken."""
    copy = tmp_path / "checkout"
    for name in ("generator", "chemistry", "docs", ".cache"):  # the cache saves a minute and changes nothing
        if (ROOT / name).exists():
            shutil.copytree(ROOT / name, copy / name, ignore=shutil.ignore_patterns("__pycache__"))
    shutil.copy(ROOT / "mkdocs.yml", copy)
    return copy


def run(checkout: Path, *words: str) -> subprocess.CompletedProcess[str]:
    environment = {**os.environ, "PYTHONPATH": str(checkout), "SOURCE_DATE_EPOCH": "1767225600"}
    return subprocess.run([sys.executable, "-m", "generator", *words], cwd=checkout, env=environment, capture_output=True, text=True)


def test_a_failed_build_leaves_the_old_site(checkout):
    old = checkout / "site"
    old.mkdir()
    (old / "index.html").write_text("the old site")
    record = checkout / "chemistry" / "records" / "lfp.yml"
    record.write_text(record.read_text("utf-8").replace("grade: read", "grade: raed", 1), "utf-8")
    done = run(checkout, "build", "--out", str(old))
    assert done.returncode == 1
    assert "chemistry/records/lfp.yml:" in done.stderr and "'raed'" in done.stderr and "Traceback" not in done.stderr
    assert digests(old) == {"index.html": hashlib.sha256(b"the old site").hexdigest()}


def test_the_site_engine_refusing_leaves_the_old_site(checkout):
    old = checkout / "site"
    old.mkdir()
    (old / "index.html").write_text("the old site")
    (checkout / "docs" / "broken.md").write_text("[nowhere](no-such-page.md)\n")
    done = run(checkout, "build", "--out", str(old))
    assert done.returncode == 1 and "no-such-page.md" in done.stderr and "Traceback" not in done.stderr
    assert digests(old) == {"index.html": hashlib.sha256(b"the old site").hexdigest()}


def test_the_plugin_alone_says_what_is_wrong(checkout):
    """An author who runs the site engine directly gets the same lines, not a traceback."""
    record = checkout / "chemistry" / "records" / "lfp.yml"
    record.write_text(record.read_text("utf-8").replace("grade: read", "grade: raed", 1), "utf-8")
    environment = {**os.environ, "PYTHONPATH": str(checkout), "NO_MKDOCS_2_WARNING": "1"}
    done = subprocess.run([sys.executable, "-m", "mkdocs", "build", "-d", str(checkout / "out")], cwd=checkout, env=environment, capture_output=True, text=True)
    assert done.returncode == 1 and "chemistry/records/lfp.yml:" in done.stderr and "Traceback" not in done.stderr
