"""Cell files: nothing missing, limits in order, tables whole; and the list of all rules for cells."""

from __future__ import annotations

from collections.abc import Iterator

from generator.check.corpus import Corpus
from generator.check.rules import cell_functions, cell_windows
from generator.check.rules.cell_functions import nested, rising
from generator.problem import Problem

_CELL = ("nominal_capacity_ah", "voltage_min_v", "voltage_max_v", "rate_min_c", "rate_max_c", "rate_basis", "rate_note")
_SET = (*_CELL, "reference_temperature_k", "start", "geometry")
NEEDED = {
    "porous-electrode": (*_SET, "negative", "separator", "positive", "electrolyte", "check_values"),
    "lead-acid-porous": (*_SET, "lead_acid", "cells_in_series", "check_values"),
    "open-circuit": ("functions",),
    "table-with-resistance": (*_CELL, "tables", "cells_in_series"),
}
_EITHER = (
    ("negative", "active_fraction", "surface_per_volume_1_m"),
    ("positive", "active_fraction", "surface_per_volume_1_m"),
    ("negative", "electrolyte_bruggeman", "electrolyte_transport_efficiency"),
    ("separator", "electrolyte_bruggeman", "electrolyte_transport_efficiency"),
    ("positive", "electrolyte_bruggeman", "electrolyte_transport_efficiency"),
)
_OCV = tuple(f"open_circuit_{percent}_v" for percent in (0, 10, 50, 90, 100))


def kind_complete(corpus: Corpus) -> Iterator[Problem]:
    """Each kind of cell file has the parts its model needs."""
    for document in corpus.tree.folder("cells"):
        for name in NEEDED[document.data["kind"]]:
            if name not in document.data:
                yield document.problem(("kind",), "kind-complete", f"a cell of kind {document.data['kind']} needs '{name}'", "Add it with its source.")
        if document.data["kind"] == "porous-electrode" and "check_values" in document.data:
            for name in sorted({"window_ah", *_OCV} - document.data["check_values"].keys()):
                yield document.problem(("check_values",), "kind-complete", f"the check values need '{name}'", "Compute it with the library.")


def either_given(corpus: Corpus) -> Iterator[Problem]:
    """Of two ways to state one thing exactly one is used."""
    for document in corpus.tree.folder("cells"):
        for part, first, second in _EITHER:
            data = document.data.get(part)
            if data is not None and (first in data) == (second in data):
                yield document.problem((part,), "either-given", f"{part} needs either '{first}' or '{second}'", "Give the one the source gives, not both.")


def voltages_ordered(corpus: Corpus) -> Iterator[Problem]:
    """Lower limit below upper limit; open-circuit voltage rises with charge and fits the limits."""
    for document in corpus.tree.folder("cells"):
        data = document.data
        low, high = data.get("voltage_min_v"), data.get("voltage_max_v")
        if low is not None and high is not None and low >= high:
            yield document.problem(("voltage_min_v",), "voltages-ordered", f"the lower limit {low} V is not below the upper limit {high} V", "Check which is which.")
        checks = data.get("check_values")
        if checks is None or low is None or high is None or not checks.keys() >= set(_OCV):
            continue
        if any(checks[a] >= checks[b] for a, b in zip(_OCV, _OCV[1:])):
            yield document.problem(("check_values", _OCV[0]), "voltages-ordered", "the open-circuit voltages do not rise with state of charge", "Check the electrode windows.")
        for name, limit in ((_OCV[0], low), (_OCV[-1], high)):
            if abs(checks[name] - limit) > 0.005:
                yield document.problem(("check_values", name), "voltages-ordered", f"{checks[name]} V is not the limit {limit} V", "Full and empty are defined by the voltage limits.")


def rates_ordered(corpus: Corpus) -> Iterator[Problem]:
    """Rates and temperatures to be shown rise."""
    for document in corpus.tree.folder("cells"):
        low, high = document.data.get("rate_min_c"), document.data.get("rate_max_c")
        if low is not None and high is not None and low >= high:
            yield document.problem(("rate_max_c",), "rates-ordered", f"the highest rate {high} is not above the lowest {low}", "Check which is which.")
        yield from rising(document, ("temperatures_valid_c",), document.data["temperatures_valid_c"], "rates-ordered")


def charge_tables(corpus: Corpus) -> Iterator[Problem]:
    """States of charge rise within 0 and 1; every column is as long; resistances are positive."""
    for document in corpus.tree.folder("cells"):
        for index, table in enumerate(document.data.get("tables", ())):
            path, soc = ("tables", index), table["state_of_charge"]
            yield from rising(document, (*path, "state_of_charge"), soc, "charge-tables")
            if min(soc) < 0 or max(soc) > 1:
                yield document.problem((*path, "state_of_charge"), "charge-tables", "a state of charge lies outside 0 to 1", "Give shares, not percent.")
            for name in ("open_circuit_v", "discharge_resistance_ohm", "charge_resistance_ohm"):
                column = table.get(name, soc)
                if len(column) != len(soc):
                    yield document.problem((*path, name), "charge-tables", f"{name} has {len(column)} numbers for {len(soc)} states of charge", "One each.")
                elif name in table and min(column) <= 0:
                    yield document.problem((*path, name), "charge-tables", f"{name} has a number that is not positive", "Check the sign and the unit.")


def evidence_shown(corpus: Corpus) -> Iterator[Problem]:
    """A reported number says who reports it, a derived one how it was worked."""
    for document in corpus.tree.folder("cells"):
        for path, item in nested(document.data):
            for grade, field in (("reported", "reported_by"), ("derived", "working")):
                if item.get("grade") == grade and field not in item:
                    yield document.problem((*path, "grade"), "evidence-shown", f"a number graded {grade} needs '{field}'", "Add it.")


CELL_RULES = (
    kind_complete,
    either_given,
    cell_windows.volume_shares,
    cell_windows.window_direction,
    cell_windows.window_in_range,
    cell_windows.window_balance,
    voltages_ordered,
    cell_windows.cold_is_known,
    rates_ordered,
    charge_tables,
    evidence_shown,
    cell_functions.form_complete,
    cell_functions.form_uses,
    cell_functions.table_rises,
    cell_functions.range_open,
    cell_functions.range_is_table,
    cell_functions.function_unit,
)
