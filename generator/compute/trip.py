"""The current at which a board's detector trips: its threshold voltage over the resistance it measures across.

Ohm's law with the worst cases of both; the delay, the heat and the wiring of a real board are not in it.
"""

from __future__ import annotations

from generator.compute.interval import Interval


def trip_current_a(threshold_mv: Interval, resistance_mohm: Interval) -> Interval:
    """Return the trip current [A] between its worst cases. Raises ValueError unless both are above zero."""
    if threshold_mv.low <= 0:
        raise ValueError("the threshold must be above 0 mV, tolerance included")
    if resistance_mohm.low <= 0:
        raise ValueError("the resistance must be above 0 mOhm, tolerance included")
    return Interval(
        threshold_mv.low / resistance_mohm.high,
        threshold_mv.typical / resistance_mohm.typical,
        threshold_mv.high / resistance_mohm.low,
    )


def switch_path_mohm(on_resistance_mohm: Interval, side_by_side: int = 1, shunt_mohm: float = 0.0, heat_factor: float = 1.5) -> Interval:
    """Return the resistance of a back-to-back pair of switches [mOhm] as a detector across it sees it.

    One switch for each direction in series, ``side_by_side`` of each in parallel, plus a shunt if the same detector
    spans it. The upper bound is the hot one: on-resistance rises with temperature, about 1.5-fold at 100 degC (makers'
    curves of silicon switches; common practice). Raises ValueError for less than one switch or a factor below 1.
    """
    if side_by_side < 1:
        raise ValueError("a pair needs at least one switch for each direction")
    if heat_factor < 1.0 or shunt_mohm < 0:
        raise ValueError("the heat factor is at least 1 and the shunt at least 0 mOhm")
    pair = 2.0 / side_by_side
    return Interval(
        on_resistance_mohm.low * pair + shunt_mohm,
        on_resistance_mohm.typical * pair + shunt_mohm,
        on_resistance_mohm.high * pair * heat_factor + shunt_mohm,
    )
