"""Why 3.6 and why 3.7: the plain answer, what is printed, and the averages computed."""

from __future__ import annotations

from collections.abc import Mapping

from generator.compute.nominal import LABELS_V, SOLD_AS_V, AverageRow, CutoffEffect, NominalStudy, Printed
from generator.compute.results import Results
from generator.draw.curve_parts import published_by
from generator.draw.curves import nominal_figure
from generator.model.library import Library
from generator.model.subject import Remark, Value
from generator.pages.curve_words import joined
from generator.pages.environment import render, to_root
from generator.pages.format import number

REMARKS = ("nominal-is-approximate", "nominal-maker-note", "nominal-ask-the-maker", "watt-hours-from-nominal")
_STANDARD = (("lco", "qcvn-101-2016"),)
_TWINS = (("nmc", "lg-m50t-spec"), ("nmc", "lg-m50lt-spec"))
_TWIN_CELLS = ("chen-2020", "okane-2022")  # the sets measured on that cell
_SLOW_C, _FAST_C = 0.2, 1.0


def pages(library: Library, results: Results) -> Mapping[str, str]:
    """Return the page by path."""
    path, study = "nominal-voltage/index.md", results.nominal
    nmc = library.chemistries.get("nmc")
    context = {
        "study": study,
        "answer": answer(study),
        "figure": nominal_figure(library, study),
        "full": nmc.figure("charge-voltage-max") if nmc else None,
        "full_page": nmc.page if nmc else None,
        "remarks": _remarks(library),
        "standard_values": _values(library, _STANDARD),
        "printed_words": printed_words(study.printed),
        "twins": _values(library, _TWINS),
        "twin_words": twin_words(study),
        "average_words": average_words(study, library),
        "cutoff_words": cutoff_words(study.cutoffs, library),
        "sold_v": SOLD_AS_V,
        "names": {row.cell: published_by(library, row.cell) for row in study.rows},
    }
    return {path: render("nominal.md.j2", library=library, root=to_root(path), **context)}


def answer(study: NominalStudy) -> str:
    """Return the plain answer in three sentences; its numbers are those of the study."""
    low, high = LABELS_V
    met = study.meeting()
    sinking = f"{number(low)} V, read to 10 mV as labels are, is what {len(met)} of them sink to at {_rate(met[0])} to {_rate(met[-1])} C" if met else f"none sinks to {number(low)} V"
    return (
        "Both labels name the same kind of cell: a nominal voltage is an approximate figure that identifies a cell, "
        f"and none of the standards read for this almanac sets it at {number(low)} or {number(high)} V. "
        "What a discharge really averages depends on the oxide, the current and the cut-off: the "
        f"{sum(row.layered for row in study.rows)} published cells of cobalt and nickel oxides computed here "
        f"average {_span(study, _SLOW_C)} at {_SLOW_C:g} C and {_span(study, _FAST_C)} at {_FAST_C:g} C. "
        f"So {number(high)} V is, to the nearest tenth, the slow average of {study.rounding_to(high, _SLOW_C)} of them, {sinking}, "
        "and a maker may print either."
    )


def _rate(row: AverageRow) -> str:
    return number(round(row.meets_c, 1))


def _span(study: NominalStudy, rate: float) -> str:
    low, high = study.spread.get(rate, (None, None))
    return "no figure" if low is None else f"{_volts(low)} to {_volts(high)} V"


def _volts(volts: float) -> str:
    return number(round(volts, 2), 2)


def printed_words(printed: tuple[Printed, ...]) -> str:
    """Return how many values print which figure; those from memory are counted apart."""
    single = [group for group in printed if group.low_v == group.high_v and group.checked]
    total = sum(group.checked for group in single)
    counts = joined([f"{group.checked} print{'s' * (group.checked == 1)} {number(group.low_v, 2)} V" for group in sorted(single, key=lambda g: -g.checked)]) if single else "none"
    recalled = sum(len(group.values) - group.checked for group in printed)
    more = f" {recalled} more are from memory and not counted." if recalled else ""
    return (
        f"Of {total} figures with a source for cobalt-, nickel- and manganese-oxide cells, {counts}.{more} "
        "The letters on a cell do not settle it: see the cells by name."
    )


def twin_words(study: NominalStudy) -> str:
    """Return what the sets measured on that cell average over a five-hour discharge."""
    rows = [row for row in study.rows if row.cell in _TWIN_CELLS]
    place = study.rates_c.index(_SLOW_C)
    volts = sorted({_volts(row.averages_v[place]) for row in rows if row.averages_v[place] is not None})
    raised = sorted({_volts(e.raised_v) for e in study.cutoffs if e.cell in _TWIN_CELLS and e.c_rate == _SLOW_C})
    if not volts or not raised:
        return ""
    return (
        f"Two sets measured on the M50 of this family average {' to '.join(volts)} V at {_SLOW_C:g} C down to 2.5 V, "
        f"and {' to '.join(raised)} V when stopped at 3.0 V: the two labels lie within what method and cut-off move."
    )


def average_words(study: NominalStudy, library: Library) -> str:
    """Return which cells fall to 3.6 V, and at what rate."""
    slow, met = study.averages_at(_SLOW_C), study.meeting()
    if not slow or not met:
        return ""
    lowest = min(slow)
    above = f"At {_SLOW_C:g} C every one is above {number(LABELS_V[0])} V (lowest {_volts(lowest)} V). " if lowest > LABELS_V[0] else ""
    told = joined([f"{published_by(library, row.cell)} near {_rate(row)} C" for row in met])
    return f"{above}These sink to {number(LABELS_V[0], 2)} V within their rates: {told}."


def cutoff_words(effects: tuple[CutoffEffect, ...], library: Library) -> str:
    """Return the largest and the smallest effect of the cut-off at the slow rate."""
    slow = sorted((e for e in effects if e.c_rate == _SLOW_C), key=lambda e: e.raised_v - e.own_v)
    if not slow:
        return ""
    small, large = slow[0], slow[-1]

    def told(effect: CutoffEffect) -> str:
        return f"{1000 * (effect.raised_v - effect.own_v):.0f} mV for {published_by(library, effect.cell)}"

    return (
        "An average is a statement about where the discharge stops. The last few percent of charge come at low voltage, so a higher cut-off leaves them in "
        f"the cell and lifts the average: at {_SLOW_C:g} C by {told(small)} up to {told(large)}."
    )


def _remarks(library: Library) -> list[Remark]:
    practice = library.practices.get("lithium-ion")
    found = {remark.key: remark for remark in practice.remarks} if practice else {}
    return [found[key] for key in REMARKS if key in found]


def _values(library: Library, wanted: tuple[tuple[str, str], ...]) -> list[Value]:
    found = []
    for subject_id, key in wanted:
        subject = library.chemistries.get(subject_id)
        found += [value for value in subject.values_of("nominal-voltage") if value.key == key] if subject else []
    return found
