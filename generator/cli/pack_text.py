"""The pack worksheet in words."""

from __future__ import annotations

from generator.compute.pack_figures import PROTECTION
from generator.compute.worksheet_limits import transport_class
from generator.compute.worksheet_rules import worksheet_rules
from generator.compute.worksheet_types import Inputs, Limit, Sheet
from generator.compute.worksheet_words import EXCEEDED, FUSE_SHARE, MODELS, STOPS, STRIP_RISE_K, TRANSPORT
from generator.model.library import Library

_FIRST = "These figures are for the chemistry, not for the cells in your hand: their makers' data sheet goes first."


def as_text(inputs: Inputs, made: Sheet, library: Library) -> str:
    """Return the whole sheet for people."""
    n = made.numbers
    subject = library.chemistries[inputs.chemistry]
    lines = [f"{inputs.series}S{inputs.parallel}P of {subject.name}, cells of {inputs.capacity_ah:g} Ah"]
    lines += [f"! {limit_sentence(limit, library)}" for limit in made.exceeded]
    lines += [
        f"volts: empty {_v(n['empty_v'])}, nominal {_v(n['nominal_v'])}, storage {_v(n['storage_v'])}, full {_v(n['full_v'])}",
        _charger(n, bool(subject.rechargeable)),
        f"capacity {_n(n['capacity_ah'])} Ah, energy {_n(n['energy_wh'])} Wh",
        f"cells alone: {_span(n, 'mass_kg')} kg, {_span(n, 'volume_l')} L",
        *_load(inputs, made),
        *(f"board, {name.replace('_', ' ')}: {_span(n, name, '_v')} V per cell" for name, _ in PROTECTION if n[f"{name}_high_v"] is not None),
        f"rating for transport: {_n(n['energy_wh'])} Wh (capacity times nominal voltage)",
        *(f"  {TRANSPORT[key]}" for key in transport_class(made.exceeded, worksheet_rules(library, inputs.chemistry))),
        _FIRST,
    ]
    return "\n".join(lines)


def _charger(n, rechargeable: bool) -> str:
    if not rechargeable:
        return "charger: none, never charge these cells"
    if n["full_v"] is None:
        return f"charger: constant current {_n(n['charge_a'])} A with a way to notice the end; there is no charge voltage to set"
    return f"charger: {_v(n['full_v'])} constant voltage, usual current {_n(n['charge_a'])} A, at most {_n(n['charge_max_a'])} A"


def _load(inputs: Inputs, made: Sheet) -> list[str]:
    n = made.numbers
    if inputs.load_kind == "none":
        return []
    lines = [f"load: {_n(n['cell_a'])} A in each cell at most, {_n(n['c_rate'])} C"]
    if n["run_hours"] is not None:
        lines.append(f"run time {_n(n['run_hours'])} h under load ({_n(n['total_hours'])} h at {inputs.duty_percent:g} % duty), {STOPS[made.stop]}: {_n(n['delivered_ah'])} Ah, {_n(n['delivered_wh'])} Wh")
        lines.append(f"  half way: sag {_n(n['sag_v'])} V, heat {_n(n['heat_w'])} W in the cells")
        lines.append(f"  {MODELS[made.model]}")
    if n["fuse_a"] is not None:
        lines.append(f"fuse: {_n(n['fuse_a'])} A (the load stays below {FUSE_SHARE:.0%} of it), rated for {_v(n['full_v'] or n['nominal_v'])} d.c. and breaking a short circuit")
    if n["strip_width_mm"] is not None:
        lines.append(
            f"strip from cell to cell: nickel {n['strip_width_mm']:g} x {n['strip_thickness_mm']:g} mm for each cell in parallel, "
            f"about {_n(n['strip_rise_k'])} K above still air (list chosen for {STRIP_RISE_K:g} K); hotter in a closed pack"
        )
    return lines


def limit_sentence(limit: Limit, library: Library) -> str:
    """Return the sentence of an exceeded limit with its source."""
    text = EXCEEDED[limit.code].format(value=_n(limit.value), limit=_n(limit.limit))
    return f"{text} [{limit.id}: {_source(limit.id, library)}]" if limit.id else text


def _source(id: str, library: Library) -> str:
    stated = next((s for s in library.stated() if s.id == id), None)
    behind = set(stated.value_ids) if stated else {id}
    names = dict.fromkeys(library.sources[v.source].short if v.source in library.sources else "no publication" for v in (*library.values(), *library.remarks()) if v.id in behind)
    grade = stated.grade if stated else "recalled"
    return f"{', '.join(names)}; {grade}"


def _n(number: float | None) -> str:
    return "?" if number is None else f"{number:.10g}" if number == int(number) else f"{number:.3g}" if abs(number) < 100 else f"{number:.1f}"


def _v(volts: float | None) -> str:
    return "-" if volts is None else f"{volts:.2f} V"


def _span(n, name: str, unit: str = "") -> str:
    low, high = n[f"{name}_low{unit}"], n[f"{name}_high{unit}"]
    return _n(low) if low == high else f"{_n(low)} to {_n(high)}"
