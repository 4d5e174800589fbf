"""The site: built by the site engine in a folder of its own, examined, then put in place of the old one."""

from __future__ import annotations

import os
import re
import subprocess
import sys
from collections.abc import Iterable
from pathlib import Path

from generator.model.library import Library
from generator.sink.folder import NotWritten, staging_beside, swap_in

_ID = re.compile(r'\sid="([^"]+)"')


def build_site(root: Path, library: Library, out: Path, *, epoch: str) -> None:
    """Build the site of ``library`` into ``out``; the old site stays until the new one is whole.

    ``epoch`` is SOURCE_DATE_EPOCH for the site engine, so that two builds give the same bytes. Raises NotWritten.
    """
    with staging_beside(out) as staged:
        command = [sys.executable, "-m", "mkdocs", "build", "--strict", "--site-dir", str(staged)]
        environment = {**os.environ, "SOURCE_DATE_EPOCH": epoch, "NO_MKDOCS_2_WARNING": "1"}
        done = subprocess.run(command, cwd=root, env=environment, capture_output=True, text=True)
        if done.returncode:
            raise NotWritten(f"the site engine refused the site:\n{done.stderr.strip()}")
        missing = missing_anchors(library, staged)
        if missing:
            shown = "\n".join(f"  {name}" for name in missing[:20])
            raise NotWritten(f"{len(missing)} figures have no place in the built site, for example:\n{shown}")
        swap_in(staged, out)


def missing_anchors(library: Library, site: Path) -> list[str]:
    """Return the ids of values, stated figures, remarks and retired ids that do not stand exactly once on their subject's page."""
    missing = []
    for subject in library.subjects():
        page = site / subject.page / "index.html"
        found = _ID.findall(page.read_text("utf-8")) if page.exists() else []
        counts = {name: found.count(name) for name in set(found)}
        retired = (r.id.removeprefix(f"{subject.id}.") for r in library.retired if r.id.startswith(f"{subject.id}."))
        wanted = _anchors(subject.values), _anchors(subject.stated), (f"remark.{r.key}" for r in subject.remarks), retired
        missing += [f"{subject.id}#{anchor}" for group in wanted for anchor in group if counts.get(anchor) != 1]
    return missing


def _anchors(items: Iterable) -> Iterable[str]:
    return (item.anchor for item in items)
