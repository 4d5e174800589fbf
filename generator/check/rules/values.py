"""Each value says enough to be trusted: a figure, its place in a source, its working."""

from __future__ import annotations

from collections.abc import Iterator

from generator.check.corpus import Corpus, Place
from generator.problem import Problem


def some_figure(corpus: Corpus) -> Iterator[Problem]:
    """A value holds at least one of min, typical, max."""
    for place in corpus.values():
        if all(place.item.get(name) is None for name in ("min", "typical", "max")):
            yield place.document.problem(place.path, "some-figure", "the value has neither min, typical nor max", "Give at least one of them.")


def ordered(corpus: Corpus) -> Iterator[Problem]:
    """min <= typical <= max."""
    for place in corpus.values():
        figures = [(name, place.item.get(name)) for name in ("min", "typical", "max")]
        given = [(name, figure) for name, figure in figures if figure is not None]
        for (name, figure), (next_name, next_figure) in zip(given, given[1:]):
            if figure > next_figure:
                message = f"{next_name} {next_figure} is below {name} {figure}"
                yield place.document.problem((*place.path, next_name), "ordered", message, "Check which is which.")


def source_present(corpus: Corpus) -> Iterator[Problem]:
    """Only common practice and recollection may stand without a source; common practice never has one."""
    for place in (*corpus.values(), *corpus.remarks()):
        grade, source = place.item["grade"], place.item.get("source")
        if source is None and grade not in ("practice", "recalled"):
            yield place.document.problem(place.path, "source-present", f"a figure graded '{grade}' needs a source", "Name it, or grade it practice or recalled if that is the truth.")
        if source is not None and grade == "practice":
            yield place.document.problem((*place.path, "grade"), "source-present", "common practice has no published source, but one is named", "Grade it read or reported, or remove the source.")


def locator_present(corpus: Corpus) -> Iterator[Problem]:
    """A figure from a source says where in the source, unless it is recalled or practice."""
    for place in (*corpus.values(), *corpus.remarks()):
        if place.item["grade"] not in ("practice", "recalled") and not place.item.get("locator"):
            yield place.document.problem(place.path, "locator-present", "the value does not say where in its source it stands", "Add locator: page, table, clause or row.")


def working_shown(corpus: Corpus) -> Iterator[Problem]:
    """A derived figure or remark shows its working; no other pretends to have one."""
    for place in (*corpus.values(), *corpus.remarks()):
        derived = place.item["grade"] == "derived"
        if derived and not place.item.get("working"):
            yield place.document.problem(place.path, "working-shown", f"a derived {_kind(place)} does not show its working", "Add working: how it follows from what the source says.")
        if not derived and place.item.get("working"):
            yield place.document.problem((*place.path, "working"), "working-shown", f"only a derived {_kind(place)} has a working", "Grade it derived, or move the text to note.")


def _kind(place: Place) -> str:
    return "figure" if place.quantity else "remark"
