"""What a citation names: the figure, its unit and condition, the grade, who says so and where, edition, permalink."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property

from generator.address import permalink
from generator.editions import edition_of, snapshot
from generator.model.edition import Edition, Row
from generator.model.library import Library
from generator.model.statement import Statement
from generator.model.subject import Remark, Stated, Subject, Value
from generator.model.vocabulary import Source
from generator.pages import format as fmt
from generator.problem import nearest

Item = Value | Stated | Remark | Statement

_CHOSEN = {
    "lowest": "the lowest credible value is stated, because it is an upper limit",
    "highest": "the highest credible value is stated, because it is a lower limit",
    "overlap": "the part common to all credible values is stated",
    "span": "the span from the lowest to the highest value is stated",
    "named": "one value is stated, chosen for a reason given at the link",
}


class UnknownId(Exception):
    """No figure has this id; ``hint`` names the nearest."""

    def __init__(self, id: str, hint: str) -> None:
        self.id, self.hint = id, hint
        super().__init__(f"no figure has the id '{id}'. {hint}".strip())


@dataclass(frozen=True, slots=True)
class Origin:
    """One place a figure comes from; ``source`` is None for common practice and recollection."""

    source: Source | None
    locator: str | None
    condition: str
    grade: str
    reported_by: Source | None


@dataclass(frozen=True, slots=True)
class Cited:
    """Everything a citation of one item says, as plain text and data: as it stands now, or as it stood in an edition."""

    id: str
    label: str
    figure: str
    condition: str
    standing: str
    origins: tuple[Origin, ...]
    edition: Edition | None
    edition_words: str
    link: str

    @property
    def heading(self) -> str:
        """Subject, quantity and figure in one phrase, without a full stop."""
        return f"{self.label}: {self.figure.removesuffix('.')}"

    @property
    def sources(self) -> tuple[Source, ...]:
        """The publications it rests on, each once, those that report another among them."""
        found = (s for origin in self.origins for s in (origin.source, origin.reported_by) if s is not None)
        return tuple({source.id: source for source in found}.values())


class Citer:
    """The library with an index of its ids: finds items and says what a citation of one names."""

    def __init__(self, library: Library) -> None:
        self.library = library

    @cached_property
    def items(self) -> Mapping[str, Item]:
        """Every value, stated figure, remark and statement by id."""
        library = self.library
        groups = (library.stated(), library.values(), library.remarks(), library.statements)
        return {item.id: item for group in groups for item in group}

    @cached_property
    def _subjects(self) -> Mapping[str, Subject]:
        return {subject.id: subject for subject in self.library.subjects()}

    @cached_property
    def _now(self) -> Edition:
        return snapshot(self.library)

    def find(self, id: str) -> Item:
        """Return the item with this id; ``lfp.charge-voltage-max`` alone means the stated figure of variant standard,

        ``size.18650`` the outline the size is drawn with. Raises UnknownId, which names the nearest id.
        """
        found = self.items.get(id) or self._stated.get(id)
        if found is None:
            raise UnknownId(id, self.hint(full_id(id)))
        return found

    @cached_property
    def _stated(self) -> Mapping[str, Item]:
        figures = {stated.id.removesuffix(".standard"): stated for stated in self.library.stated()}
        return figures | {statement.id.rpartition(".")[0]: statement for statement in self.library.statements if statement.stated}

    def place(self, item: Item) -> tuple[str, int]:
        """Return file and line of an item's record; of a stated figure those of the first value it rests on."""
        placed = self.items[item.value_ids[0]] if isinstance(item, Stated) else item
        return placed.file, placed.line

    def row_now(self, id: str) -> Row | None:
        """Return what an edition frozen now would say of an id."""
        return self._now.row(id)

    def hint(self, id: str) -> str:
        """Return what became of an id that is not live, or the nearest live one."""
        retired = next((r for r in self.library.retired if r.id == id), None)
        if retired:
            return f"It is retired. {retired.because}{f' Its place is now {retired.moved_to}.' if retired.moved_to else ''}"
        for part in (id.rpartition(".")[0], id.split(".")[0], ""):  # a slip in the last part is likeliest
            found = nearest(id, (known for known in self.items if known.startswith(f"{part}." if part else "")))
            if found:
                return found
        return "See values.csv and stated.csv for every id."

    def cited(self, item: Item) -> Cited:
        """Return what a citation of ``item`` says."""
        subject = None if isinstance(item, Statement) else self._subjects[item.subject]
        edition = edition_of(self.library, self._now, item.id)
        return Cited(
            id=item.id,
            label=item.about if subject is None else _label(subject, item),
            figure=plain(item.text if isinstance(item, Remark | Statement) else _figure(item)),
            condition="" if isinstance(item, Stated) else plain(fmt.condition(item.condition)),
            standing=_standing(item, subject),
            origins=tuple(self._origins(item)),
            edition=edition,
            edition_words=self._edition_words(item.id, edition),
            link=permalink(item) if subject is None else permalink(subject, item),
        )

    def _origins(self, item: Item) -> Iterator[Origin]:
        basis = [self.items[id] for id in item.value_ids] if isinstance(item, Stated) else [item]
        sources = self.library.sources
        for value in basis:
            condition = plain(fmt.condition(value.condition)) if isinstance(item, Stated) else ""
            source, reporter = sources.get(value.source or ""), sources.get(value.reported_by or "")
            yield Origin(source, value.locator, condition, value.grade, reporter)

    def _edition_words(self, id: str, edition: Edition | None) -> str:
        if edition is not None:
            return f"edition {edition.name}"
        if not self.library.editions:
            return "before the first edition"
        newest = self.library.editions[-1]
        return f"{'changed' if newest.row(id) else 'added'} since edition {newest.name}, not yet in an edition"


def full_id(id: str) -> str:
    """Return the whole id: ``subject.quantity`` alone means the stated figure of variant standard."""
    return f"{id}.standard" if id.count(".") == 1 else id


def plain(text: str) -> str:
    """Return text without the spaces and breaks that only pages can show."""
    # No-break spaces are for pages; forums and reference managers show some of them as boxes.
    return re.sub("[\u00a0\u202f\n]", " ", text)


def _figure(item: Value | Stated) -> str:
    temperature = fmt.fahrenheit(item)
    return f"{fmt.figure(item)} ({temperature})" if temperature else fmt.figure(item)


def _label(subject: Subject, item: Item) -> str:
    name = subject.name if subject.abbreviation in subject.name else f"{subject.name} ({subject.abbreviation})"
    if isinstance(item, Remark):
        return f"{name}, {item.topic}"
    quantity = item.quantity.name
    quantity = quantity[0].lower() + quantity[1:] if quantity[1:2].islower() else quantity
    kinds = {variant.id for variant in subject.variants} | {"standard"}
    variant = f" ({subject.variant_name(item.variant)})" if len(kinds) > 1 else ""
    return f"{name}, {quantity}{variant}"


def _standing(item: Item, subject: Subject | None) -> str:
    grade = f"Grade: {fmt.grade_words(item.grade)}"
    if not isinstance(item, Stated):
        return grade
    count = sum(1 for _ in subject.values_of(item.quantity.id, item.variant))
    chosen = f"Of {count} values {_CHOSEN[item.rule]}. " if count > 1 else ""
    return f"{chosen}{grade}{'. Not yet checked' if item.unchecked else ''}"
