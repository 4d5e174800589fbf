"""One page a chemistry: identity, voltages, cautions, limits, label, packs, figures by subject matter, evidence."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from markupsafe import Markup

from generator.compute.results import Results
from generator.draw.ruler import RulerRow, ruler_svg
from generator.model.library import Library
from generator.model.subject import Stated, Subject, Value
from generator.pages.environment import render, to_root
from generator.pages.format import figure
from generator.pages.sections import Section, figure_sections, label_figures, limit_sections, remark_sections


@dataclass(frozen=True, slots=True)
class StripCell:
    """One figure of the strip under the ruler; ``missing`` is what stands there without a figure."""

    name: str
    meaning: str
    stated: Stated | None
    missing: str


@dataclass(frozen=True, slots=True)
class Kind:
    """A variant and those of the five voltages that are its own."""

    id: str
    name: str
    meaning: str
    figures: tuple[tuple[str, Stated], ...]


@dataclass(frozen=True, slots=True)
class PackColumn:
    name: str
    field: str


STRIP = (
    ("Empty", "cut-off", "discharge-cutoff-voltage"),
    ("Storage", "at rest", "storage-voltage"),
    ("Nominal", "the label", "nominal-voltage"),
    ("Full", "charger setting", "charge-voltage-max"),
    ("Never exceed", "whatever happens", "charge-voltage-absolute-max"),
    ("Charge only at", "cell temperature", "charge-temperature"),
)
PACK_COLUMNS = (
    PackColumn("Empty, V", "empty_v"),
    PackColumn("Nominal, V", "nominal_v"),
    PackColumn("Storage, V", "storage_v"),
    PackColumn("Full, V", "full_v"),
)
_OPTIONAL = ("charge-voltage-absolute-max",)
_NEVER_CHARGED = ("charge-voltage-max", "charge-temperature")


def pages(library: Library, results: Results, figures: Mapping[str, str | bytes]) -> Mapping[str, str]:
    """Return the chemistry pages by path."""
    made = {}
    for id, subject in library.chemistries.items():
        path = f"chemistries/{id}/index.md"
        made[path] = render("chemistry.md.j2", root=to_root(path), results=results, figures=figures, **_view(subject, library, results))
    return made


def _view(subject: Subject, library: Library, results: Results) -> dict[str, object]:
    limits, figure_groups, remarks = limit_sections(subject), figure_sections(subject), remark_sections(subject.remarks)
    row, own_kinds = ruler_row(subject), kinds(subject)
    return {
        "subject": subject,
        "library": library,
        "ruler": Markup(ruler_svg([row], id="ruler", title=f"Voltages of one {subject.abbreviation} cell")) if row else None,
        "strip": strip(subject),
        "kinds": own_kinds,
        "kinds_ruler": _kinds_ruler(subject, own_kinds),
        "limits": limits,
        "label": label_figures(subject),
        "label_title": label_title(subject),
        "nominal_values": values_by_figure(subject, "nominal-voltage"),
        "pack": results.packs[subject.id],
        "pack_columns": [c for c in PACK_COLUMNS if getattr(results.packs[subject.id][0], c.field) is not None],
        "figure_sections": figure_groups,
        "remark_sections": remarks,
        "sections": _contents(subject, figure_groups, remarks),
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


def _contents(subject: Subject, figure_groups: tuple[Section, ...], remarks: tuple[Section, ...]) -> list[tuple[str, str]]:
    entries = [("voltages", "Voltages"), *([("cautions", "Cautions")] if subject.cautions else []), ("limits", "Limits")]
    entries += [("label", "The label"), ("pack", "Pack table")]
    entries += [(section.id, _SHORT.get(section.id, section.title)) for section in figure_groups]
    return [*entries, *([("remarks", "Remarks")] if remarks else []), ("evidence", "Evidence"), ("cite", "Cite")]


def ruler_row(subject: Subject, variant: str = "standard", href: str | None = None) -> RulerRow | None:
    """Return the row a subject has on the voltage ruler; None without a nominal voltage."""
    nominal = subject.volts("nominal-voltage", variant)
    if nominal is None:
        return None
    empty, storage, full = (
        subject.volts(quantity, variant) for quantity in ("discharge-cutoff-voltage", "storage-voltage", "charge-voltage-max")
    )
    return RulerRow(subject.abbreviation, empty, storage, nominal, full if subject.rechargeable else None, href)


def strip(subject: Subject) -> tuple[StripCell, ...]:
    """Return the five voltages and the charge-temperature window."""
    cells = []
    for name, meaning, quantity in STRIP:
        stated = subject.figure(quantity)
        never = not subject.rechargeable and quantity in _NEVER_CHARGED
        if never:
            cells.append(StripCell(name, meaning, None, "never charge"))
        elif stated or quantity not in _OPTIONAL:
            cells.append(StripCell(name, meaning, stated, "no source found"))
    return tuple(cells)


def kinds(subject: Subject) -> tuple[Kind, ...]:
    """Return the variants with voltages of their own, in the record's order."""
    made = []
    for variant in subject.variants:
        own = tuple((name, s) for name, _, quantity in STRIP if (s := subject.figure(quantity, variant.id)))
        if own and variant.id != "standard":
            made.append(Kind(variant.id, variant.name, variant.meaning, own))
    return tuple(made)


def _kinds_ruler(subject: Subject, found: tuple[Kind, ...]) -> Markup | None:
    """Return the standard cell and the kinds that have a label of their own, one below the other."""
    rows = [replace(row, name=kind.name) for kind in found if (row := ruler_row(subject, kind.id))]
    standard = ruler_row(subject)
    if not rows or standard is None:
        return None
    title = f"Kinds of {subject.abbreviation} whose voltages differ"
    return Markup(ruler_svg([replace(standard, name=subject.variant_name("standard")), *rows], id="kinds-ruler", title=title))


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
