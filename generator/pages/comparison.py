"""All chemistries side by side: one ruler, one table that sorts."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from markupsafe import Markup

from generator.compute.results import Results
from generator.draw.ruler import ruler_svg
from generator.model.library import Library
from generator.model.subject import Subject
from generator.pages.environment import render, to_root
from generator.pages.ranges import range_plots
from generator.pages.voltages import never_charged, ruler_row, without_figure

FAMILIES = {
    "lithium-ion": "Lithium-ion",
    "sodium-ion": "Sodium-ion",
    "lead-acid": "Lead-acid",
    "nickel": "Nickel",
    "zinc-primary": "Zinc, not rechargeable",
    "lithium-primary": "Lithium, not rechargeable",
    "silver-primary": "Silver, not rechargeable",
}

COLUMNS = (
    ("charge-voltage-max", "Full"),
    ("discharge-cutoff-voltage", "Empty"),
    ("nominal-voltage", "Nominal"),
    ("storage-voltage", "Storage"),
    ("charge-voltage-absolute-max", "Never exceed"),
    ("charge-temperature", "Charge only at"),
    ("specific-energy", "Specific energy"),
    ("energy-density", "Energy density"),
    ("discharge-rate-max", "Discharge rate"),
    ("self-discharge", "Self-discharge"),
    ("cycle-life", "Cycle life"),
)


def pages(library: Library, results: Results) -> Mapping[str, str]:
    """Return the comparison page by path."""
    path = "chemistries/index.md"
    subjects = ordered(library.chemistries.values())
    rows = [row for s in subjects if (row := ruler_row(s, href=f"{s.id}/"))]
    ruler = Markup(ruler_svg(rows, id="ruler", title="Voltages of one cell, by chemistry")) if rows else None
    cells = [(s, [(q, None if never_charged(s, q) else s.figure(q)) for q, _ in COLUMNS]) for s in subjects]
    context = {"rows": cells, "ruler": ruler, "columns": [name for _, name in COLUMNS], "families": FAMILIES, "plots": range_plots(subjects)}
    context |= {"never_charged": never_charged, "without_figure": without_figure}
    return {path: render("comparison.md.j2", library=library, root=to_root(path), **context)}


def ordered(subjects: Iterable[Subject]) -> list[Subject]:
    """Return subjects by family in the order of ``FAMILIES``, then by full voltage, highest first, then by id."""
    families = list(FAMILIES)

    def place(subject: Subject) -> tuple[int, float, str]:
        volts = subject.volts("charge-voltage-max") or subject.volts("nominal-voltage") or 0.0
        family = families.index(subject.family) if subject.family in FAMILIES else len(families)
        return family, -volts, subject.id

    return sorted(subjects, key=place)
