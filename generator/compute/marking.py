"""A marking printed on a cell -> what each part of it means. The page's script reads the same data by the same steps.

Nothing is guessed: a part that no table explains is called the maker's own. Each step is one that Python and
JavaScript do alike: ASCII capitals, single spaces, whole-token matches, digits moved as text.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import asdict, dataclass

from generator.model.designation import Designation, PartRule, Pattern, Row, Table

MAX_LENGTH = 200
MAX_TOKENS = 40
SPAN = 3  # a designation may be typed with up to two spaces in it
# Typed for typed: what people and keyboards put in place of the plain characters.
REPLACED = {
    "\u2010": "-", "\u2011": "-", "\u2012": "-", "\u2013": "-", "\u2014": "-", "\u2212": "-", "_": "-",
    "\u2044": "/", "\u2215": "/", "\\": "/",
    "\t": " ", "\n": " ", "\r": " ", "\u00a0": " ", "\u2009": " ", "\u202f": " ", ";": " ", "|": " ",
}  # fmt: skip
MESSAGES = {
    "empty": "Type what is printed on the cell, for example INR18650-25R or LR6.",
    "cut": "A marking is short: only the first 200 characters were read.",
    "unknown": "No form of marking known here fits. It is probably the maker's own code, which only the data sheet of that very cell explains.",
    "unread": "Not part of any form known here, so the maker's or seller's own: ",
    "maker": "here the maker's own code begins; only the data sheet of that very cell explains it, and no capacity or current follows from it",
    "unlisted-letters": "letters that no standard read here explains: the maker's own",
    "unlisted-code": "a number from the standard's list that is not in this almanac",
}


@dataclass(frozen=True, slots=True)
class Part:
    """One part of a marking: the text, what kind of part, its meaning, and where that comes from."""

    text: str
    role: str
    name: str
    meaning: str
    source: str | None
    grade: str | None


@dataclass(frozen=True, slots=True)
class MarkingReading:
    """One recognised designation. ``form`` is ``file/pattern``; ``series`` and ``parallel`` are None where not said."""

    token: str
    form: str
    meaning: str
    note: str | None
    parts: tuple[Part, ...]
    chemistries: tuple[str, ...]
    chemistry_meaning: str | None
    size: str | None
    series: int | None
    parallel: int | None


@dataclass(frozen=True, slots=True)
class MarkingAnswer:
    """What a typed marking says: plain-language ``messages``, ``readings`` in order, and what was not read."""

    messages: tuple[str, ...]
    readings: tuple[MarkingReading, ...]
    unread: tuple[str, ...]

    def as_dict(self) -> dict:
        """Return the answer as plain data, the same that the page's script makes."""
        data = asdict(self)
        return {key: list(value) if isinstance(value, tuple) else value for key, value in data.items()}


def clean(text: str) -> str:
    """Return at most 200 characters in ASCII capitals with plain hyphens, slashes and single spaces."""
    replaced = "".join(REPLACED.get(c, c) for c in text[:MAX_LENGTH])
    capitals = "".join(chr(ord(c) - 32) if "a" <= c <= "z" else c for c in replaced)
    return " ".join(part for part in capitals.split(" ") if part)


def tokens_of(cleaned: str) -> list[str]:
    """Return the tokens between spaces, without commas around them, at most 40."""
    stripped = (token.strip(",") for token in cleaned.split(" "))
    return [token for token in stripped if token][:MAX_TOKENS]


class Reader:
    """Reads markings by the given designations; made once, used for many."""

    def __init__(self, designations: Mapping[str, Designation]) -> None:
        self._tables: dict[str, Table] = {t.id: t for d in designations.values() for t in d.tables}
        self._names: dict[str, tuple[str, Row]] = {}
        for designation in designations.values():
            for row in designation.names:
                self._names.setdefault(row.code, (f"{designation.id}/names", row))
        self._patterns = [(p, re.compile(p.expression)) for d in designations.values() for p in d.patterns]

    def read(self, text: str) -> MarkingAnswer:
        """Return what ``text`` says; never raises for what it holds."""
        messages = [MESSAGES["cut"]] if len(text) > MAX_LENGTH else []
        tokens = tokens_of(clean(text))
        if not tokens:
            return MarkingAnswer((*messages, MESSAGES["empty"]), (), ())
        readings, unread, place = [], [], 0
        while place < len(tokens):
            found, used = self._longest(tokens, place)
            if found is None:
                unread.append(tokens[place])
            else:
                readings.append(found)
            place += used
        if not readings:
            messages.append(MESSAGES["unknown"])
        elif unread:
            messages.append(MESSAGES["unread"] + " ".join(unread))
        return MarkingAnswer(tuple(messages), tuple(readings), tuple(unread))

    def _longest(self, tokens: Sequence[str], place: int) -> tuple[MarkingReading | None, int]:
        for span in range(min(SPAN, len(tokens) - place), 0, -1):
            token = " ".join(tokens[place : place + span])
            found = self._name(token, alone=len(tokens) == 1) or self._pattern(token)
            if found is not None:
                return found, span
        return None, 1

    def _name(self, token: str, *, alone: bool) -> MarkingReading | None:
        joined = token.replace(" ", "")
        # One letter within other text is rarely a size: it counts only when it stands alone.
        if joined not in self._names or (len(joined) == 1 and not alone):
            return None
        form, row = self._names[joined]
        part = Part(token, "name", "Name", row.meaning, row.evidence.source, row.evidence.grade)
        return MarkingReading(token, form, row.meaning, None, (part,), row.chemistries, None, row.size, row.series, None)

    def _pattern(self, token: str) -> MarkingReading | None:
        for pattern, expression in self._patterns:
            match = expression.fullmatch(token)
            if match:
                return self._reading(token, pattern, match.groups())
        return None

    def _reading(self, token: str, pattern: Pattern, groups: Sequence[str | None]) -> MarkingReading:
        parts, counts = [], {"series": None, "parallel": None}
        for rule, text in zip(pattern.parts, groups, strict=True):
            row = self._row(rule.table, text) if text is not None else None
            if text is None or (text == "" and row is None):
                continue
            if rule.role in counts:
                counts[rule.role] = int(text)
            parts.append(_part(rule, text, row))
        chemistry = self._joined(pattern.chemistry_table, pattern.chemistry_parts, groups, strip=False)
        size = self._joined(pattern.size_table, pattern.size_parts, groups, strip=True)
        return MarkingReading(
            token,
            pattern.id,
            pattern.meaning,
            pattern.note,
            tuple(parts),
            chemistry.chemistries if chemistry else (),
            chemistry.meaning if chemistry else None,
            size.size if size else None,
            counts["series"],
            counts["parallel"],
        )

    def _row(self, table: str | None, code: str) -> Row | None:
        return self._tables[table].row(code) if table is not None else None

    def _joined(self, table: str | None, places: Sequence[int], groups: Sequence[str | None], *, strip: bool) -> Row | None:
        if table is None:
            return None
        found = [groups[place - 1] or "" for place in places]
        # Leading zeros of a dimension carry nothing, those of a single size number do: 03 is not 3.
        code = "".join(without_zeros(text) if strip and len(found) > 1 else text for text in found)
        return self._row(table, code)


def _part(rule: PartRule, text: str, row: Row | None) -> Part:
    evidence = row.evidence if row else rule.evidence
    meaning = row.meaning if row else _meaning(rule, text)
    return Part(text, rule.role, rule.name, meaning, evidence.source if evidence else None, evidence.grade if evidence else None)


def _meaning(rule: PartRule, text: str) -> str:
    if rule.role == "maker":
        return MESSAGES["maker"]
    if rule.meaning is not None:
        return rule.meaning.replace("{}", shown(text, rule.decimals))
    return MESSAGES["unlisted-code"] if rule.role == "code" else MESSAGES["unlisted-letters"]


def without_zeros(text: str) -> str:
    """Return digits without leading zeros: 08 is 8, 0 stays 0; other text unchanged."""
    return re.sub("^0+(?=[0-9])", "", text)


def shown(text: str, decimals: int) -> str:
    """Return digits as a number with ``decimals`` of them behind the point: ("650", 1) is 65.0."""
    if not decimals:
        return without_zeros(text)
    padded = text.rjust(decimals + 1, "0")
    return f"{without_zeros(padded[:-decimals])}.{padded[-decimals:]}"
