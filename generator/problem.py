"""A problem is a value: found, collected, sorted, printed; never raised half-way."""

from __future__ import annotations

import difflib
from collections.abc import Iterable
from dataclasses import dataclass


@dataclass(frozen=True, slots=True, order=True)
class Problem:
    """One thing wrong with one place in one file.

    ``line`` and ``column`` count from 1. ``id`` names the rule, ``hint`` says what to do.
    """

    file: str
    line: int
    column: int
    id: str
    message: str
    hint: str = ""

    def __str__(self) -> str:
        tail = f" {self.hint}" if self.hint else ""
        return f"{self.file}:{self.line}:{self.column}: {self.message} [{self.id}]{tail}"

    def as_dict(self) -> dict[str, str | int]:
        return {
            "file": self.file,
            "line": self.line,
            "column": self.column,
            "id": self.id,
            "message": self.message,
            "hint": self.hint,
        }


class Refused(Exception):
    """Raised by a caller that cannot go on because ``problems`` were found."""

    def __init__(self, problems: Iterable[Problem]) -> None:
        self.problems = tuple(sorted(problems))
        super().__init__("\n".join(str(problem) for problem in self.problems))


def nearest(word: object, known: Iterable[str]) -> str:
    """Return "Did you mean 'x'?" for the closest known word, else an empty string."""
    found = difflib.get_close_matches(str(word), sorted(known), n=1, cutoff=0.6)
    return f"Did you mean '{found[0]}'?" if found else ""
