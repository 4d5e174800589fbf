"""What the rules look at: the documents, with the look-ups that several rules need."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from generator.read import Document
from generator.tree import Tree


@dataclass(frozen=True, slots=True)
class Place:
    """One value or remark in one document: ``path`` leads to it, ``quantity`` is None for a remark."""

    document: Document
    path: tuple[str | int, ...]
    quantity: str | None
    item: Mapping[str, Any]


@dataclass(frozen=True, slots=True)
class Corpus:
    """Documents whose shape is right, with quantities, units and sources by id."""

    tree: Tree
    quantities: Mapping[str, Mapping[str, Any]]
    units: Mapping[str, Mapping[str, Any]]
    sources: Mapping[str, Mapping[str, Any]]

    def values(self) -> Iterator[Place]:
        """Yield every value of every subject."""
        for document in self.tree.subjects():
            for quantity, items in document.data["values"].items():
                for index, item in enumerate(items):
                    yield Place(document, ("values", quantity, index), quantity, item)

    def remarks(self) -> Iterator[Place]:
        """Yield every remark of every subject."""
        for document in self.tree.subjects():
            for index, item in enumerate(document.data.get("remarks", ())):
                yield Place(document, ("remarks", index), None, item)


def corpus_of(tree: Tree) -> Corpus:
    """Return the corpus of a tree whose shapes are right."""
    vocabulary = tree.documents["quantities.yml"].data
    return Corpus(
        tree=tree,
        quantities={item["id"]: item for item in vocabulary["quantities"]},
        units={item["symbol"]: item for item in vocabulary["units"]},
        sources={item["id"]: item for item in tree.documents["sources.yml"].data["sources"]},
    )
