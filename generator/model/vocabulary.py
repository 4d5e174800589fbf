"""Quantities, units and publications."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any


@dataclass(frozen=True, slots=True)
class Unit:
    """A unit: ``symbol`` as written, ``ucum`` as machines read it."""

    symbol: str
    ucum: str
    name: str


@dataclass(frozen=True, slots=True)
class Quantity:
    """A quantity that values may be given for; ``role`` decides how one figure is stated."""

    id: str
    name: str
    symbol: str | None
    unit: Unit
    role: str
    group: str
    tasks: tuple[str, ...]
    plausible_min: float
    plausible_max: float
    decimals: int | None
    meaning: str
    caution: str | None

    @property
    def is_limit(self) -> bool:
        return self.role not in ("typical", "listed")


@dataclass(frozen=True, slots=True)
class Author:
    """A person (family, given) or a body (literal)."""

    family: str | None
    given: str | None
    literal: str | None

    @property
    def name(self) -> str:
        """The name in reading order."""
        return self.literal or " ".join(part for part in (self.given, self.family) if part)


@dataclass(frozen=True, slots=True)
class Source:
    """One publication, with the fields of CSL."""

    id: str
    type: str
    kind: str
    title: str
    authors: tuple[Author, ...]
    year: int | None
    month: int | None
    day: int | None
    container_title: str | None
    volume: str | None
    issue: str | None
    page: str | None
    publisher: str | None
    edition: str | None
    number: str | None
    doi: str | None
    url: str | None
    note: str | None

    @property
    def address(self) -> str | None:
        """Where the original is: the DOI resolver's address, else the publisher's."""
        return f"https://doi.org/{self.doi}" if self.doi else self.url

    @property
    def short(self) -> str:
        """A short tag for tables: a sheet by its product, a standard by its number, a paper by authors and year."""
        return _shortened(self._product() or self._number() or self._authors() or self.title)

    def _product(self) -> str | None:
        """The type number in a sheet's title, with the maker's name where that stays short."""
        found = _TYPE_NUMBER.search(self.title) if self.kind in ("data-sheet", "safety-sheet") else None
        if not found:
            return None
        maker = self.authors[0].literal if self.authors else None
        whole = f"{maker} {found[0]}"
        return whole if maker and len(whole) <= _SHORT else found[0]

    def _number(self) -> str | None:
        return self.number if self.kind in ("standard", "regulation") and self.number and len(self.number) <= _SHORT + 8 else None

    def _authors(self) -> str | None:
        if not self.authors:
            return None
        who = self.authors[0].family or self.authors[0].literal or ""
        if len(self.authors) == 2 and self.authors[1].family:
            who = f"{who} and {self.authors[1].family}"
        elif len(self.authors) > 1:
            who = f"{who} et al."
        return f"{who} {self.year}" if self.year else who


_SHORT = 28
# A type number mixes capitals and digits: INR-18650-P28A, US18650VTC5A, HHR450A, LFP-26650-3300.
_TYPE_NUMBER = re.compile(r"\b(?=[A-Za-z0-9/.-]*[0-9])(?=[A-Za-z0-9/.-]*[A-Z])[A-Za-z0-9][A-Za-z0-9/.-]*[A-Za-z0-9]\b")


def _shortened(text: str) -> str:
    return text if len(text) <= 48 else f"{text[:46].rsplit(' ', 1)[0]} \u2026"


def units_from(data: Mapping[str, Any]) -> dict[str, Unit]:
    """Return units by symbol, from the checked content of quantities.yml."""
    return {unit["symbol"]: Unit(unit["symbol"], unit["ucum"], unit["name"]) for unit in data["units"]}


def quantities_from(data: Mapping[str, Any], units: Mapping[str, Unit]) -> dict[str, Quantity]:
    """Return quantities by id in the file's order, from the checked content of quantities.yml."""
    return {
        item["id"]: Quantity(
            id=item["id"],
            name=item["name"],
            symbol=item.get("symbol"),
            unit=units[item["unit"]],
            role=item["role"],
            group=item["group"],
            tasks=tuple(item.get("tasks", ())),
            plausible_min=item["plausible_min"],
            plausible_max=item["plausible_max"],
            decimals=item.get("decimals"),
            meaning=item["meaning"],
            caution=item.get("caution"),
        )
        for item in data["quantities"]
    }


_SOURCE_TEXT = ("volume", "issue", "page", "publisher", "edition", "number", "doi", "url", "note")


def sources_from(data: Mapping[str, Any]) -> dict[str, Source]:
    """Return publications by id, from the checked content of sources.yml."""
    return {item["id"]: _source(item) for item in data["sources"]}


def _source(item: Mapping[str, Any]) -> Source:
    authors = tuple(Author(a.get("family"), a.get("given"), a.get("literal")) for a in item.get("author", ()))
    return Source(
        id=item["id"],
        type=item["type"],
        kind=item["kind"],
        title=item["title"],
        authors=authors,
        year=item.get("year"),
        month=item.get("month"),
        day=item.get("day"),
        container_title=item.get("container-title"),
        **{name: item.get(name) for name in _SOURCE_TEXT},
    )
