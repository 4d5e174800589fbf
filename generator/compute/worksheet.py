"""The pack worksheet: from cells and a load to voltages, currents, run time, fuse, strip, watt-hours and warnings.

docs/assets/worksheet.js does the same arithmetic in the same order on the exported figures.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from generator.compute import load as loads
from generator.compute.cell_table import CellTable
from generator.compute.conductor import FILM_W_M2_K, REFERENCE_C, Metal
from generator.compute.pack_figures import Figure
from generator.compute.worksheet_words import FUSE_SHARE, FUSES_A, STRIP_RISE_K, STRIPS_MM, TOUCH_V

Figures = Mapping[str, Figure | None]


@dataclass(frozen=True, slots=True)
class Inputs:
    """What is typed. ``load_kind`` is a, w, ohm or none; optional numbers are None when not given."""

    chemistry: str
    cell: str
    series: int
    parallel: int
    capacity_ah: float
    resistance_mohm: float | None
    current_max_a: float | None
    load_kind: str
    load: float | None
    duty_percent: float
    ambient_c: float


@dataclass(frozen=True, slots=True)
class Limit:
    """A limit that is exceeded: what it is about, what the pack has, the limit, and the id of the stated figure."""

    code: str
    value: float | None
    limit: float | None
    id: str | None


@dataclass(frozen=True, slots=True)
class Rules:
    """Figures that belong to no chemistry: strip metal, transport limits [Wh] with their ids, empty where they do not hold."""

    strip: Metal
    transport: Mapping[str, Figure]


@dataclass(frozen=True, slots=True)
class Sheet:
    """The answer. Numbers by name, None where there is none; ``exceeded`` in order of weight."""

    numbers: Mapping[str, float | None]
    model: str
    stop: str | None
    exceeded: tuple[Limit, ...]


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
    exceeded = (*_current_limits(inputs, figures, ampere), *found, *_other_limits(inputs, figures, numbers, rules, rechargeable, ampere))
    return Sheet(numbers, model, run.stop if run else None, exceeded)


def _of(figures: Figures, name: str, end: str = "high") -> float | None:
    figure = figures[name]
    return None if figure is None else getattr(figure, end)


def _times(a: float | None, b: float | None) -> float | None:
    return None if a is None or b is None else a * b


def _pack(inputs: Inputs, figures: Figures) -> dict[str, float | None]:
    capacity = inputs.parallel * inputs.capacity_ah
    energy = _times(_times(_of(figures, "nominal"), inputs.series), capacity)
    made = {f"{name}_v": _times(_of(figures, name), inputs.series) for name in ("empty", "nominal", "storage", "full")}
    for name in ("overcharge", "overcharge_release", "overdischarge", "overdischarge_release"):
        made |= {f"{name}_low_v": _of(figures, name, "low"), f"{name}_high_v": _of(figures, name)}
    made |= {"capacity_ah": capacity, "energy_wh": energy}
    for name, quantity, scale in (("mass_kg", "specific_energy", 1.0), ("volume_l", "energy_density", 1.0)):
        most, least = _of(figures, quantity), _of(figures, quantity, "low")
        made[f"{name}_low"] = None if energy is None or not most else energy / most * scale
        made[f"{name}_high"] = None if energy is None or not (least or most) else energy / (least or most) * scale
    rate = _of(figures, "charge_rate", "low") or _of(figures, "charge_rate")
    top = _of(figures, "charge_rate_max")
    rate = min(rate, top) if rate is not None and top is not None else rate
    made["charge_a"] = _times(rate, capacity)
    made["charge_max_a"] = _times(top, capacity)
    return made


def _run(inputs: Inputs, table: CellTable, figures: Figures):
    own = inputs.resistance_mohm
    cell = loads.cell_at(table, inputs.capacity_ah, inputs.ambient_c, own)
    if cell is None:
        return None, [Limit("model-temperature", inputs.ambient_c, None, None)]
    if inputs.load_kind == "a" and inputs.load / inputs.parallel > cell.current_max_a:
        rate = inputs.load / inputs.parallel / inputs.capacity_ah
        return None, [Limit("model-rate", rate, cell.current_max_a / inputs.capacity_ah, None)]
    cutoff = _of(figures, "empty") or 0.0
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
        "sag_v": _times(run.sag_v, inputs.series),
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
        volts = _times(_of(figures, "empty"), inputs.series)
        return None if not volts else inputs.load / volts / inputs.parallel
    volts = _times(_of(figures, "full") or _of(figures, "nominal"), inputs.series)
    return None if not volts else volts / inputs.load / inputs.parallel


def _cell_limit(inputs: Inputs, figures: Figures) -> float | None:
    """The highest current of one cell [A]: the data sheet's, else the chemistry's."""
    if inputs.current_max_a is not None:
        return inputs.current_max_a
    return _times(_of(figures, "discharge_rate_max"), inputs.capacity_ah)


def _wiring(inputs: Inputs, figures: Figures, rules: Rules, ampere: float | None) -> dict[str, float | None]:
    """Fuse and strip: a fuse between the load and what the cells may give; one strip a cell in parallel."""
    if ampere is None:
        return dict.fromkeys(("fuse_a", "fuse_need_a", "fuse_most_a", "strip_width_mm", "strip_thickness_mm", "strip_rise_k"))
    need = ampere * inputs.parallel / FUSE_SHARE
    most = _times(_cell_limit(inputs, figures), inputs.parallel)
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


def _current_limits(inputs: Inputs, figures: Figures, ampere: float | None) -> list[Limit]:
    if ampere is None:
        return []
    found = []
    if inputs.current_max_a is not None and ampere > inputs.current_max_a:
        found.append(Limit("own-current", ampere, inputs.current_max_a, None))
    rate, limit = ampere / inputs.capacity_ah, _of(figures, "discharge_rate_max")
    if limit is None and inputs.current_max_a is None:
        found.append(Limit("no-limit", None, None, None))
    if limit is not None and rate > limit:
        found.append(Limit("rate", rate, limit, figures["discharge_rate_max"].id))
    return found


def _other_limits(inputs: Inputs, figures: Figures, numbers: Mapping[str, float | None], rules: Rules, rechargeable: bool, ampere: float | None) -> list[Limit]:
    found = _window(inputs.ambient_c, figures["discharge_temperature"], "discharge")
    found += _window(inputs.ambient_c, figures["charge_temperature"], "charge") if rechargeable else [Limit("never-charge", None, None, None)]
    highest = numbers["full_v"] if numbers["full_v"] is not None else numbers["nominal_v"]
    if highest is not None and highest > TOUCH_V:
        found.append(Limit("volts", highest, TOUCH_V, "protection.remark.touch-voltage"))
    if ampere is not None and numbers["strip_rise_k"] is None:
        found.append(Limit("strip", ampere, None, None))
    if ampere is not None and numbers["fuse_a"] is None:
        found.append(Limit("fuse", numbers["fuse_need_a"], numbers["fuse_most_a"], None))
    return found + _transport(inputs, numbers["energy_wh"], rules)


def _window(celsius: float, figure: Figure | None, doing: str) -> list[Limit]:
    if figure is not None and figure.low is not None and celsius < figure.low:
        return [Limit(f"cold-{doing}", celsius, figure.low, figure.id)]
    if figure is not None and figure.high is not None and celsius > figure.high:
        return [Limit(f"hot-{doing}", celsius, figure.high, figure.id)]
    return []


def _transport(inputs: Inputs, energy_wh: float | None, rules: Rules) -> list[Limit]:
    if energy_wh is None:
        return []
    small = "small-cell" if inputs.series * inputs.parallel == 1 else "small-battery"
    found = []
    for code, names in (("passenger-approval", ("passenger-approval",)), ("passenger", ("passenger",)), ("small", (small,))):
        figure = rules.transport.get(names[0])
        if figure is not None and energy_wh > figure.high and not (code == "passenger" and found):
            found.append(Limit(code, energy_wh, figure.high, figure.id))
    return found
