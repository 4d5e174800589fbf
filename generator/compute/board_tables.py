"""Tables of what a board would do: markings read, trip currents, thermistor temperatures."""

from __future__ import annotations

from dataclasses import dataclass

from generator.compute.interval import Interval, around
from generator.compute.resistor_marking import MarkedResistance, read_marking
from generator.compute.thermistor import Divider, divider_ratio, resistance_ohm, threshold_temperature_c
from generator.compute.trip import trip_current_a

MARKINGS = ("R005", "5L00", "R010", "R002", "1L50", "0M50", "103", "1002", "01C", "68X", "12R", "000")
SHUNTS_MOHM = (1.0, 2.0, 3.0, 5.0, 10.0, 20.0)
# The widest tolerance among the detectors of the sheets read: 150 mV +-30 mV; shunts are commonly of 1 %.
THRESHOLDS_MV = (Interval(85.0, 100.0, 115.0), Interval(120.0, 150.0, 180.0), Interval(185.0, 200.0, 215.0))
SHUNT_PERCENT = 1.0
TEMPERATURES_C = (-10.0, 0.0, 10.0, 25.0, 45.0, 55.0, 60.0, 70.0, 80.0)
# The thermistor of the worked example, with the tolerances its sheet gives, and a fixed resistor of the same size.
R25_OHM, R25_PERCENT, B_K, B_PERCENT = 10_000.0, 2.19, 3984.0, 0.5
FIXED_PERCENT = 1.0


@dataclass(frozen=True, slots=True)
class ThermistorRow:
    """At ``temperature_c``: resistance [ohm], share of the reference with the thermistor below the fixed resistor, and the
    temperatures between which a threshold at exactly that share acts, tolerances included."""

    temperature_c: float
    ohm: float
    ratio: float
    acts: Interval


@dataclass(frozen=True, slots=True)
class BoardTables:
    """``markings``: (marking, readings). ``trips``: (shunt [mOhm], one interval of currents [A] a threshold)."""

    markings: tuple[tuple[str, tuple[MarkedResistance, ...]], ...]
    thresholds_mv: tuple[Interval, ...]
    trips: tuple[tuple[float, tuple[Interval, ...]], ...]
    thermistor: tuple[ThermistorRow, ...]


def board_tables() -> BoardTables:
    """Return the tables."""
    trips = ((shunt, tuple(trip_current_a(mv, around(shunt, SHUNT_PERCENT)) for mv in THRESHOLDS_MV)) for shunt in SHUNTS_MOHM)
    return BoardTables(
        markings=tuple((marking, read_marking(marking)) for marking in MARKINGS),
        thresholds_mv=THRESHOLDS_MV,
        trips=tuple(trips),
        thermistor=tuple(_row(celsius) for celsius in TEMPERATURES_C),
    )


def _row(celsius: float) -> ThermistorRow:
    divider = Divider(around(R25_OHM, FIXED_PERCENT), around(R25_OHM, R25_PERCENT), around(B_K, B_PERCENT))
    ratio = divider_ratio(celsius, R25_OHM, R25_OHM, B_K)
    return ThermistorRow(celsius, resistance_ohm(celsius, R25_OHM, B_K), ratio, threshold_temperature_c(Interval(ratio, ratio, ratio), divider))
