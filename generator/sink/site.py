"""The site: built by the site engine in a folder of its own, examined, then put in place of the old one."""

from __future__ import annotations

import hashlib
import json
import os
import platform
import re
import subprocess
import sys
import zlib
from collections import Counter
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path, PurePosixPath

from generator.address import offline_copy
from generator.cache import Cache, code_digest, key_of
from generator.model.library import Library
from generator.pages.retired import answered_at
from generator.places import CACHE
from generator.sink.kept import with_worker
from generator.sink.offline import copy_for_disk, page_with_size
from generator.sink.staging import NotWritten, staging_beside, swap_in

_ID = re.compile(r'\sid="([^"]+)"')


def build_site(root: Path, load: Callable[[], Library], out: Path, *, epoch: str) -> None:
    """Build the site of the data in ``root`` into ``out``; the old site stays until the new one is whole.

    ``load`` gives the library; it is called while the site engine, a process of its own, already works. ``epoch`` is
    SOURCE_DATE_EPOCH for the engine, so that two builds give the same bytes. Raises NotWritten, and what ``load`` raises.
    """
    with staging_beside(out, mark="index.html", never=root / "docs") as staged:
        with _engine(root, staged, epoch) as engine:
            library = load()
            _wait_for(engine)
        missing = missing_anchors(library, staged)
        if missing:
            shown = "\n".join(f"  {name}" for name in missing[:20])
            raise NotWritten(f"{len(missing)} figures have no place in the built site, for example:\n{shown}")
        add_offline(staged, library)
        swap_in(staged, out)


@contextmanager
def _engine(root: Path, staged: Path, epoch: str) -> Iterator[subprocess.Popen[str]]:
    command = [sys.executable, "-m", "mkdocs", "build", "--strict", "--site-dir", str(staged)]
    # A locale of its own: the engine and its extensions sort and read by it.
    environment = {**os.environ, "SOURCE_DATE_EPOCH": epoch, "NO_MKDOCS_2_WARNING": "1", "LC_ALL": "C.UTF-8", "TZ": "UTC", "PYTHONUTF8": "1"}
    pipes = {"stdout": subprocess.DEVNULL, "stderr": subprocess.PIPE, "text": True, "encoding": "utf-8", "errors": "replace"}
    with subprocess.Popen(command, cwd=root, env=environment, **pipes) as engine:
        try:
            yield engine
        finally:
            engine.kill()  # does nothing to one that has ended


def _wait_for(engine: subprocess.Popen[str]) -> None:
    _, said = engine.communicate()
    if engine.returncode:
        said = said.strip()
        if "Traceback (most recent call last)" in said:  # the last line says what happened; the rest, where in the engine
            said = said.splitlines()[-1]
        raise NotWritten(f"the site engine refused the site:\n{said}")


def add_offline(site: Path, library: Library, cache: Cache = CACHE) -> None:
    """Add to a built site what makes it answer without a connection: a copy to download, and the service worker."""
    files = {path.relative_to(site).as_posix(): path.read_bytes() for path in sorted(site.rglob("*")) if path.is_file()}
    digests = {name: hashlib.sha256(content).hexdigest() for name, content in files.items()}
    name = offline_copy(library.editions[-1].name if library.editions else None)
    key = key_of("copy", name, json.dumps(digests), code_digest((Path(__file__).parent,)), platform.python_version(), zlib.ZLIB_RUNTIME_VERSION)
    copy = cache.get_or_make(key, lambda: copy_for_disk(files, PurePosixPath(name).stem), newest_of="copy")
    sized = page_with_size(files, copy)
    digests |= {path: hashlib.sha256(content).hexdigest() for path, content in sized.items()}
    for path, content in {name: copy, **sized, **with_worker(files, digests)}.items():
        target = site / path
        target.parent.mkdir(parents=True, exist_ok=True)
        target.write_bytes(content)


def missing_anchors(library: Library, site: Path) -> list[str]:
    """Return the addresses of values, stated figures, remarks, statements and retired ids that do not stand exactly once on their page."""
    wanted: dict[str, list[str]] = {}
    for page, anchor in _places(library):
        wanted.setdefault(page, []).append(anchor)
    missing = []
    for page, anchors in wanted.items():
        path = site / page / "index.html"
        counts = Counter(_ID.findall(path.read_text("utf-8")) if path.exists() else ())
        missing += [f"{page}#{anchor}" for anchor in anchors if counts[anchor] != 1]
    return missing


def _places(library: Library) -> Iterator[tuple[str, str]]:
    """Yield page and anchor of everything that has a permanent id."""
    for subject in library.subjects():
        yield from ((subject.page, item.anchor) for item in (*subject.values, *subject.stated, *subject.remarks))
    yield from ((statement.page, statement.anchor) for statement in library.statements)
    for retired in library.retired:
        page, _, anchor = (answered_at(retired.id, library) or "").partition("#")
        yield page, anchor
