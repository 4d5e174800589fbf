"""Why one cell is labelled 3.6 V or 3.7 V: averages of the computed discharges beside what is printed."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from generator.compute.curves import RATES_C, CellCurves
from generator.model.library import Library
from generator.model.published import Published
from generator.model.subject import Value

LABELS_V = (3.6, 3.7)
SOLD_AS_V = 4.0  # volts per cell of the round "maximum" labels: 12 for three cells, 20 for five
RAISED_CUTOFF_V = 3.0
CUTOFF_RATES_C = (0.2, 1.0)
LAYERED = ("lco", "nca", "nmc")  # the chemistries whose labels read 3.6 or 3.7
PRINTED_BY = (*LAYERED, "lmo", "lmo-nmc", "lithium-ion")
SERIES = (1, 2, 3, 4, 5, 6, 7, 10, 13, 14)


@dataclass(frozen=True, slots=True)
class AverageRow:
    """Energy-averaged voltages [V] of one cell at 25 degrees Celsius down to ``cutoff_v``, one for each of RATES_C.

    ``meets_c`` is the rate at which the average has fallen to 3.6 V (linear between computed rates; the last of them is read to
    10 mV), None where it has not.
    """

    cell: str
    chemistry: str
    layered: bool
    cutoff_v: float
    averages_v: tuple[float | None, ...]
    meets_c: float | None


@dataclass(frozen=True, slots=True)
class CutoffEffect:
    """What stopping at ``raised_v`` instead of the set's own cut-off does to the average, and the charge it leaves behind."""

    cell: str
    c_rate: float
    own_cutoff_v: float
    raised_cutoff_v: float
    own_v: float
    raised_v: float
    left_percent: float


@dataclass(frozen=True, slots=True)
class Printed:
    """One printed nominal voltage and the values that print it; ``low_v`` to ``high_v`` where a source gives a range."""

    low_v: float
    high_v: float
    values: tuple[Value, ...]

    @property
    def checked(self) -> int:
        """How many of the values are more than memory."""
        return sum(value.grade != "recalled" for value in self.values)


@dataclass(frozen=True, slots=True)
class LabelPack:
    """Volts of ``series`` cells: nominal by either label, at the round figure sold as "maximum", and full."""

    series: int
    low_v: float
    high_v: float
    sold_v: float
    full_v: float | None


@dataclass(frozen=True, slots=True)
class NominalStudy:
    """All of it. ``spread`` maps a rate to the lowest and highest average of the layered-oxide cells."""

    rates_c: tuple[float, ...]
    rows: tuple[AverageRow, ...]
    spread: Mapping[float, tuple[float, float]]
    cutoffs: tuple[CutoffEffect, ...]
    printed: tuple[Printed, ...]
    packs: tuple[LabelPack, ...]

    def averages_at(self, rate: float) -> tuple[float, ...]:
        """Return the averages of the layered-oxide cells at one of ``rates_c`` [V]."""
        place = self.rates_c.index(rate)
        return tuple(row.averages_v[place] for row in self.rows if row.layered and row.averages_v[place] is not None)

    def rounding_to(self, label_v: float, rate: float) -> int:
        """Return how many layered-oxide cells average ``label_v`` at a rate, to the nearest tenth of a volt."""
        return sum(round(volts, 1) == label_v for volts in self.averages_at(rate))

    def meeting(self) -> tuple[AverageRow, ...]:
        """Return the layered-oxide cells whose average falls to 3.60 V within their rates, at the lowest rate first."""
        met = (row for row in self.rows if row.layered and row.meets_c is not None)
        return tuple(sorted(met, key=lambda row: row.meets_c))


def nominal_study(library: Library, curves: Mapping[str, CellCurves]) -> NominalStudy:
    """Return the study; parts for which the library has no data are empty."""
    lithium = [(library.cells[id], found) for id, found in curves.items() if found.chemistry in library.chemistries]
    rows = sorted((_row(cell, found) for cell, found in lithium if _three_volt(cell)), key=lambda r: (not r.layered, r.chemistry, r.cell))
    return NominalStudy(
        rates_c=RATES_C,
        rows=tuple(rows),
        spread=_spread(rows),
        cutoffs=tuple(effect for cell, found in lithium if cell.chemistry in LAYERED for effect in _effects(cell, found)),
        printed=_printed(library),
        packs=label_packs(_full_v(library)),
    )


def _three_volt(cell: Published) -> bool:
    """Lithium and sodium cells; not the two-volt and one-volt systems, whose labels nobody disputes."""
    return cell.voltage_max_v > LABELS_V[0] - 0.1


def _row(cell: Published, curves: CellCurves) -> AverageRow:
    found = (curves.average(rate, cell.voltage_min_v) for rate in RATES_C)
    averages = tuple(a and a.energy_averaged_v for a in found)
    return AverageRow(cell.id, cell.chemistry, cell.chemistry in LAYERED, cell.voltage_min_v, averages, _meets(averages))


def _meets(averages: tuple[float | None, ...]) -> float | None:
    """Where a falling average reaches 3.6 V, linear between the two computed rates around it; or the fastest rate, where it ends at 3.60 V.

    The end is read to 10 mV, as labels are: whether a cell is counted must not hang on a fraction of a millivolt of a model.
    """
    points = [(rate, volts) for rate, volts in zip(RATES_C, averages, strict=True) if volts is not None]
    for (slow, above), (fast, below) in zip(points, points[1:]):
        if above >= LABELS_V[0] >= below:
            return round(slow + (above - LABELS_V[0]) / (above - below) * (fast - slow), 3)
    return points[-1][0] if points and round(points[-1][1], 2) == LABELS_V[0] else None


def _spread(rows: Iterable[AverageRow]) -> dict[float, tuple[float, float]]:
    spread = {}
    for place, rate in enumerate(RATES_C):
        volts = [row.averages_v[place] for row in rows if row.layered and row.averages_v[place] is not None]
        if volts:
            spread[rate] = (min(volts), max(volts))
    return spread


def _effects(cell: Published, curves: CellCurves) -> list[CutoffEffect]:
    effects = []
    for rate in CUTOFF_RATES_C:
        own, raised = (curves.average(rate, cutoff) for cutoff in (cell.voltage_min_v, RAISED_CUTOFF_V))
        if own and raised and cell.voltage_min_v < RAISED_CUTOFF_V:
            left = 100.0 * (1.0 - raised.capacity_ah / own.capacity_ah)
            volts = (own.energy_averaged_v, raised.energy_averaged_v)
            effects.append(CutoffEffect(cell.id, rate, cell.voltage_min_v, RAISED_CUTOFF_V, *volts, round(left, 2)))
    return effects


def _printed(library: Library) -> tuple[Printed, ...]:
    """Every printed figure of standard cells, lowest first, each with the values that give it.

    A publication that two records quote for the same figure counts once.
    """
    groups: dict[tuple[float, float], list[Value]] = {}
    for subject in (s for s in library.subjects() if s.id in PRINTED_BY):
        for value in subject.values_of("nominal-voltage", "standard"):
            group = groups.setdefault(_ends(value), [])
            if value.source is None or value.source not in (other.source for other in group):
                group.append(value)
    return tuple(Printed(low, high, tuple(groups[low, high])) for low, high in sorted(groups))


def _ends(value: Value) -> tuple[float, float]:
    given = [n for n in (value.min, value.typical, value.max) if n is not None]
    return (value.typical, value.typical) if value.typical is not None else (min(given), max(given))


def _full_v(library: Library) -> float | None:
    subject = library.chemistries.get("nmc")
    return subject.volts("charge-voltage-max") if subject else None


def label_packs(full_v: float | None) -> tuple[LabelPack, ...]:
    """Return the volts of the usual series counts: n times the volts of one cell, to 1 mV."""
    per_cell = (*LABELS_V, SOLD_AS_V)
    rows = ((n, *(round(n * v, 3) for v in per_cell), None if full_v is None else round(n * full_v, 3)) for n in SERIES)
    return tuple(LabelPack(*row) for row in rows)
