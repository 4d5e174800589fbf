"""Data for the pack worksheet's script: the figures of every chemistry in one file, a cell's curves in one file each."""

from __future__ import annotations

from generator.compute import load, loaded_cell
from generator.compute.cell_table import CellTable, cell_tables, default_cell
from generator.compute.conductor import FILM_W_M2_K, REFERENCE_C, metals
from generator.compute.pack_figures import Figure, pack_figures
from generator.compute.results import Results
from generator.compute.worksheet_inputs import DEFAULTS, OPTIONAL, default_capacity
from generator.compute.worksheet_rules import STRIP_METAL, worksheet_rules
from generator.compute.worksheet_words import EXCEEDED, FIELDS, FUSE_SHARE, FUSES_A, MODELS, REFUSALS, STOPS, STRIP_RISE_K, STRIPS_MM, TOUCH_V, TRANSPORT
from generator.export.schemas import json_text
from generator.model.library import Library


def worksheet_files(library: Library, results: Results) -> dict[str, str]:
    """Return worksheet/index.json and worksheet/<cell>.json by path below the data folder; none without the practices they rest on."""
    if not library.practices.keys() >= {"conductors", "transport"}:
        return {}
    tables = cell_tables(library, results.curves, results.tables)
    files = {f"worksheet/{id}.json": json_text(cell_data(table), compact=True) for id, table in tables.items()}
    return {"worksheet/index.json": json_text(index_data(library, tables), compact=True), **files}


def cell_data(table: CellTable) -> dict:
    """Return one cell's table: families hold [rate, charge, volts] for each temperature."""
    return {
        "id": table.id,
        "kind": table.kind,
        "rate_max_c": table.rate_max_c,
        "temperatures_c": list(table.temperatures_c),
        "share": list(table.share),
        "rest_charge": table.rest_charge,
        "rest_v": list(table.rest_v),
        "ohm_ah": None if table.ohm_ah is None else list(table.ohm_ah),
        "families": [[[c.c_rate, c.charge, list(c.voltage_v)] for c in family] for family in table.families],
    }


def index_data(library: Library, tables: dict[str, CellTable]) -> dict:
    """Return everything but the curves: questions, sentences, constants, and the figures of every chemistry."""
    metal = metals(library.practices["conductors"])[STRIP_METAL]
    return {
        "field_names": list(FIELDS),
        "fields": {name: list(field) for name, field in FIELDS.items()},
        "defaults": DEFAULTS,
        "optional": list(OPTIONAL),
        "refusals": REFUSALS,
        "exceeded": EXCEEDED,
        "models": MODELS,
        "stops": STOPS,
        "transport": TRANSPORT,
        "fuses_a": list(FUSES_A),
        "strips_mm": [list(strip) for strip in STRIPS_MM],
        "constants": {
            "steps": load.STEPS,
            "halvings": load.HALVINGS,
            "root_steps": load.ROOT_STEPS,
            "temperature_slack_k": loaded_cell.TEMPERATURE_SLACK_K,
            "own_rate_max_c": loaded_cell.OWN_RATE_MAX_C,
            "scan": load.SCAN,
            "fuse_share": FUSE_SHARE,
            "strip_rise_k": STRIP_RISE_K,
            "touch_v": TOUCH_V,
            "film_w_m2_k": FILM_W_M2_K,
            "reference_c": REFERENCE_C,
            "strip_resistivity_ohm_m": metal.resistivity_ohm_m,
            "strip_coefficient_1_k": metal.coefficient_1_k,
        },
        "chemistries": {id: _chemistry(library, tables, id) for id in library.chemistries if any(t.chemistry == id for t in tables.values())},
    }


def _chemistry(library: Library, tables: dict[str, CellTable], id: str) -> dict:
    subject = library.chemistries[id]
    cells = [table for table in tables.values() if table.chemistry == id]
    return {
        "name": subject.name,
        "short": subject.abbreviation,
        "rechargeable": bool(subject.rechargeable),
        "default_cell": default_cell(library, tables, id),
        "cells": [{"id": t.id, "name": _name(library, t), "capacity_ah": default_capacity(t)} for t in cells],
        "figures": {name: _figure(library, figure) for name, figure in pack_figures(library, id).items()},
        "transport": {name: _figure(library, figure) for name, figure in worksheet_rules(library, id).transport.items()},
    }


def _name(library: Library, table: CellTable) -> str:
    cell = library.cells.get(table.id)
    return cell.name if cell else "none: nominal voltage only"


def _figure(library: Library, figure: Figure | None) -> list | None:
    """[id, low, high, address of the evidence row below the site's root, grade]."""
    if figure is None:
        return None
    name, rest = figure.id.split(".", 1)
    subject = library.chemistries.get(name) or library.practices[name]
    stated = next(s for s in subject.stated if s.id == figure.id)
    return [figure.id, figure.low, figure.high, f"{subject.page}#{rest}", stated.grade]
