"""Sourced statements outside subjects: what a printed pack voltage means, how large a cell is, how a marking is read."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from generator.statement_ids import statement_address, statement_ids
from generator.model.designation import Designation
from generator.model.label import Evidence, Label, Labels
from generator.model.size import Size, figure_words
from generator.model.subject import Condition
from generator.tree import Tree


@dataclass(frozen=True, slots=True)
class Statement:
    """One thing one source says outside subjects; ``id`` is permanent, ``about`` names its subject in words.

    ``stated`` marks the one of several that the almanac goes by: the outline a size is drawn with.
    """

    id: str
    about: str
    text: str
    stated: bool
    condition: Condition
    source: str | None
    locator: str | None
    grade: str
    reported_by: str | None
    working: str | None
    note: str | None
    file: str
    line: int

    @property
    def collection(self) -> str:
        """The first part of the id: label, size or marking."""
        return self.id.split(".")[0]

    @property
    def address(self) -> str:
        """Page and anchor from the site's root."""
        return statement_address(self.id)

    @property
    def page(self) -> str:
        """Its page from the site's root."""
        return self.address.partition("#")[0]

    @property
    def anchor(self) -> str:
        """Its anchor on that page."""
        return self.address.partition("#")[2]


# What a statement is about, what it says and the evidence for it.
_Words = tuple[str, str, bool, Evidence]


def statements_from(tree: Tree, labels: Labels, sizes: Mapping[str, Size], designations: Mapping[str, Designation]) -> tuple[Statement, ...]:
    """Return every statement of the files in their order, each with its place."""
    words = (*_label_words(labels), *_size_words(sizes), *_marking_words(tree, designations))
    made = []
    for (id, name, path, _), said in zip(statement_ids(tree), words, strict=True):
        document = tree.documents[name]
        made.append(_statement(id, said, document.name, document.mark(path).line))
    return tuple(made)


def _statement(id: str, said: _Words, file: str, line: int) -> Statement:
    about, text, stated, evidence = said
    given = {name: getattr(evidence, name) for name in ("source", "locator", "grade", "reported_by", "working", "note")}
    return Statement(id, about, text, stated, Condition(), **given, file=file, line=line)


def _label_words(labels: Labels) -> Iterator[_Words]:
    for entry in labels.entries:
        yield f"Pack marked {entry.volts:g} V", _label_text(entry, labels), False, entry.evidence
    for rounded in labels.rounded:
        yield f"Packs marked with {rounded.volts_per_cell:g} V a cell", rounded.text, False, rounded.evidence


def _label_text(entry: Label, labels: Labels) -> str:
    return f"{entry.in_words}; {', '.join(labels.products[product] for product in entry.products)}"


def _size_words(sizes: Mapping[str, Size]) -> Iterator[_Words]:
    for size in sizes.values():
        for figure in size.figures:
            yield f"Cell size {size.name}", figure_words(figure, size.shape), figure.key == size.stated.key, figure.evidence


def _marking_words(tree: Tree, designations: Mapping[str, Designation]) -> Iterator[_Words]:
    for document in tree.folder("designations"):
        designation = designations[document.data["id"]]
        for remark in designation.remarks:
            yield f"Cell markings, {designation.name}", remark.text, False, remark.evidence
