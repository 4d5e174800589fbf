"""Peukert's law: how a lead-acid battery's run time shrinks with the current, and where the law ends.

W. Peukert, Elektrotechnische Zeitschrift 20 (1897): I**k * t is constant at constant current. The exponent holds only
between the currents it was worked from, at the temperature of the test and to the same end voltage; it says nothing
of pulses, and at currents below the rated one it promises charge that is not there.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from generator.compute.span import Span, span_of
from generator.model.subject import Subject

RATED_H = 20.0  # portable and traction lead-acid blocks print the 20-hour capacity
# From the rated current upwards: below it the law would promise more than the rated charge.
RATES_C = (0.05, 0.1, 0.2, 0.5, 1.0)


@dataclass(frozen=True, slots=True)
class PeukertLine:
    """Run time [h] and share of the rated charge [percent] at a constant current, over the span of the exponent."""

    c_rate: float
    hours: Span
    percent: Span


def run_time_h(c_rate: float, exponent: float, rated_h: float = RATED_H) -> float:
    """Return the run time [h] at ``c_rate`` times the rated capacity per hour. Raises ValueError outside the law.

    t = rated_h * (I_rated / I) ** k.
    """
    if exponent < 1.0 or c_rate <= 0.0 or rated_h <= 0.0:
        raise ValueError("Peukert's law needs an exponent of at least 1, a current and a rated time above zero")
    return rated_h * (c_rate * rated_h) ** -exponent


def exponent_between(first: tuple[float, float], second: tuple[float, float]) -> float:
    """Return the exponent between two points of (hours, share of the rated charge). Raises ValueError for equal currents."""
    (hours_1, share_1), (hours_2, share_2) = first, second
    currents = (share_2 / hours_2) / (share_1 / hours_1)
    if currents == 1.0:
        raise ValueError("two different currents are needed")
    return math.log(hours_1 / hours_2) / math.log(currents)


def peukert_table(subject: Subject) -> tuple[PeukertLine, ...]:
    """Return run times over the stated exponent's span; empty when the record states none."""
    exponents = span_of(subject.figure("peukert-exponent"))
    if exponents is None:
        return ()
    lines = []
    for rate in RATES_C:
        hours = Span(round(run_time_h(rate, exponents.high), 2), round(run_time_h(rate, exponents.low), 2))
        lines.append(PeukertLine(rate, hours, Span(round(hours.low * rate * 100), round(hours.high * rate * 100))))
    return tuple(lines)
