"""The bibliography: one page with every publication by kind, one page a publication, one page of what to work on."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field

from generator.compute.results import Results
from generator.model.library import Library
from generator.model.subject import Remark, Subject, Value
from generator.model.vocabulary import Source
from generator.pages.environment import render, to_root
from generator.pages.reference import reference

KINDS = {
    "paper": "Papers",
    "handbook": "Handbooks",
    "standard": "Standards",
    "regulation": "Regulations",
    "data-sheet": "Data sheets",
    "safety-sheet": "Safety data sheets",
    "manual": "Manuals",
    "report": "Reports",
    "dataset": "Data sets",
    "software": "Software",
    "web-page": "Web pages",
    "label": "Labels",
}

# Where the page of a data file stands that cites a publication outside any subject.
_FILE_PAGES = {"cells/": "curves/", "designations/": "markings/", "labels.yml": "labels/", "sizes.yml": "sizes/"}


@dataclass(slots=True)
class Use:
    """What rests on one publication, by subject, and the other data files that cite it."""

    values: dict[str, list[Value]] = field(default_factory=dict)
    remarks: dict[str, list[Remark]] = field(default_factory=dict)
    files: tuple[tuple[str, str], ...] = ()

    @property
    def count(self) -> int:
        """How many values, remarks and other data files rest on it."""
        return sum(map(len, (*self.values.values(), *self.remarks.values(), self.files)))


def pages(library: Library, results: Results) -> Mapping[str, str]:
    """Return the pages of the bibliography by path."""
    uses = uses_of(library)
    made = {"sources/index.md": _index(library, uses), "sources/work/index.md": _work(library, results)}
    subjects = {subject.id: subject for subject in library.subjects()}
    for id, source in library.sources.items():
        path = f"sources/{id}/index.md"
        if path in made:
            raise ValueError(f"the source id '{id}' is the name of a page of ours")
        context = {"source": source, "use": uses[id], "reference": reference(source)}
        made[path] = render("source.md.j2", library=library, subjects=subjects, root=to_root(path), **context)
    return made


def uses_of(library: Library) -> Mapping[str, Use]:
    """Return what rests on each publication."""
    uses = {id: Use(files=tuple(_file_pages(library.cited_in.get(id, ())))) for id in library.sources}
    for value in library.values():
        for id in dict.fromkeys((value.source, value.reported_by)):
            if id in uses:
                uses[id].values.setdefault(value.subject, []).append(value)
    for remark in library.remarks():
        for id in dict.fromkeys((remark.source, remark.reported_by)):
            if id in uses:
                uses[id].remarks.setdefault(remark.subject, []).append(remark)
    return uses


def _file_pages(names: tuple[str, ...]) -> Iterator[tuple[str, str]]:
    for name in names:
        for start, page in _FILE_PAGES.items():
            if name.startswith(start):
                stem = name.rpartition("/")[2].removesuffix(".yml")
                yield (f"Cell model {stem}", f"{page}{stem}/") if start == "cells/" else (page.strip("/").capitalize(), page)


def _index(library: Library, uses: Mapping[str, Use]) -> str:
    path = "sources/index.md"
    groups = []
    for kind, name in KINDS.items():
        found = sorted((s for s in library.sources.values() if s.kind == kind), key=_order)
        if found:
            groups.append((kind, name, found))
    return render("sources.md.j2", library=library, groups=groups, uses=uses, root=to_root(path))


def _order(source: Source) -> tuple[str, int, str]:
    return source.short.casefold(), source.year or 0, source.id


def _work(library: Library, results: Results) -> str:
    path = "sources/work/index.md"
    subjects: dict[str, Subject] = {subject.id: subject for subject in library.subjects()}
    single: dict[str, list] = {}
    for stated in results.evidence.single_source:
        single.setdefault(stated.subject, []).append(stated)
    return render("work.md.j2", library=library, subjects=subjects, evidence=results.evidence, single=single, root=to_root(path))
