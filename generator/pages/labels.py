"""Printed pack voltages: the index with its field, and one page a voltage."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from markupsafe import Markup

from generator.address import label_picture
from generator.address import label_slug as slug
from generator.compute.label import Explanation
from generator.compute.label import likely as likely_of
from generator.compute.label_voltages import EMPTY, FULL, safe_voltages
from generator.compute.label_lookup import MESSAGES
from generator.compute.label_words import empty_text, full_text
from generator.compute.measured import PERCENT_SHOWN, RestTable
from generator.compute.results import Results
from generator.draw.preview_data import label_preview
from generator.draw.ruler import RulerRow, pack_axis, ruler_svg
from generator.model.label import READING_WORDS
from generator.model.library import Library
from generator.model.subject import Subject
from generator.pages.environment import render, to_root
from generator.pages.format import number

RULER_ROWS = 6
REST_COLUMNS = 4
BOOST, PREFIX_BOOST = 1.3, 3


@dataclass(frozen=True, slots=True)
class RestColumn:
    """One pack of the table of resting voltages."""

    name: str
    table: RestTable


def pages(library: Library, results: Results) -> Mapping[str, str]:
    """Return the index of labels and the page of every recorded voltage, by path."""
    path = "labels/index.md"
    table = results.labels.table
    made = {path: render("labels.md.j2", root=to_root(path), library=library, table=_index(table), rules=library.labels.rules, rounded=library.labels.rounded, messages=MESSAGES)}
    for volts, explanations in table.items():
        path = f"labels/{slug(volts)}/index.md"
        made[path] = render("label.md.j2", root=to_root(path), library=library, **_view(volts, explanations, library, results))
    return made


def _index(table: Mapping[float, Sequence[Explanation]]) -> list[dict[str, object]]:
    return [{"volts": volts, "slug": slug(volts), "shown": likely_of(found)} for volts, found in table.items() if found]


def _view(volts: float, explanations: Sequence[Explanation], library: Library, results: Results) -> dict[str, object]:
    likely = likely_of(explanations)
    others = [e for e in explanations if e not in likely]
    entries = [e for e in library.labels.entries if e.volts == volts]
    shown = f"{volts:g}"
    return {
        "volts": shown,
        "page": f"labels/{slug(volts)}/",
        "line": next((s.line for s in library.statements if s.page == f"labels/{slug(volts)}/"), 1),
        "title": f"{_sold_as(shown, likely)} battery pack: what is inside",
        "description": _description(shown, likely),
        "image": label_picture(volts) if likely else None,
        "image_alt": label_preview(volts, likely, library.chemistries).in_words if likely else None,
        "likely": likely,
        "rounded": rounded(likely),
        "search": _search(shown, results),
        "others": others,
        "entries": entries,
        "ruler": _ruler(shown, likely, library),
        "chargers": chargers(likely),
        "rest": _rest(likely, library, results),
        "rest_percent": PERCENT_SHOWN,
        "reading_words": READING_WORDS,
        "span_words": span_words,
        "texts": {"empty_v": empty_text, "full_v": full_text, "nominal_v": "{:.2f}".format, "storage_v": "{:.2f}".format},
        "products": library.labels.products,
        "health": MESSAGES["health"],
        "neighbours": _neighbours(volts, results),
    }


def _sold_as(shown: str, likely: Sequence[Explanation]) -> str:
    """Return how the label is written: makers that print a rounded highest voltage add "max"."""
    return f"{shown} V or {shown} V max" if rounded(likely) else f"{shown} V"


def rounded(likely: Sequence[Explanation]) -> list[Explanation]:
    """Return the readings that take the label for a rounded highest voltage."""
    return [e for e in likely if e.reading == "full" and e.evidence and round(e.best.per_cell_v * e.series, 3) != e.best.row.full_v]


def _search(shown: str, results: Results) -> dict[str, float]:
    """Return the page's weight in the search, which completes every word: 24 also finds 2450, and 12 the rarer 12.6."""
    longer = any(f"{v:g}".startswith(shown) and f"{v:g}" != shown for v in results.labels.table)
    return {"boost": PREFIX_BOOST if longer else BOOST}


def _description(shown: str, likely: Sequence[Explanation]) -> str:
    parts = "; ".join(f"{e.series} {'cell' if e.series == 1 else 'cells'} of {e.group.name}" for e in likely[:3])
    return f"What a pack marked {shown} V is: {parts}. Empty, nominal, storage and full voltage of each, the charger, and how to tell them apart."


def chargers(explanations: Sequence[Explanation]) -> list[tuple[float, str]]:
    """Return the distinct safe full voltages of the likely readings with what they charge, ascending."""
    found: dict[float, list[str]] = {}
    for explanation in explanations:
        if explanation.safe_full_v is not None:
            found.setdefault(explanation.safe_full_v, []).append(f"{explanation.series} of {explanation.group.name}")
    return [(volts, " or ".join(dict.fromkeys(names))) for volts, names in sorted(found.items())]


def _ruler(shown: str, likely: Sequence[Explanation], library: Library) -> Markup | None:
    rows = [_row(explanation, library.chemistries) for explanation in likely]
    unique = list(dict.fromkeys(rows))[:RULER_ROWS]
    if not unique:
        return None
    return Markup(ruler_svg(unique, id="ruler", title=f"Packs sold as {shown} V", axis=pack_axis(unique)))


def _row(explanation: Explanation, chemistries: Mapping[str, Subject]) -> RulerRow:
    """The most likely chemistry's row, with the safe ends of all that the pack may be: the sentence above says the same."""
    volts, several = safe_voltages(explanation, chemistries), len(explanation.readings) > 1
    row, subject = explanation.best.row, chemistries[explanation.best.chemistry]
    name = f"{explanation.series} \u00d7 {subject.abbreviation}{' and like' if several else ''}"
    return RulerRow(name, volts[EMPTY], row.storage_v, row.nominal_v, volts[FULL], f"../../chemistries/{subject.id}/")


def _rest(likely: Sequence[Explanation], library: Library, results: Results) -> list[RestColumn]:
    found = {}
    for reading in (r for e in likely for r in e.readings if r.variant == "standard"):
        table = results.labels.rest.get((reading.chemistry, reading.series))
        if table is not None:
            name = f"{reading.series} \u00d7 {library.chemistries[reading.chemistry].abbreviation}"
            found.setdefault(name, RestColumn(name, table))
    return list(found.values())[:REST_COLUMNS]


def _neighbours(volts: float, results: Results) -> list[tuple[str, str]]:
    known = list(results.labels.table)
    place = known.index(volts)
    near = known[max(place - 3, 0) : place] + known[place + 1 : place + 4]
    return [(f"{v:g}", slug(v)) for v in near]


def span_words(span: tuple[float, float]) -> str:
    """Return two voltages to a hundredth as one range: "11.2 to 11.4", or one number where they agree."""
    low, high = (number(round(v, 2), 2) for v in span)
    return low if low == high else f"{low} to {high}"
