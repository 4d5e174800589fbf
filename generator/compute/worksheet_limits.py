"""Which limits a pack on the worksheet exceeds, each with the stated figure it rests on."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from generator.compute.pack_figures import Figure
from generator.compute.worksheet_types import Figures, Inputs, Limit, Rules, figure_of
from generator.compute.worksheet_words import TOUCH_V


def current_limits(inputs: Inputs, figures: Figures, ampere: float | None) -> list[Limit]:
    """Return the limits of the current of one cell that are exceeded, and whether no limit is known at all."""
    if ampere is None:
        return []
    found = []
    if inputs.current_max_a is not None and ampere > inputs.current_max_a:
        found.append(Limit("own-current", ampere, inputs.current_max_a, None))
    rate, limit = ampere / inputs.capacity_ah, figure_of(figures, "discharge_rate_max")
    if limit is None and inputs.current_max_a is None:
        found.append(Limit("no-limit", None, None, None))
    if limit is not None and rate > limit:
        found.append(Limit("rate", rate, limit, figures["discharge_rate_max"].id))
    return found


def other_limits(inputs: Inputs, figures: Figures, numbers: Mapping[str, float | None], rules: Rules, rechargeable: bool, ampere: float | None) -> list[Limit]:
    """Return the limits of temperature, touch voltage, strip, fuse and transport that are exceeded."""
    found = _window(inputs.ambient_c, figures["discharge_temperature"], "discharge")
    found += _window(inputs.ambient_c, figures["charge_temperature"], "charge") if rechargeable else [Limit("never-charge", None, None, None)]
    if rechargeable and numbers["full_v"] is None:
        found.append(Limit("no-voltage", None, None, None))
    highest = numbers["full_v"] if numbers["full_v"] is not None else numbers["nominal_v"]
    if highest is not None and highest > TOUCH_V:
        found.append(Limit("volts", highest, TOUCH_V, "protection.remark.touch-voltage"))
    if ampere is not None and numbers["strip_rise_k"] is None:
        found.append(Limit("strip", ampere, None, None))
    if ampere is not None and numbers["fuse_a"] is None:
        found.append(Limit("fuse", numbers["fuse_need_a"], numbers["fuse_most_a"], None))
    return found + _transport(inputs, numbers["energy_wh"], rules)


def transport_class(exceeded: Iterable[Limit], rules: Rules) -> tuple[str, ...]:
    """Return the keys of worksheet_words.TRANSPORT that say in which class the watt-hours put a pack."""
    if not rules.transport:
        return ("other",)
    codes = {limit.code for limit in exceeded}
    carried = "barred" if "passenger-approval" in codes else "approval" if "passenger" in codes else "free"
    return carried, "regulated" if "small" in codes else "small", "check"


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
