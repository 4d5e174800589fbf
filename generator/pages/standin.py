"""The stand-in page: what replaces a lead-acid battery or a nickel pack, what its charger does to it, what never works."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from markupsafe import Markup

from generator.compute import old_charger, standin
from generator.compute.results import Results
from generator.draw.ruler import RulerRow, pack_axis, ruler_svg
from generator.model.library import Library
from generator.model.subject import Remark, Stated, Subject
from generator.pages.environment import render, to_root

PATH = "stand-in/index.md"


@dataclass(frozen=True, slots=True)
class ChargerCell:
    """What one stage of a charger does to one cell of a candidate [V], and whether that is too much."""

    cell_v: float
    too_high: bool


@dataclass(frozen=True, slots=True)
class ChargerTable:
    """Stages of lead-acid chargers against the candidates that a builder might put on them."""

    candidates: tuple[standin.Candidate, ...]
    rows: tuple[tuple[old_charger.ChargerSetting, tuple[ChargerCell, ...]], ...]


@dataclass(frozen=True, slots=True)
class Entry:
    """One old battery on the page: its ruler, its candidates, and the old charger where it is a lead-acid one."""

    old: standin.OldBattery
    candidates: tuple[standin.Candidate, ...]
    ruler: Markup | None
    charger: ChargerTable | None
    by_chemistry: Mapping[str, tuple[standin.Candidate, ...]]


@dataclass(frozen=True, slots=True)
class Conflict:
    """A pairing that is never allowed: the stage or window that is too much, and the figure it breaks."""

    setting: old_charger.ChargerSetting
    candidate: standin.Candidate
    cell_v: float
    limit: Stated


def pages(library: Library, results: Results) -> Mapping[str, str]:
    """Return the stand-in page by path; none when no record states what an old battery shows its equipment."""
    found = standin.replacements(library, results.curves)
    if not found:
        return {}
    entries = [_entry(one, library) for one in found]
    chemistries = [library.chemistries[id] for id in standin.CANDIDATES if id in library.chemistries]
    context = {
        "lead": [e for e in entries if e.old.subject.family == "lead-acid"],
        "nickel": [e for e in entries if e.old.subject.family == "nickel"],
        "chemistries": chemistries,
        "equalise": _conflict(entries, "lfp", "equalise"),
        "cold": _conflict(entries, "lfp", "AGM, absorption at"),
        "three": _conflict(entries, "nmc", "AGM, absorption"),
        "titanate": _conflict(entries, "lto", "AGM, absorption"),
        "four": _above(entries, "nmc"),
        "windows": [s for subject in chemistries if (s := subject.figure("charge-temperature"))],
        "nickel_remarks": _remarks(library, (("nicd", "no-constant-voltage"), ("nicd", "chip-limits"))),
        "curves_used": sorted({c.curve_cell for e in entries for c in e.candidates if c.curve_cell}),
        "verdicts": {standin.FITS: "fits", standin.LOWER: "fits if charged lower", standin.NEVER: "never"},
    }
    return {PATH: render("kinds/standin.md.j2", library=library, root=to_root(PATH), **context)}


def _entry(one: standin.Replacement, library: Library) -> Entry:
    old = one.old
    groups: dict[str, tuple[standin.Candidate, ...]] = {}
    for candidate in one.candidates:
        groups[candidate.subject.id] = (*groups.get(candidate.subject.id, ()), candidate)
    charger = _charger(old, one.candidates, library) if old.subject.family == "lead-acid" else None
    return Entry(old, one.candidates, _ruler(one), charger, groups)


def _ruler(one: standin.Replacement) -> Markup | None:
    shown = [c for c in one.candidates if c.verdict != standin.NEVER]
    if not shown:
        return None
    old = one.old
    rows = [RulerRow(old.name, old.low_v, None, old.nominal_v, old.high_v)]
    rows += [RulerRow(f"{c.series}S {c.subject.abbreviation}", c.empty_v, None, c.nominal_v, c.full_v) for c in shown]
    svg = ruler_svg(rows, id=f"ruler-{old.id}", title=f"Windows of {old.name} and of what can stand in for it", axis=pack_axis(rows))
    return Markup(svg)


def _charger(old: standin.OldBattery, candidates: Sequence[standin.Candidate], library: Library) -> ChargerTable:
    settings = old_charger.charger_settings(library, old.cells)
    shown = tuple(c for c in candidates if c.verdict != standin.NEVER)
    rows = tuple((s, tuple(ChargerCell(old_charger.per_cell(s, c.series), old_charger.over_limit(s, c)) for c in shown)) for s in settings)
    return ChargerTable(shown, rows)


def _conflict(entries: Sequence[Entry], chemistry: str, stage: str) -> Conflict | None:
    """The pairing on a 12 V battery where a stage drives a cell of the chemistry above its highest charging voltage."""
    twelve = next((e for e in entries if e.old.id == "lead-12"), None)
    if twelve is None or twelve.charger is None:
        return None
    for setting, cells in twelve.charger.rows:
        for candidate, cell in zip(twelve.charger.candidates, cells, strict=True):
            if candidate.subject.id == chemistry and stage in setting.name and cell.too_high:
                return Conflict(setting, candidate, cell.cell_v, _full(candidate.subject))
    return None


def _above(entries: Sequence[Entry], chemistry: str) -> standin.Candidate | None:
    """The count that is refused on a 12 V battery because its full voltage lies above the window."""
    twelve = next((e for e in entries if e.old.id == "lead-12"), None)
    found = twelve.by_chemistry.get(chemistry, ()) if twelve else ()
    return next((c for c in found if c.verdict == standin.NEVER and c.full_v > twelve.old.high_v), None)


def _full(subject: Subject) -> Stated:
    return subject.figure("charge-voltage-max")


def _remarks(library: Library, wanted: Sequence[tuple[str, str]]) -> list[Remark]:
    found = []
    for id, key in wanted:
        subject = library.chemistries.get(id)
        found += [remark for remark in (subject.remarks if subject else ()) if remark.key == key]
    return found
