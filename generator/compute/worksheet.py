"""The pack worksheet: from cells and a load to voltages, currents, run time, fuse, strip, watt-hours and warnings.

docs/assets/worksheet.js does the same arithmetic in the same order on the exported figures.
"""

from __future__ import annotations

from generator.compute import load as loads
from generator.compute.cell_table import CellTable
from generator.compute.conductor import FILM_W_M2_K, REFERENCE_C, Metal
from generator.compute.loaded_cell import cell_at
from generator.compute.worksheet_limits import current_limits, other_limits
from generator.compute.worksheet_types import Figures, Inputs, Limit, Rules, Sheet, figure_of, times
from generator.compute.worksheet_words import FUSE_SHARE, FUSES_A, STRIP_RISE_K, STRIPS_MM


def sheet(inputs: Inputs, table: CellTable, figures: Figures, rules: Rules, rechargeable: bool) -> Sheet:
    """Return the worksheet of one pack. The inputs have passed worksheet_inputs.read."""
    numbers = _pack(inputs, figures)
    model = "rest" if inputs.resistance_mohm is not None and table.kind != "flat" else table.kind
    run, found = None, []
    if inputs.load_kind != "none" and inputs.load is not None:
        run, found = _run(inputs, table, figures)
    numbers |= _run_numbers(inputs, run)
    ampere = _load_current(inputs, figures, run)
    numbers |= {"cell_a": ampere, "c_rate": None if ampere is None else ampere / inputs.capacity_ah}
    numbers |= _wiring(inputs, figures, rules, ampere)
    exceeded = (*current_limits(inputs, figures, ampere), *found, *other_limits(inputs, figures, numbers, rules, rechargeable, ampere))
    return Sheet(numbers, model, run.stop if run else None, exceeded)


def _pack(inputs: Inputs, figures: Figures) -> dict[str, float | None]:
    capacity = inputs.parallel * inputs.capacity_ah
    energy = times(times(figure_of(figures, "nominal"), inputs.series), capacity)
    made = {f"{name}_v": times(figure_of(figures, name), inputs.series) for name in ("empty", "nominal", "storage", "full")}
    for name in ("overcharge", "overcharge_release", "overdischarge", "overdischarge_release"):
        made |= {f"{name}_low_v": figure_of(figures, name, "low"), f"{name}_high_v": figure_of(figures, name)}
    made |= {"capacity_ah": capacity, "energy_wh": energy}
    for name, quantity in (("mass_kg", "specific_energy"), ("volume_l", "energy_density")):
        most, least = figure_of(figures, quantity), figure_of(figures, quantity, "low")
        made[f"{name}_low"] = None if energy is None or not most else energy / most
        made[f"{name}_high"] = None if energy is None or not (least or most) else energy / (least or most)
    rate = figure_of(figures, "charge_rate", "low") or figure_of(figures, "charge_rate")
    top = figure_of(figures, "charge_rate_max")
    rate = min(rate, top) if rate is not None and top is not None else rate
    made["charge_a"] = times(rate, capacity)
    made["charge_max_a"] = times(top, capacity)
    return made


def _run(inputs: Inputs, table: CellTable, figures: Figures):
    own = inputs.resistance_mohm
    cell = cell_at(table, inputs.capacity_ah, inputs.ambient_c, own)
    if cell is None:
        return None, [Limit("model-temperature", inputs.ambient_c, None, None)]
    if inputs.load_kind == "a" and inputs.load / inputs.parallel > cell.current_max_a:
        rate = inputs.load / inputs.parallel / inputs.capacity_ah
        return None, [Limit("model-rate", rate, cell.current_max_a / inputs.capacity_ah, None)]
    cutoff = figure_of(figures, "empty") or 0.0
    run = loads.run(cell, loads.Load(inputs.load_kind, inputs.load), inputs.series, inputs.parallel, cutoff)
    return run, [Limit("at-once", None, None, None)] if run.stop == "at-once" else []


def _run_numbers(inputs: Inputs, run: loads.Run | None) -> dict[str, float | None]:
    if run is None or run.stop == "at-once":
        return dict.fromkeys(("run_hours", "total_hours", "delivered_ah", "delivered_wh", "start_v", "end_a", "sag_v", "sag_cell_v", "heat_w"))
    cells = inputs.series * inputs.parallel
    heat = None if run.sag_v is None else run.sag_v * run.half_a * cells
    return {
        "run_hours": run.hours,
        "total_hours": run.hours / (inputs.duty_percent / 100.0),
        "delivered_ah": run.charge_ah * inputs.parallel,
        "delivered_wh": run.energy_wh,
        "start_v": run.start_v * inputs.series,
        "end_a": run.end_a * inputs.parallel,
        "sag_v": times(run.sag_v, inputs.series),
        "sag_cell_v": run.sag_v,
        "heat_w": heat,
    }


def _load_current(inputs: Inputs, figures: Figures, run: loads.Run | None) -> float | None:
    """The highest current of one cell: of the run where there is one, else from the empty pack's voltage."""
    if inputs.load_kind == "none" or inputs.load is None:
        return None
    if inputs.load_kind == "a":
        return inputs.load / inputs.parallel
    if run is not None and run.start_a is not None:
        return max(run.start_a, run.end_a)
    if inputs.load_kind == "w":
        volts = times(figure_of(figures, "empty"), inputs.series)
        return None if not volts else inputs.load / volts / inputs.parallel
    volts = times(figure_of(figures, "full") or figure_of(figures, "nominal"), inputs.series)
    return None if not volts else volts / inputs.load / inputs.parallel


def _cell_limit(inputs: Inputs, figures: Figures) -> float | None:
    """The highest current of one cell [A]: the data sheet's, else the chemistry's."""
    if inputs.current_max_a is not None:
        return inputs.current_max_a
    return times(figure_of(figures, "discharge_rate_max"), inputs.capacity_ah)


def _wiring(inputs: Inputs, figures: Figures, rules: Rules, ampere: float | None) -> dict[str, float | None]:
    """Fuse and strip: a fuse between the load and what the cells may give; one strip a cell in parallel."""
    if ampere is None:
        return dict.fromkeys(("fuse_a", "fuse_need_a", "fuse_most_a", "strip_width_mm", "strip_thickness_mm", "strip_rise_k"))
    need = ampere * inputs.parallel / FUSE_SHARE
    most = times(_cell_limit(inputs, figures), inputs.parallel)
    fuse = next((rating for rating in FUSES_A if rating >= need), None)
    if fuse is not None and most is not None and fuse > most:
        fuse = None
    made = {"fuse_a": fuse, "fuse_need_a": need, "fuse_most_a": most}
    for width, thickness in STRIPS_MM:
        rise = _rise(rules.strip, width, thickness, ampere, inputs.ambient_c)
        if rise is not None and rise <= STRIP_RISE_K:
            return made | {"strip_width_mm": width, "strip_thickness_mm": thickness, "strip_rise_k": rise}
    return made | {"strip_width_mm": None, "strip_thickness_mm": None, "strip_rise_k": None}


def _rise(metal: Metal, width_mm: float, thickness_mm: float, ampere: float, ambient_c: float) -> float | None:
    """conductor.rise_k of a strip, in the order of operations that the page's script repeats."""
    per_area = metal.resistivity_ohm_m / (width_mm * thickness_mm * 1e-6)
    lost = FILM_W_M2_K * (2.0 * (width_mm + thickness_mm)) * 1e-3 - ampere * ampere * (per_area * metal.coefficient_1_k)
    if lost <= 0.0:
        return None
    return ampere * ampere * (per_area * (1.0 + metal.coefficient_1_k * (ambient_c - REFERENCE_C))) / lost
