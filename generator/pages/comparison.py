"""All chemistries side by side: one ruler, one table that sorts."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from markupsafe import Markup

from generator.compute.results import Results
from generator.draw.ruler import ruler_svg
from generator.model.library import Library
from generator.model.subject import Subject
from generator.pages.environment import render, to_root
from generator.pages.voltages import ruler_row

FAMILIES = {
    "lithium-ion": "Lithium-ion",
    "sodium-ion": "Sodium-ion",
    "lead-acid": "Lead-acid",
    "nickel": "Nickel",
    "zinc-primary": "Zinc, not rechargeable",
    "lithium-primary": "Lithium, not rechargeable",
    "silver-primary": "Silver, not rechargeable",
}

# Quantity, heading, and whether it is about charging, which a cell that is not rechargeable must not show.
COLUMNS = (
    ("discharge-cutoff-voltage", "Empty", False),
    ("storage-voltage", "Storage", False),
    ("nominal-voltage", "Nominal", False),
    ("charge-voltage-max", "Full", True),
    ("charge-voltage-absolute-max", "Never exceed", True),
    ("charge-temperature", "Charge only at", True),
    ("discharge-temperature", "Discharge only at", False),
    ("specific-energy", "Specific energy", False),
    ("cycle-life", "Cycle life", True),
)


def pages(library: Library, results: Results, figures: Mapping[str, str | bytes]) -> Mapping[str, str]:
    """Return the comparison page by path."""
    path = "chemistries/index.md"
    subjects = ordered(library.chemistries.values())
    rows = [row for s in subjects if (row := ruler_row(s, href=f"{s.id}/"))]
    ruler = Markup(ruler_svg(rows, id="ruler", title="Voltages of one cell, by chemistry")) if rows else None
    cells = [(s, [None if charging and not s.rechargeable else s.figure(q) for q, _, charging in COLUMNS]) for s in subjects]
    context = {"rows": cells, "ruler": ruler, "columns": [name for _, name, _ in COLUMNS], "families": FAMILIES}
    return {path: render("comparison.md.j2", library=library, root=to_root(path), **context)}


def ordered(subjects: Iterable[Subject]) -> list[Subject]:
    """Return subjects by family in the order of ``FAMILIES``, then by full voltage, highest first, then by id."""
    families = list(FAMILIES)

    def place(subject: Subject) -> tuple[int, float, str]:
        volts = subject.volts("charge-voltage-max") or subject.volts("nominal-voltage") or 0.0
        family = families.index(subject.family) if subject.family in FAMILIES else len(families)
        return family, -volts, subject.id

    return sorted(subjects, key=place)
