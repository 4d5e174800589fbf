"""What to do with a found cell: refusal first, whatever else speaks for it. The thresholds are the caller's, with their sources."""

from __future__ import annotations

from dataclasses import dataclass

from generator.compute.plain import plain

# What refuses a cell without any measurement, and the words for it.
SIGNS = {
    "swollen": "swollen or bulging",
    "leaking": "leaking, or a sweet solvent smell",
    "warm": "warmer than the room, without load",
    "rusted": "rusted or corroded at can or cap",
    "dented": "dented, pierced or with a torn wrap down to the can",
    "burnt": "burnt, or from a pack in which a cell burnt",
    "unknown": "of unknown chemistry",
}


@dataclass(frozen=True, slots=True)
class Verdict:
    """``action``: refuse, watched-precharge, test. ``reason`` in words."""

    action: str
    reason: str


def triage(signs: set[str], voltage_v: float, floor_v: float, precharge_below_v: float, full_v: float) -> Verdict:
    """Return the verdict on a cell with the ``signs`` (of SIGNS) found at ``voltage_v``.

    Any sign refuses. Below ``floor_v`` refuses. Below ``precharge_below_v`` only a charger that itself pre-charges slowly,
    with a time limit, and only under watch. Above ``full_v`` refuses. No verdict promises anything. Raises ValueError for
    an unknown sign or thresholds out of order.
    """
    unknown = signs - SIGNS.keys()
    if unknown:
        raise ValueError(f"no such sign: {', '.join(sorted(unknown))}")
    if not floor_v <= precharge_below_v <= full_v:
        raise ValueError("the floor is not above the pre-charge voltage, nor that above the full voltage")
    seen = [words for sign, words in SIGNS.items() if sign in signs]
    if seen:
        return Verdict("refuse", f"{', '.join(seen)}: no measurement makes up for it")
    if voltage_v != voltage_v or voltage_v < floor_v:  # not a number counts as below
        return Verdict("refuse", f"below {plain(floor_v)} V: do not charge it, recycle it")
    if voltage_v > full_v:
        return Verdict("refuse", f"above {plain(full_v)} V: over-charged, do not use it")
    if voltage_v < precharge_below_v:
        return Verdict("watched-precharge", "only in a charger that pre-charges by itself, slowly and with a time limit, and under watch")
    return Verdict("test", "may be tested, which is no promise that it is sound")
