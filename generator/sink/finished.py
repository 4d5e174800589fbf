"""A site the engine has built: what its pages must hold, and what makes it answer without a connection."""

from __future__ import annotations

import hashlib
import json
import platform
import re
import zlib
from collections import Counter
from collections.abc import Iterator
from pathlib import Path, PurePosixPath

from generator.address import offline_copy
from generator.cache import Cache, code_digest, key_of
from generator.model.library import Library
from generator.pages.retired import answered_at
from generator.places import CACHE
from generator.sink.kept import with_worker
from generator.sink.offline import copy_for_disk, page_with_size

_ID = re.compile(r'\sid="([^"]+)"')


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
