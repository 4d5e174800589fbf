"""Everything that passed the checks, in one place."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from generator.check.rules.publications import cited
from generator.model.designation import Designation, designations_from
from generator.model.edition import Edition, edition_from
from generator.model.label import Labels, labels_from
from generator.model.published import Published, published_from
from generator.model.size import Size, sizes_from
from generator.model.statement import Statement, statements_from
from generator.model.subject import Remark, Stated, Subject, Value
from generator.model.subject_from import subject_from
from generator.model.vocabulary import Quantity, Source, Unit, quantities_from, sources_from, units_from
from generator.tree import Tree


@dataclass(frozen=True, slots=True)
class Retired:
    """Where an id of an earlier edition went."""

    id: str
    moved_to: str | None
    because: str


@dataclass(frozen=True, slots=True)
class Library:
    """The almanac's data. Mappings keep a stable order: subjects and cells by id, quantities as in their file, editions oldest first.

    ``cited_in`` names, for each publication, the files other than subjects that cite it, such as ``cells/chen-2020.yml``.
    ``statements`` are the sourced statements of labels, sizes and designations that can be cited.
    """

    units: Mapping[str, Unit]
    quantities: Mapping[str, Quantity]
    sources: Mapping[str, Source]
    chemistries: Mapping[str, Subject]
    practices: Mapping[str, Subject]
    cells: Mapping[str, Published]
    retired: tuple[Retired, ...]
    editions: tuple[Edition, ...]
    cited_in: Mapping[str, tuple[str, ...]]
    labels: Labels
    sizes: Mapping[str, Size]
    designations: Mapping[str, Designation]
    statements: tuple[Statement, ...]

    def subjects(self) -> Iterator[Subject]:
        """Yield chemistries, then practice files."""
        yield from self.chemistries.values()
        yield from self.practices.values()

    def values(self) -> Iterator[Value]:
        """Yield every value of every subject."""
        for subject in self.subjects():
            yield from subject.values

    def stated(self) -> Iterator[Stated]:
        """Yield every stated figure of every subject."""
        for subject in self.subjects():
            yield from subject.stated

    def remarks(self) -> Iterator[Remark]:
        """Yield every remark of every subject."""
        for subject in self.subjects():
            yield from subject.remarks

    def cells_of(self, chemistry: str) -> tuple[Published, ...]:
        """Return the published cells of one chemistry, by id."""
        return tuple(cell for cell in self.cells.values() if cell.chemistry == chemistry)


def library_from(tree: Tree) -> Library:
    """Build the library from a tree that has no problems."""
    vocabulary = tree.documents["quantities.yml"].data
    units = units_from(vocabulary)
    quantities = quantities_from(vocabulary, units)
    retired = tree.documents["retired.yml"].data["retired"]
    cells = (published_from(document.data, document.name) for document in tree.folder("cells"))
    labels = labels_from(tree.documents["labels.yml"].data) if "labels.yml" in tree.documents else Labels()
    sizes = sizes_from(tree.documents["sizes.yml"].data) if "sizes.yml" in tree.documents else {}
    designations = designations_from(document.data for document in tree.folder("designations"))
    return Library(
        units=units,
        quantities=quantities,
        sources=sources_from(tree.documents["sources.yml"].data),
        chemistries=_by_id(subject_from(d, quantities, "chemistry") for d in tree.folder("records")),
        practices=_by_id(subject_from(d, quantities, "practice") for d in tree.folder("practice")),
        cells=_by_id(cells),
        retired=tuple(Retired(r["id"], r.get("moved_to"), r["because"]) for r in retired),
        editions=tuple(edition_from(document.data) for document in tree.editions.values()),
        cited_in=_cited_in(tree),
        labels=labels,
        sizes=sizes,
        designations=designations,
        statements=statements_from(tree, labels, sizes, designations),
    )


def _cited_in(tree: Tree) -> dict[str, tuple[str, ...]]:
    found: dict[str, dict[str, None]] = {}
    for name in sorted(tree.documents):
        if not name.startswith(("records/", "practice/")) and name != "sources.yml":
            for _, source in cited(tree.documents[name].data):
                found.setdefault(source, {})[name] = None
    return {source: tuple(names) for source, names in found.items()}


def _by_id(items):
    return {item.id: item for item in items}
