"""Thermistors: resistance against temperature, and the temperature at which a divider crosses a threshold.

Two-parameter (B) equation R = R25 exp(B (1/T - 1/T25)), and the three-parameter Steinhart-Hart equation
1/T = a + b ln R + c (ln R)^3 (Steinhart and Hart, Deep-Sea Research 15, 1968, 497-503). T in kelvin inside, degC outside.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import product

from generator.compute.interval import Interval

ZERO_C_K = 273.15
T25_K = 298.15


@dataclass(frozen=True, slots=True)
class Divider:
    """A thermistor and a fixed resistor across a reference voltage.

    ``thermistor_low``: the thermistor stands between the measured point and the negative side, so that the voltage
    falls as it warms; False when it stands on the positive side.
    """

    fixed_ohm: Interval
    r25_ohm: Interval
    b_k: Interval
    thermistor_low: bool = True


def resistance_ohm(temperature_c: float, r25_ohm: float, b_k: float) -> float:
    """Return the resistance [ohm] by the B equation. Raises ValueError at or below absolute zero or for no thermistor."""
    _needs(r25_ohm > 0 and b_k > 0, "a thermistor has a resistance and a B value above 0")
    _needs(temperature_c > -ZERO_C_K, "nothing is colder than -273.15 degC")
    return r25_ohm * math.exp(b_k * (1.0 / (temperature_c + ZERO_C_K) - 1.0 / T25_K))


def temperature_c(ohm: float, r25_ohm: float, b_k: float) -> float:
    """Return the temperature [degC] at which the thermistor has ``ohm``; the inverse of resistance_ohm."""
    _needs(ohm > 0 and r25_ohm > 0 and b_k > 0, "resistances and the B value must be above 0")
    kelvin_inverse = 1.0 / T25_K + math.log(ohm / r25_ohm) / b_k
    _needs(kelvin_inverse > 0, "no temperature gives this resistance")
    return 1.0 / kelvin_inverse - ZERO_C_K


def b_value_k(ohm_1: float, temperature_1_c: float, ohm_2: float, temperature_2_c: float) -> float:
    """Return B [K] from two measured points; the definition behind B25/50 and B25/85."""
    inverse = 1.0 / (temperature_1_c + ZERO_C_K) - 1.0 / (temperature_2_c + ZERO_C_K)
    _needs(ohm_1 > 0 and ohm_2 > 0 and inverse != 0, "two different temperatures and resistances above 0 are needed")
    return math.log(ohm_1 / ohm_2) / inverse


def divider_ratio(temperature: float, fixed_ohm: float, r25_ohm: float, b_k: float, thermistor_low: bool = True) -> float:
    """Return the measured voltage as a share of the reference, 0 to 1, at ``temperature`` [degC]."""
    ohm = resistance_ohm(temperature, r25_ohm, b_k)
    return (ohm if thermistor_low else fixed_ohm) / (ohm + fixed_ohm)


def threshold_temperature_c(ratio: Interval, divider: Divider) -> Interval:
    """Return the temperature [degC] at which the divider crosses ``ratio`` (share of the reference), with worst cases.

    The worst cases are the extremes over every corner of the tolerances; the crossing is monotonic in each of them.
    Raises ValueError unless 0 < ratio < 1.
    """
    _needs(0 < ratio.low and ratio.high < 1, "the threshold must lie between 0 and 1 of the reference voltage")
    corners = product(_ends(ratio), _ends(divider.fixed_ohm), _ends(divider.r25_ohm), _ends(divider.b_k))
    found = [_crossing(*corner, divider.thermistor_low) for corner in corners]
    middle = _crossing(ratio.typical, divider.fixed_ohm.typical, divider.r25_ohm.typical, divider.b_k.typical, divider.thermistor_low)
    return Interval(min(found), middle, max(found))


def steinhart_hart(points: tuple[tuple[float, float], tuple[float, float], tuple[float, float]]) -> tuple[float, float, float]:
    """Return a, b, c of the Steinhart-Hart equation from three (degC, ohm) points; closed form of the 3 x 3 system."""
    logs = [math.log(ohm) for _, ohm in points]
    inverses = [1.0 / (celsius + ZERO_C_K) for celsius, _ in points]
    _needs(len(set(logs)) == 3, "three different points are needed")
    slope_2 = (inverses[1] - inverses[0]) / (logs[1] - logs[0])
    slope_3 = (inverses[2] - inverses[0]) / (logs[2] - logs[0])
    c = (slope_3 - slope_2) / (logs[2] - logs[1]) / sum(logs)
    b = slope_2 - c * (logs[0] ** 2 + logs[0] * logs[1] + logs[1] ** 2)
    return inverses[0] - (b + logs[0] ** 2 * c) * logs[0], b, c


def _crossing(ratio: float, fixed_ohm: float, r25_ohm: float, b_k: float, thermistor_low: bool) -> float:
    share = ratio / (1.0 - ratio) if thermistor_low else (1.0 - ratio) / ratio
    return temperature_c(fixed_ohm * share, r25_ohm, b_k)


def _ends(interval: Interval) -> tuple[float, float]:
    return interval.low, interval.high


def _needs(holds: bool, otherwise: str) -> None:
    if not holds:
        raise ValueError(otherwise)
