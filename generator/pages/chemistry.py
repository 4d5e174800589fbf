"""One page a chemistry: identity, voltages, cautions, limits, label, packs, figures by subject matter, evidence."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass

from generator.address import picture
from generator.compute.results import Results
from generator.draw.preview_data import preview_of
from generator.model.library import Library
from generator.model.subject import Subject, Value
from generator.pages.curves import block
from generator.pages.environment import render, to_root
from generator.pages.format import fahrenheit_of, figure
from generator.pages.kinds import Kind, kind_of
from generator.pages.sections import Section, figure_sections, label_figures, limit_sections, remark_sections
from generator.pages.voltages import cell_ruler, kinds, kinds_ruler, strip


@dataclass(frozen=True, slots=True)
class PackColumn:
    name: str
    field: str


PACK_COLUMNS = (
    PackColumn("Empty", "empty_v"),
    PackColumn("Nominal", "nominal_v"),
    PackColumn("Storage", "storage_v"),
    PackColumn("Full", "full_v"),
)


def pages(library: Library, results: Results, only: Collection[str] | None = None) -> Mapping[str, str]:
    """Return the chemistry pages by path: all, or those of the ids in ``only``."""
    made = {}
    for id, subject in library.chemistries.items():
        if only is not None and id not in only:
            continue
        path = f"chemistries/{id}/index.md"
        made[path] = render("chemistry.md.j2", root=to_root(path), results=results, **_view(subject, library, results))
    return made


def _view(subject: Subject, library: Library, results: Results) -> dict[str, object]:
    limits, figure_groups, remarks = limit_sections(subject), figure_sections(subject), remark_sections(subject.remarks)
    own_kinds, curves, kind = kinds(subject), block(subject, library, results), kind_of(subject, library)
    return {
        "subject": subject,
        "library": library,
        "image": picture(subject),
        "image_alt": preview_of(subject).in_words,
        "ruler": cell_ruler(subject),
        "strip": strip(subject),
        "kinds": own_kinds,
        "kinds_ruler": kinds_ruler(subject, own_kinds),
        "limits": limits,
        "label": label_figures(subject),
        "label_title": label_title(subject),
        "nominal_values": values_by_figure(subject, "nominal-voltage"),
        "curves": curves,
        "kind": kind,
        "fahrenheit_of": fahrenheit_of,
        "pack": results.packs[subject.id],
        "variant_packs": [(subject.variant_name(variant), rows) for variant, rows in results.variant_packs[subject.id].items()],
        "pack_columns": PACK_COLUMNS,
        "figure_sections": figure_groups,
        "remark_sections": remarks,
        "sections": _contents(subject, figure_groups, bool(remarks), kind),
    }


_SHORT = {
    "charging": "Practice",
    "protection": "Protection",
    "storage": "Storage",
    "ageing": "Ageing",
    "resistance": "Resistance",
    "energy": "Energy",
    "abuse": "Beyond the limits",
}


def _contents(subject: Subject, groups: tuple[Section, ...], remarks: bool, kind: Kind) -> list[tuple[str, str]]:
    fixed = (
        ("voltages", "Voltages", True),
        ("cautions", "Cautions", subject.cautions),
        ("limits", "Limits", True),
        ("label", "The label", True),
        ("curves", "Curves", True),
        ("pack", "Pack table", not kind.nickel),
        *((id, title, True) for id, title in kind.contents),
        *((group.id, _SHORT.get(group.id, group.title), True) for group in groups),
        ("remarks", "Remarks", remarks),
        ("evidence", "Evidence", True),
        ("cite", "Cite", True),
    )
    return [(id, title) for id, title, present in fixed if present]


def label_title(subject: Subject) -> str:
    """Return the nominal voltages printed on cells of the subject: "3.2 V or 3.3 V"."""
    shown = dict.fromkeys(f"{s.typical:g} V" for s in label_figures(subject) if s.typical is not None)
    return " or ".join(shown) or "what it says"


def values_by_figure(subject: Subject, quantity: str) -> list[tuple[str, list[Value]]]:
    """Return a quantity's values gathered under what they say, lowest first."""
    groups: dict[str, list[Value]] = {}
    for value in sorted(subject.values_of(quantity), key=_middle):
        groups.setdefault(figure(value), []).append(value)
    return list(groups.items())


def _middle(value: Value) -> float:
    given = [n for n in (value.typical, value.min, value.max) if n is not None]
    return given[0]
