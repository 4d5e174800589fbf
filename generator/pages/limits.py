"""One table of every chemistry's limits, to filter by family and by what one is doing."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from generator.compute.results import Results
from generator.model.library import Library
from generator.model.subject import Stated, Subject
from generator.model.vocabulary import Quantity
from generator.pages.comparison import FAMILIES, ordered
from generator.pages.environment import render, to_root
from generator.pages.sections import is_working_limit

TASKS = {
    "charge": "charging",
    "discharge": "discharging",
    "store": "storing",
    "cold": "in the cold",
    "hot": "in the heat",
}


@dataclass(frozen=True, slots=True)
class LimitGroup:
    """One quantity and every chemistry's stated limit of it."""

    quantity: Quantity
    rows: tuple[tuple[Subject, Stated], ...]


def pages(library: Library, results: Results) -> Mapping[str, str]:
    """Return the limits page by path."""
    path = "limits/index.md"
    groups = limit_groups(library)
    present = {subject.family for group in groups for subject, _ in group.rows}
    families = {id: name for id, name in FAMILIES.items() if id in present}
    return {path: render("limits.md.j2", library=library, groups=groups, families=families, tasks=TASKS, root=to_root(path))}


def limit_groups(library: Library) -> list[LimitGroup]:
    """Return the limits that one works within, by quantity in the vocabulary's order; single products are left out."""
    subjects = ordered(library.chemistries.values())
    groups = []
    for quantity in library.quantities.values():
        found = [(subject, s) for subject in subjects for s in subject.stated if s.quantity.id == quantity.id]
        rows = tuple((subject, s) for subject, s in found if quantity.tasks and is_working_limit(s) and _applies(subject, s))
        if rows:
            groups.append(LimitGroup(quantity, rows))
    return groups


def _applies(subject: Subject, stated: Stated) -> bool:
    return bool(subject.rechargeable) or "charge" not in stated.quantity.tasks
