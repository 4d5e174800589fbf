"""The whole flow: files -> data -> library -> results -> {path: bytes}."""

from __future__ import annotations

import gc
import json
import platform
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from importlib.metadata import version
from pathlib import Path

from generator.apart import apart
from generator.cache import Cache, code_digest, key_of
from generator.check import check
from generator.compute.results import Results, compute
from generator.draw import draw_all
from generator.export import export_all, page_of_data
from generator.model.library import Library, library_from
from generator.pages import render_all
from generator.places import CACHE, DATA_DIR, ROOT
from generator.problem import Refused
from generator.tree import Tree, read_tree

# Hardly anything a build makes is garbage that refers to itself: looking for it less often saves a twentieth of the time.
_OBJECTS_BETWEEN_LOOKS = 50_000

# What the generated files depend on beside our own code and data.
_MAKERS = ("jinja2", "jsonschema", "matplotlib", "numpy", "pillow", "pyyaml")


def load(data_dir: Path = DATA_DIR, cache: Cache = CACHE) -> Library:
    """Return the library of a data folder; raises Refused with every problem when the data is not sound.

    Data that passed once, byte for byte under the same schemas and rules, is not checked again: ``cache`` remembers.
    """
    tree = read_tree(data_dir)
    cache.get_or_make(_digest(data_dir), lambda: _sound(tree, cache))
    return library_from(tree)


def _silent(stage: str) -> None:
    pass


@dataclass(frozen=True, slots=True)
class Begun:
    """A build under way. ``pages``: by path. ``others``: waits for the pictures and data files and returns them by path."""

    pages: Mapping[str, bytes]
    others: Callable[[], Mapping[str, bytes]]

    def files(self) -> dict[str, bytes]:
        """Return every generated file by its path below the site's source folder."""
        return dict(sorted({**self.pages, **self.others()}.items()))


def begin(data_dir: Path = DATA_DIR, cache: Cache = CACHE, report: Callable[[str], None] = _silent) -> Begun:
    """Return the generated files of a data folder, pictures and data files perhaps still in the making.

    ``cache`` keeps all of them until the data, the code or a library changes. ``report`` is called with what is being done next,
    because a first build takes a while. Raises Refused with every problem when the data is not sound.
    """
    gc.set_threshold(_OBJECTS_BETWEEN_LOOKS)
    versions = (f"{name} {version(name)}" for name in _MAKERS)
    key = key_of("files", _digest(data_dir), platform.python_version(), *versions)
    pages, others = cache.get(key, newest_of="pages"), cache.get(key, newest_of="others")
    if pages is not None and others is not None:
        return Begun(unpacked(pages), lambda: unpacked(others))
    begun = build(load(data_dir, cache), cache=cache, report=report)
    cache.keep(key, packed(begun.pages), newest_of="pages")

    def made() -> Mapping[str, bytes]:
        files = begun.others()
        cache.keep(key, packed(files), newest_of="others")
        return files

    return Begun(begun.pages, made)


def generate(data_dir: Path = DATA_DIR, cache: Cache = CACHE, report: Callable[[str], None] = _silent) -> Mapping[str, bytes]:
    """Return every generated file of a data folder by path, pictures drawn; otherwise like ``begin``."""
    return begin(data_dir, cache, report).files()


def packed(files: Mapping[str, bytes]) -> bytes:
    """Return files as one entry: a line of JSON with paths and lengths, then the contents one after another."""
    head = json.dumps([[path, len(content)] for path, content in files.items()]).encode("ascii")
    return b"\n".join((head, b"".join(files.values())))


def unpacked(entry: bytes) -> dict[str, bytes]:
    """Return the files that ``packed`` made one entry of."""
    head, _, contents = entry.partition(b"\n")
    files, start = {}, 0
    for path, length in json.loads(head):
        files[path] = contents[start : start + length]
        start += length
    return files


def _sound(tree: Tree, cache: Cache) -> bytes:
    problems = check(tree, cache)
    if problems:
        raise Refused(problems)
    return b"sound"


def _digest(data_dir: Path) -> str:
    files = (path for path in sorted(data_dir.rglob("*")) if path.is_file())
    parts = [part for path in files for part in (path.relative_to(data_dir).as_posix(), path.read_bytes())]
    return key_of("sound", data_dir.name, code_digest((Path(__file__).parent,)), *parts)


def build(library: Library, results: Results | None = None, cache: Cache = CACHE, report: Callable[[str], None] = _silent) -> Begun:
    """Return the generated files of a library; a second process draws and writes data files while this one writes pages."""
    report("computing curves, labels and packs")
    results = results or compute(library, cache)
    report("drawing figures, writing pages and data files")
    others = apart(lambda: packed(_bytes({**draw_all(library, results, cache), **export_all(library, results)})))
    pages = {**page_of_data(library, results), **render_all(library, results)}
    return Begun(_bytes(pages), lambda: unpacked(others()))


def _bytes(files: Mapping[str, str | bytes]) -> dict[str, bytes]:
    return {path: content.encode("utf-8") if isinstance(content, str) else content for path, content in sorted(files.items())}
