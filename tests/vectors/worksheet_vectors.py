"""The Python side of worksheet.json: the same figures and curves read back, and the answer to one pack."""

from __future__ import annotations

from generator.compute.cell_table import CellTable, LoadedCurve
from generator.compute.conductor import Metal
from generator.compute.pack_figures import Figure
from generator.compute.worksheet import sheet
from generator.compute.worksheet_inputs import read
from generator.compute.worksheet_types import Rules

NAMES = (
    "empty_v nominal_v storage_v full_v capacity_ah energy_wh mass_kg_low mass_kg_high volume_l_low volume_l_high charge_a charge_max_a "
    "run_hours total_hours delivered_ah delivered_wh start_v end_a sag_v heat_w cell_a c_rate fuse_a fuse_need_a fuse_most_a "
    "strip_width_mm strip_thickness_mm strip_rise_k"
).split()


def table_of(data: dict, chemistry: str, capacity: str) -> CellTable:
    """The table as exported."""
    families = tuple(tuple(LoadedCurve(r, q, tuple(v)) for r, q, v in family) for family in data["families"])
    ohm = None if data["ohm_ah"] is None else tuple(data["ohm_ah"])
    grids = (tuple(data["temperatures_c"]), tuple(data["share"]), data["rest_charge"], tuple(data["rest_v"]))
    return CellTable(data["id"], chemistry, data["kind"], float(capacity), data["rate_max_c"], *grids, ohm, families)


def answer(raw: dict, file: dict) -> tuple:
    """(refused sentences, numbers in the order of NAMES, model, stop, [[code, value, limit], ...])."""
    known = file["data"]["chemistries"]
    cells = {c["id"]: (id, c["capacity_ah"]) for id, k in known.items() for c in k["cells"]}
    tables = {id: table_of(file["tables"][id], *pair) for id, pair in cells.items() if pair[0] == raw["chemistry"]}
    inputs, refusals = read(raw, tables, {id: k["default_cell"] for id, k in known.items()})
    if inputs is None:
        return [r.sentence for r in refusals], [], None, None, []
    chemistry, c = known[inputs.chemistry], file["data"]["constants"]
    metal = Metal("nickel", "Nickel", c["strip_resistivity_ohm_m"], c["strip_coefficient_1_k"], 1455.0, 8900.0, 444.0, None)
    rules = Rules(metal, {name: _figure(f) for name, f in chemistry["transport"].items()})
    made = sheet(inputs, tables[inputs.cell], {name: _figure(f) for name, f in chemistry["figures"].items()}, rules, chemistry["rechargeable"])
    return [], [made.numbers[name] for name in NAMES], made.model, made.stop, [[e.code, e.value, e.limit] for e in made.exceeded]


def _figure(data: list | None) -> Figure | None:
    return None if data is None else Figure(data[0], data[1], data[2])
