"""The five voltages of a cell and its charge-temperature window, as the strip, the ruler and the kinds show them."""

from __future__ import annotations

from dataclasses import dataclass, replace

from markupsafe import Markup

from generator.draw.ruler import RulerRow, ruler_svg
from generator.model.subject import Stated, Subject


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


STRIP = (
    ("Empty", "cut-off", "discharge-cutoff-voltage"),
    ("Storage", "at rest", "storage-voltage"),
    ("Nominal", "the label", "nominal-voltage"),
    ("Full", "charger setting", "charge-voltage-max"),
    ("Never exceed", "whatever happens", "charge-voltage-absolute-max"),
    ("Charge only at", "cell temperature", "charge-temperature"),
)
_OPTIONAL = ("storage-voltage", "charge-voltage-absolute-max")
_CHARGING = ("charge-voltage-max", "charge-voltage-absolute-max", "charge-temperature")


def ruler_row(subject: Subject, variant: str = "standard", href: str | None = None) -> RulerRow | None:
    """Return the row a subject has on the voltage ruler; None without a nominal voltage."""
    nominal = subject.volts("nominal-voltage", variant)
    if nominal is None:
        return None
    empty, storage, full = (
        subject.volts(quantity, variant) for quantity in ("discharge-cutoff-voltage", "storage-voltage", "charge-voltage-max")
    )
    return RulerRow(subject.abbreviation, empty, storage, nominal, None if never_charged(subject, "charge-voltage-max") else full, href)


def cell_ruler(subject: Subject) -> Markup | None:
    """Return the ruler of one standard cell, or None without a nominal voltage."""
    row = ruler_row(subject)
    return Markup(ruler_svg([row], id="ruler", title=f"Voltages of one {subject.abbreviation} cell")) if row else None


def strip(subject: Subject) -> tuple[StripCell, ...]:
    """Return the five voltages and the charge-temperature window."""
    cells = []
    for name, meaning, quantity in STRIP:
        stated = None if never_charged(subject, quantity) else subject.figure(quantity)
        if stated or quantity not in _OPTIONAL:
            cells.append(StripCell(name, meaning, stated, without_figure(subject, quantity)))
    return tuple(cells)


def never_charged(subject: Subject, quantity: str) -> bool:
    """Whether a figure about charging would be out of place, because the cell is never charged."""
    return not subject.rechargeable and quantity in _CHARGING


def without_figure(subject: Subject, quantity: str) -> str:
    """Return what stands where a subject has no figure of a quantity."""
    if never_charged(subject, quantity):
        return "never charge"
    if quantity == "charge-voltage-max" and subject.family == "nickel":
        return "not set by voltage"
    return "no source found"


def kinds(subject: Subject) -> tuple[Kind, ...]:
    """Return the variants with voltages of their own, in the record's order."""
    made = []
    for variant in subject.variants:
        own = tuple((name, s) for name, _, quantity in STRIP if (s := subject.figure(quantity, variant.id)))
        if own and variant.id != "standard":
            made.append(Kind(variant.id, variant.name, variant.meaning, own))
    return tuple(made)


def kinds_ruler(subject: Subject, found: tuple[Kind, ...]) -> Markup | None:
    """Return the standard cell and the kinds that have a label of their own, one below the other."""
    rows = [replace(row, name=kind.name) for kind in found if (row := ruler_row(subject, kind.id))]
    standard = ruler_row(subject)
    if not rows or standard is None:
        return None
    title = f"Kinds of {subject.abbreviation} whose voltages differ"
    return Markup(ruler_svg([replace(standard, name=subject.variant_name("standard")), *rows], id="kinds-ruler", title=title))
