"""One page a practice file: figures that belong to no one chemistry."""

from __future__ import annotations

from collections.abc import Collection, Mapping

from generator.compute.results import Results
from generator.model.library import Library
from generator.model.subject import Subject
from generator.pages.environment import render, to_root
from generator.pages.sections import figure_sections, label_figures, limit_sections, remark_sections


def pages(library: Library, results: Results, only: Collection[str] | None = None) -> Mapping[str, str]:
    """Return the practice pages by path: all, or those of the ids in ``only``."""
    made = {}
    for id, subject in library.practices.items():
        if only is not None and id not in only:
            continue
        path = f"practice/{id}/index.md"
        made[path] = render("practice.md.j2", root=to_root(path), library=library, **_view(subject))
    return made


def _view(subject: Subject) -> dict[str, object]:
    limits, label, groups = limit_sections(subject), label_figures(subject), figure_sections(subject)
    remarks = remark_sections(subject.remarks)
    fixed = (("cautions", "Cautions", subject.cautions), ("limits", "Limits", limits), ("label", "Nominal voltage", label))
    sections = [(id, title) for id, title, items in fixed if items]
    sections += [(section.id, section.title) for section in groups]
    sections += ([("remarks", "Remarks")] if remarks else []) + [("evidence", "Evidence"), ("cite", "Cite")]
    return {
        "subject": subject,
        "limits": limits,
        "label": label,
        "figure_sections": groups,
        "remark_sections": remarks,
        "sections": sections,
    }
