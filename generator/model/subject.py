"""What sources say: values, remarks and the figures stated from them, by subject."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, fields
from typing import Any

from generator.model.vocabulary import Quantity, Unit
from generator.read import Document
from generator.stating import state


@dataclass(frozen=True, slots=True)
class Condition:
    """Circumstances of a figure; None where the source does not say."""

    temperature_c: float | None = None
    c_rate: float | None = None
    current_a: float | None = None
    load_ohm: float | None = None
    soc_percent: float | None = None
    dod_percent: float | None = None
    charge_voltage_v: float | None = None
    cutoff_v: float | None = None
    end_capacity_percent: float | None = None
    cycles: float | None = None
    days: float | None = None
    size: str | None = None
    product: str | None = None
    note: str | None = None

    def given(self) -> dict[str, float | str]:
        """Return the fields that are given, by name."""
        pairs = ((f.name, getattr(self, f.name)) for f in fields(self))
        return {name: value for name, value in pairs if value is not None}


@dataclass(frozen=True, slots=True)
class Value:
    """One thing one source says; ``id`` is ``subject.quantity.key`` and permanent."""

    id: str
    subject: str
    quantity: Quantity
    key: str
    variant: str
    min: float | None
    typical: float | None
    max: float | None
    unit: Unit
    applies_to: str
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
    def anchor(self) -> str:
        """The anchor on the subject's page."""
        return f"{self.quantity.id}.{self.key}"


@dataclass(frozen=True, slots=True)
class Remark:
    """A sourced statement that is not a number; ``id`` is ``subject.remark.key``."""

    id: str
    subject: str
    key: str
    topic: str
    text: str
    condition: Condition
    source: str | None
    locator: str | None
    grade: str
    reported_by: str | None
    working: str | None
    file: str
    line: int

    @property
    def anchor(self) -> str:
        """The anchor on the subject's page."""
        return f"remark.{self.key}"


@dataclass(frozen=True, slots=True)
class Stated:
    """The figure the almanac states; ``id`` is ``subject.quantity.variant`` and permanent.

    ``rule`` says how it was chosen, ``value_ids`` on which values it rests, ``unchecked`` that a limit rests on
    recalled values alone.
    """

    id: str
    subject: str
    quantity: Quantity
    variant: str
    min: float | None
    typical: float | None
    max: float | None
    unit: Unit
    rule: str
    because: str | None
    value_ids: tuple[str, ...]
    grade: str
    unchecked: bool

    @property
    def anchor(self) -> str:
        return f"{self.quantity.id}.{self.variant}"


@dataclass(frozen=True, slots=True)
class Variant:
    """A kind within a subject whose figures are never mixed with another's."""

    id: str
    name: str
    meaning: str


@dataclass(frozen=True, slots=True)
class Subject:
    """A chemistry or a practice file: the thing that values are about.

    ``kind`` is ``chemistry`` or ``practice``; fields that only a chemistry has are None or empty otherwise.
    ``values``, ``stated`` are in the order of quantities.yml.
    """

    id: str
    kind: str
    name: str
    abbreviation: str
    family: str | None
    rechargeable: bool | None
    positive: str | None
    negative: str | None
    electrolyte: str | None
    iec_letters: str | None
    also_called: tuple[str, ...]
    identity: str
    label_reason: str | None
    cautions: tuple[str, ...]
    series_usual: tuple[int, ...]
    block_cells: tuple[int, ...]
    variants: tuple[Variant, ...]
    values: tuple[Value, ...]
    stated: tuple[Stated, ...]
    remarks: tuple[Remark, ...]
    file: str

    @property
    def page(self) -> str:
        """Address of the subject's page from the site's root."""
        return f"chemistries/{self.id}/" if self.kind == "chemistry" else f"practice/{self.id}/"

    def figure(self, quantity: str, variant: str = "standard") -> Stated | None:
        """Return the stated figure of a quantity, or None when the subject has none."""
        return next((s for s in self.stated if s.quantity.id == quantity and s.variant == variant), None)

    def volts(self, quantity: str, variant: str = "standard") -> float | None:
        """Return the one stated number of a quantity, or None."""
        figure = self.figure(quantity, variant)
        return figure.typical if figure else None

    def values_of(self, quantity: str, variant: str | None = None) -> Iterator[Value]:
        """Yield the values of one quantity, of one variant or of all."""
        for value in self.values:
            if value.quantity.id == quantity and variant in (None, value.variant):
                yield value

    def variant_name(self, variant: str) -> str:
        """Return the name shown for a variant id."""
        return next((v.name for v in self.variants if v.id == variant), variant.replace("-", " "))


def subject_from(document: Document, quantities: Mapping[str, Quantity], kind: str) -> Subject:
    """Build a subject from one checked document."""
    data = document.data
    values = tuple(_values(document, quantities))
    return Subject(
        id=data["id"],
        kind=kind,
        name=data["name"],
        abbreviation=data.get("abbreviation", data["name"]),
        family=data.get("family"),
        rechargeable=data.get("rechargeable"),
        positive=data.get("positive"),
        negative=data.get("negative"),
        electrolyte=data.get("electrolyte"),
        iec_letters=data.get("iec_letters"),
        also_called=tuple(data.get("also_called", ())),
        identity=data["identity"],
        label_reason=data.get("label_reason"),
        cautions=tuple(data.get("cautions", ())),
        series_usual=tuple(data.get("series_usual", ())),
        block_cells=tuple(data.get("block_cells", ())),
        variants=tuple(Variant(v["id"], v["name"], v["meaning"]) for v in data.get("variants", ())),
        values=values,
        stated=tuple(_stated(data, quantities)),
        remarks=tuple(_remarks(document)),
        file=document.name,
    )


def _values(document: Document, quantities: Mapping[str, Quantity]) -> Iterator[Value]:
    subject, groups = document.data["id"], document.data["values"]
    for quantity in quantities.values():
        for index, item in enumerate(groups.get(quantity.id, ())):
            yield Value(
                id=f"{subject}.{quantity.id}.{item['key']}",
                subject=subject,
                quantity=quantity,
                key=item["key"],
                variant=item.get("variant", "standard"),
                min=item.get("min"),
                typical=item.get("typical"),
                max=item.get("max"),
                unit=quantity.unit,
                applies_to=item.get("applies_to", "cell"),
                condition=Condition(**item.get("condition", {})),
                source=item.get("source"),
                locator=item.get("locator"),
                grade=item["grade"],
                reported_by=item.get("reported_by"),
                working=item.get("working"),
                note=item.get("note"),
                file=document.name,
                line=document.mark(("values", quantity.id, index)).line,
            )


def _remarks(document: Document) -> Iterator[Remark]:
    subject = document.data["id"]
    for index, item in enumerate(document.data.get("remarks", ())):
        yield Remark(
            id=f"{subject}.remark.{item['key']}",
            subject=subject,
            key=item["key"],
            topic=item["topic"],
            text=item["text"],
            condition=Condition(**item.get("condition", {})),
            source=item.get("source"),
            locator=item.get("locator"),
            grade=item["grade"],
            reported_by=item.get("reported_by"),
            working=item.get("working"),
            file=document.name,
            line=document.mark(("remarks", index)).line,
        )


def variants_in(values: list[Mapping[str, Any]]) -> list[str]:
    """Return the variants of a quantity's plain values in order of appearance, standard first."""
    found = dict.fromkeys(value.get("variant", "standard") for value in values)
    return sorted(found, key=lambda variant: variant != "standard")


def _stated(data: Mapping[str, Any], quantities: Mapping[str, Quantity]) -> Iterator[Stated]:
    subject, choices = data["id"], data.get("stated", {})
    for quantity in quantities.values():
        # Figures of single products or unlike conditions are listed as evidence; one figure for all would mislead.
        values = [] if quantity.role == "listed" else data["values"].get(quantity.id, [])
        for variant in variants_in(values):
            group = [value for value in values if value.get("variant", "standard") == variant]
            outcome = state(quantity.role, group, choices.get(quantity.id, {}).get(variant))
            yield Stated(
                id=f"{subject}.{quantity.id}.{variant}",
                subject=subject,
                quantity=quantity,
                variant=variant,
                min=outcome.min,
                typical=outcome.typical,
                max=outcome.max,
                unit=quantity.unit,
                rule=outcome.rule,
                because=outcome.because,
                value_ids=tuple(f"{subject}.{quantity.id}.{key}" for key in outcome.keys),
                grade=outcome.grade,
                unchecked=outcome.unchecked,
            )
