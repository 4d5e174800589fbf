"""Which files make up the data, and where each belongs."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from pathlib import Path

from generator.read import Document, read_file
from generator.read_json import read_json_file

SINGLE_FILES = ("quantities.yml", "sources.yml", "retired.yml", "labels.yml", "sizes.yml")
FOLDERS = ("records", "practice", "cells", "designations")


@dataclass(frozen=True, slots=True)
class Tree:
    """The data folder, read: ``documents`` maps a name such as ``records/lfp.yml`` to its Document.

    ``editions`` holds the frozen snapshots by edition name, oldest first.
    """

    documents: Mapping[str, Document]
    editions: Mapping[str, Document] = field(default_factory=dict)

    def folder(self, name: str) -> Iterator[Document]:
        """Yield the documents of one folder, sorted by name."""
        for key in sorted(self.documents):
            if key.startswith(f"{name}/"):
                yield self.documents[key]

    def subjects(self) -> Iterator[Document]:
        """Yield every document that holds values: records, then practice files."""
        yield from self.folder("records")
        yield from self.folder("practice")


def read_tree(data_dir: Path) -> Tree:
    """Read every YAML file below ``data_dir``; a file that cannot be read carries its problems."""
    documents = {}
    for path in _files(data_dir):
        name = path.relative_to(data_dir).as_posix()
        document = read_file(path, f"{data_dir.name}/{name}")
        documents[name] = document
    return Tree(documents, _editions(data_dir))


def _editions(data_dir: Path) -> dict[str, Document]:
    paths = sorted((data_dir / "editions").glob("*.json"))
    return {path.stem: read_json_file(path, f"{data_dir.name}/editions/{path.name}") for path in paths}


def _files(data_dir: Path) -> Iterator[Path]:
    for name in SINGLE_FILES:
        path = data_dir / name
        if path.exists():
            yield path
    for folder in FOLDERS:
        yield from sorted((data_dir / folder).glob("*.yml"))
