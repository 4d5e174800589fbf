"""The pack worksheet: the form, and one worked pack that a page without scripts shows and a script replaces."""

from __future__ import annotations

from dataclasses import dataclass

from generator.compute.cell_table import cell_tables, default_cell
from generator.compute.pack_figures import pack_figures
from generator.compute.results import Results
from generator.compute.worksheet import sheet
from generator.compute.worksheet_inputs import DEFAULTS, default_capacity, read
from generator.compute.worksheet_limits import transport_class
from generator.compute.worksheet_rules import worksheet_rules
from generator.compute.worksheet_types import Limit
from generator.compute.worksheet_words import EXCEEDED, FIELDS, FUSE_SHARE, MODELS, STOPS, STRIP_RISE_K, TRANSPORT
from generator.model.library import Library
from generator.pages.building.worksheet_rows import SECTIONS, shown
from generator.pages.environment import render, to_root

SLUG = "worksheet"
NEEDS = ("lfp", "conductors", "transport")
TITLE = "Pack worksheet"
SUMMARY = "cells, series, parallel and a load: voltages, charger, run time, sag, heat, fuse, strip, watt-hours, and every limit exceeded."
EXAMPLE = {"chemistry": "lfp", "series": "4", "parallel": "2", "load_kind": "w", "load": "25", "ambient_c": "25"}


@dataclass(frozen=True, slots=True)
class Exceeded:
    """A limit that is exceeded: its sentence, and the address of its evidence where there is one."""

    sentence: str
    id: str | None
    address: str | None
    grade: str | None


def page(library: Library, results: Results) -> str:
    """Return the worksheet's page."""
    tables = cell_tables(library, results.curves, results.tables)
    defaults = {id: default_cell(library, tables, id) for id in library.chemistries if any(t.chemistry == id for t in tables.values())}
    inputs, _ = read(EXAMPLE, tables, defaults)
    figures = pack_figures(library, inputs.chemistry)
    rules = worksheet_rules(library, inputs.chemistry)
    made = sheet(inputs, tables[inputs.cell], figures, rules, True)
    path = f"building/{SLUG}/index.md"
    return render(
        "building/worksheet.md.j2",
        root=to_root(path),
        title=TITLE,
        summary=SUMMARY,
        chemistries=[(id, library.chemistries[id].name) for id in defaults],
        cells=[(t.id, library.cells[t.id].name if t.id in library.cells else "none: nominal voltage only") for t in tables.values() if t.chemistry == inputs.chemistry],
        typed={**DEFAULTS, **EXAMPLE, "cell": inputs.cell, "capacity_ah": default_capacity(tables[inputs.cell])},
        fields=FIELDS,
        sections=SECTIONS,
        shown=shown,
        numbers=made.numbers,
        figures={name: _evidence(library, figure.id) if figure else None for name, figure in figures.items()},
        model=MODELS[made.model],
        stop=STOPS[made.stop],
        transport=[TRANSPORT[key] for key in transport_class(made.exceeded, rules)],
        warnings=[_warning(library, limit) for limit in made.exceeded],
        fuse_percent=f"{FUSE_SHARE:.0%}",
        rise=f"{STRIP_RISE_K:g}",
    )


def _evidence(library: Library, id: str) -> tuple[str, str, str]:
    """(id, address below the root, grade) of a stated figure."""
    name, anchor = id.split(".", 1)
    subject = library.chemistries.get(name) or library.practices[name]
    return id, f"{subject.page}#{anchor}", next((s.grade for s in subject.stated if s.id == id), "recalled")


def _warning(library: Library, limit: Limit) -> Exceeded:
    sentence = EXCEEDED[limit.code].format(value=shown(limit.value), limit=shown(limit.limit))
    if limit.id is None:
        return Exceeded(sentence, None, None, None)
    return Exceeded(sentence, *_evidence(library, limit.id))
