"""Lead-acid batteries by the block and by temperature: voltages of 2 to 48 V blocks, compensation, acid and charge."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from generator.compute.pack_columns import PackTable, pack_table_of
from generator.compute.span import Span, hull, span_of
from generator.model.subject import Stated, Subject, Value

TWELVE_VOLT_CELLS = 6
BLOCK_CELLS = (3, 6, 12, 24)
TEMPERATURES_C = tuple(range(-20, 55, 5))
BLOCK_COLUMNS = (
    ("Empty", "discharge-cutoff-voltage"),
    ("Nominal", "nominal-voltage"),
    ("Storage", "storage-voltage"),
    ("Float", "float-voltage"),
    ("Absorption", "absorption-voltage"),
    ("Full, at most", "charge-voltage-max"),
    ("Only to equalise", "equalise-voltage"),
)
COMPENSATED = ("float-voltage", "absorption-voltage", "equalise-voltage")


def block_table(subject: Subject) -> PackTable:
    """Return the voltages of one cell and of the blocks and strings that the record calls usual, 6, 12, 24 and 48 V among them."""
    counts = sorted({1, *BLOCK_CELLS, *subject.series_usual})
    return pack_table_of(subject, BLOCK_COLUMNS, tuple(counts))


def at_temperature(volts_v: float, reference_c: float, coefficient_mv_k: float, temperature_c: float) -> float:
    """Return a charging voltage [V] at another temperature: linear, as makers of batteries and chargers give it.

    ``coefficient_mv_k`` is negative: colder acid needs more. Source of the form: Trojan Battery, user's guide, note
    under table 6; EnerSys Genesis selection guide, p. 6.
    """
    return volts_v + coefficient_mv_k / 1000.0 * (temperature_c - reference_c)


@dataclass(frozen=True, slots=True)
class Compensated:
    """A charging voltage and how it moves: the stated figure, the stated coefficient, the temperature it holds at [degC]."""

    stated: Stated
    coefficient: Stated
    reference_c: float

    def at(self, temperature_c: float) -> Span:
        """Return the voltage per cell [V] at a temperature, over the whole span of figure and coefficient."""
        volts, steps = span_of(self.stated), span_of(self.coefficient)
        ends = (at_temperature(v, self.reference_c, k, temperature_c) for v in (volts.low, volts.high) for k in (steps.low, steps.high))
        return hull(round(v, 3) for v in ends)


@dataclass(frozen=True, slots=True)
class TemperatureLine:
    """One temperature [degC]: volts per cell, one span a figure; ``outside`` the record's charging temperatures."""

    temperature_c: float
    outside: bool
    volts: tuple[Span, ...]

    @property
    def block_volts(self) -> tuple[Span, ...]:
        """The same for a 12 V block [V]."""
        return tuple(volts.times(TWELVE_VOLT_CELLS, 2) for volts in self.volts)


def compensated(subject: Subject) -> tuple[Compensated, ...]:
    """Return the charging voltages that can be compensated: one reference temperature each, and a stated coefficient."""
    coefficient = subject.figure("temperature-compensation")
    if coefficient is None:
        return ()
    found = []
    for quantity in COMPENSATED:
        stated = subject.figure(quantity)
        reference = _reference_c(subject, stated) if stated else None
        if reference is not None:
            found.append(Compensated(stated, coefficient, reference))
    return tuple(found)


def _reference_c(subject: Subject, stated: Stated) -> float | None:
    """The temperature all values behind a figure name; None when they differ, for then no one line can be drawn."""
    behind = {value.condition.temperature_c for value in subject.values if value.id in stated.value_ids}
    return behind.pop() if len(behind) == 1 else None


def temperature_table(subject: Subject) -> tuple[TemperatureLine, ...]:
    """Return the compensated voltages of a cell from -20 to 50 degC."""
    figures, window = compensated(subject), subject.figure("charge-temperature")

    def outside(temperature_c: float) -> bool:
        low, high = (window.min, window.max) if window else (None, None)
        return (low is not None and temperature_c < low) or (high is not None and temperature_c > high)

    return tuple(TemperatureLine(t, outside(t), tuple(figure.at(t) for figure in figures)) for t in TEMPERATURES_C) if figures else ()


def resting_voltage_v(specific_gravity: float) -> float:
    """Return the resting voltage of a cell [V] from the gravity of its acid: gravity + 0.845.

    Source: DOE-HDBK-1084-95, Primer on Lead-Acid Storage Batteries, equation 6 (an approximation).
    """
    return specific_gravity + 0.845


@dataclass(frozen=True, slots=True)
class ChargeSeries:
    """What one source says of one quantity over the state of charge [percent]; ``variant`` as in the record."""

    source: str | None
    variant: str
    by_charge: Mapping[float, Value]

    def block_v(self, soc_percent: float) -> float:
        """Return the voltage of a 12 V block at one of the series' states of charge [V]."""
        return round(TWELVE_VOLT_CELLS * self.by_charge[soc_percent].typical, 2)


def charge_series(subject: Subject, quantity: str) -> tuple[ChargeSeries, ...]:
    """Return the values with a state of charge, by source and variant; a source with a single point is no series."""
    groups: dict[tuple[str | None, str], dict[float, Value]] = {}
    for value in subject.values_of(quantity):
        soc = value.condition.soc_percent
        if soc is not None and value.typical is not None:
            groups.setdefault((value.source, value.variant), {})[soc] = value
    return tuple(ChargeSeries(*key, points) for key, points in groups.items() if len(points) > 1)


def charge_levels(series: Iterable[ChargeSeries]) -> tuple[float, ...]:
    """Return every state of charge any series names, fullest first."""
    return tuple(sorted({soc for one in series for soc in one.by_charge}, reverse=True))


def frost(values: Iterable[Value]) -> Iterator[Value]:
    """Yield freezing temperatures, the weakest acid (the warmest) first."""
    given = [value for value in values if value.quantity.id == "freezing-temperature" and value.typical is not None]
    yield from sorted(given, key=lambda value: (-value.typical, value.id))
