"""What sources say: values, remarks and the figures stated from them, by subject."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, fields

from generator.model.vocabulary import Quantity, Unit


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
