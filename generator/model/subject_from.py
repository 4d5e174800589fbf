"""From one checked document to a subject: its values in the order of the quantities, and the figures stated from them."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from generator.model.subject import Condition, Remark, Stated, Subject, Value, Variant
from generator.model.vocabulary import Quantity
from generator.read import Document
from generator.stating import state


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
