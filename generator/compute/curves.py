"""Discharge curves, open-circuit curve and averages of every published cell, each computed once and kept by content hash."""

from __future__ import annotations

import json
import math
from collections.abc import Iterable, Mapping
from dataclasses import asdict, dataclass
from pathlib import Path

import numpy as np

from generator.apart import apart
from generator.cache import Cache, code_digest, key_of
from generator.compute.averages import averages
from generator.compute.lead_acid import discharge_lead_acid
from generator.compute.lead_acid_rest import rest_after
from generator.compute.porous import Discharge, discharge_grid, open_circuit
from generator.model.cell import CellModel
from generator.model.lead_acid import LeadAcidCell, lead_acid_from_data
from generator.model.published import Published

RATES_C = (0.05, 0.2, 0.5, 1.0, 2.0, 3.0)
REFERENCE_C = 25.0
# Cut-offs that sheets print for lithium-ion cells; each average names its own.
CUTOFFS_V = (2.0, 2.5, 2.75, 3.0)
# A cut-off this near the mid-voltage would cut the plateau, not its end.
CUTOFF_SHARE = 0.9
LEAD_ACID = "lead-acid-porous"
POINTS = 81
_FARADAY_AH_MOL = 96485.33212 / 3600.0  # CODATA 2018, exact in the SI
_HERE = Path(__file__).parent
_MODEL = _HERE.parent / "model"
_FILES = ("averages.py", "curves.py", "form_kernels.py", "forms.py", "lead_acid.py", "lead_acid_rest.py", "spline.py")
_CODE = (_HERE / "acid", _HERE / "porous", *(_HERE / name for name in _FILES), *(_MODEL / name for name in ("cell.py", "function.py", "lead_acid.py")))


@dataclass(frozen=True, slots=True)
class Curve:
    """One discharge. ``capacity_ah`` and ``voltage_v`` run from full to the stop.

    ``stopped_because`` is cutoff-voltage or electrolyte-depleted; ``model`` names the model order.
    """

    c_rate: float
    temperature_c: float
    capacity_ah: tuple[float, ...]
    voltage_v: tuple[float, ...]
    stopped_because: str
    model: str


@dataclass(frozen=True, slots=True)
class Average:
    """Averages of one discharge down to one cut-off: energy over charge [V], voltage at half the charge [V], charge [Ah]."""

    c_rate: float
    temperature_c: float
    cutoff_v: float
    energy_averaged_v: float
    midpoint_v: float
    capacity_ah: float


@dataclass(frozen=True, slots=True)
class CellCurves:
    """Everything computed of one cell: the open-circuit curve over the share discharged, the discharges, the averages."""

    cell: str
    chemistry: str
    window_ah: float
    share_discharged: tuple[float, ...]
    open_circuit_v: tuple[float, ...]
    curves: tuple[Curve, ...]
    averages: tuple[Average, ...]

    @property
    def reference_ah(self) -> float:
        """Charge [Ah] of the slowest discharge at the reference temperature, the 100 percent of every figure."""
        return self.family()[0].capacity_ah[-1]

    def curve(self, c_rate: float, temperature_c: float = REFERENCE_C) -> Curve | None:
        """Return one curve, None where the set is not valid there."""
        found = (c for c in self.curves if (c.c_rate, c.temperature_c) == (c_rate, temperature_c))
        return next(found, None)

    def temperatures_c(self) -> tuple[float, ...]:
        """Return the temperatures there are curves for, coldest first."""
        return tuple(sorted({curve.temperature_c for curve in self.curves}))

    def average(self, c_rate: float, cutoff_v: float, temperature_c: float = REFERENCE_C) -> Average | None:
        """Return the averages of one discharge down to one cut-off, None where it did not get there."""
        wanted = (c_rate, cutoff_v, temperature_c)
        return next((a for a in self.averages if (a.c_rate, a.cutoff_v, a.temperature_c) == wanted), None)

    def family(self, temperature_c: float = REFERENCE_C) -> tuple[Curve, ...]:
        """Return the curves at one temperature, slowest first."""
        return tuple(curve for curve in self.curves if curve.temperature_c == temperature_c)

    def at_rate(self, c_rate: float) -> tuple[Curve, ...]:
        """Return the curves at one rate, coldest first."""
        return tuple(curve for curve in self.curves if curve.c_rate == c_rate)


def curves_of(cell: Published, cache: Cache) -> CellCurves:
    """Return the curves of a porous-electrode or porous lead-acid cell, from the cache when nothing they depend on has changed."""
    return _from_json(json.loads(_text(cell, cache)))


def all_curves(cells: Iterable[Published], cache: Cache) -> dict[str, CellCurves]:
    """Return the curves of every cell that has a model, by id; a second process computes every other one."""
    computed = [cell for cell in cells if is_computed(cell)]
    others = apart(lambda: b"[%b]" % b",".join(_text(cell, cache) for cell in computed[1::2]))
    here = [json.loads(_text(cell, cache)) for cell in computed[::2]]
    found = {curves.cell: curves for curves in map(_from_json, (*here, *json.loads(others())))}
    return {cell.id: found[cell.id] for cell in computed}


def _text(cell: Published, cache: Cache) -> bytes:
    inputs = json.dumps(cell.data, sort_keys=True)
    key = key_of("curves", inputs, code_digest(_CODE), np.__version__, repr((RATES_C, CUTOFFS_V, POINTS)))
    return cache.get_or_make(key, lambda: json.dumps(asdict(_compute(cell))).encode("ascii"))


def is_computed(cell: Published) -> bool:
    """Whether a published cell has a model that discharges are computed with."""
    return cell.porous is not None or cell.kind == LEAD_ACID


@dataclass(frozen=True, slots=True)
class _Solved:
    """What either model gives: discharges, charge between full and empty [Ah], voltage at rest over the share of it taken out."""

    discharges: tuple[Discharge, ...]
    window_ah: float
    open_circuit_v: np.ndarray


_SHARE = np.linspace(0.0, 1.0, POINTS)


def _compute(cell: Published) -> CellCurves:
    solved = _porous(cell.porous) if cell.porous else _lead_acid(lead_acid_from_data(cell.data))
    places = _places(cell.nominal_capacity_ah)
    middle = float(np.interp(0.5, _SHARE, solved.open_circuit_v))
    return CellCurves(
        cell=cell.id,
        chemistry=cell.chemistry,
        window_ah=round(solved.window_ah, places),
        share_discharged=_rounded(_SHARE),
        open_circuit_v=_rounded(solved.open_circuit_v),
        curves=tuple(_curve(discharge, places) for discharge in solved.discharges),
        averages=tuple(row for discharge in solved.discharges for row in _averages(cell.voltage_min_v, middle, discharge, places)),
    )


def _porous(model: CellModel) -> _Solved:
    made = discharge_grid(model, _rates(model), model.temperatures_valid_c)
    return _Solved(made, window_ah(model), open_circuit(model, 1.0 - _SHARE))


def _lead_acid(model: LeadAcidCell) -> _Solved:
    """The plates hold more than the acid allows, so what the slowest discharge delivers stands for the window."""
    made = discharge_lead_acid(model, _rates(model), REFERENCE_C)
    whole = float(made[0].capacity_ah[-1])
    return _Solved(made, whole, rest_after(model, _SHARE * whole))


def _rates(model: CellModel | LeadAcidCell) -> list[float]:
    return [rate for rate in RATES_C if rate <= model.rates_valid[1]]


def window_ah(model: CellModel) -> float:
    """Charge between full and empty [Ah]: what the positive electrode takes up over its window (Faraday's law)."""
    positive = model.positive
    moles = positive.maximum_mol_m3 * positive.active_fraction * positive.thickness_m * model.electrode_area_m2
    return moles * abs(positive.stoichiometry_empty - positive.stoichiometry_full) * _FARADAY_AH_MOL


def _averages(cutoff_v: float, middle_v: float, discharge: Discharge, places: int) -> list[Average]:
    """Averages to the set's own cut-off and to the higher ones in use; none where the curve stopped before its cut-off."""
    rows = []
    for cutoff in (cutoff_v, *(volts for volts in CUTOFFS_V if cutoff_v < volts < CUTOFF_SHARE * middle_v)):
        if discharge.voltage_v[0] <= cutoff or discharge.stopped_because != "cutoff-voltage" and discharge.voltage_v[-1] > cutoff:
            continue
        found = averages(discharge, cutoff)
        volts = (round(found.energy_averaged_v, 6), round(found.midpoint_v, 6))
        rows.append(Average(discharge.c_rate, discharge.temperature_c, cutoff, *volts, round(found.capacity_ah, places)))
    return rows


def _places(nominal_ah: float) -> int:
    """Decimals that show the charge to a millionth of the nominal capacity: a laboratory cell holds milliampere-hours."""
    return 6 - math.floor(math.log10(nominal_ah))


def _curve(discharge: Discharge, places: int) -> Curve:
    """The discharge at POINTS evenly spread capacities, denser at the two steep ends (cosine spacing)."""
    end = float(discharge.capacity_ah[-1])
    at = end * (1.0 - np.cos(np.pi * np.linspace(0.0, 1.0, POINTS))) / 2.0
    volts = np.interp(at, discharge.capacity_ah, discharge.voltage_v)
    return Curve(discharge.c_rate, discharge.temperature_c, _rounded(at, places), _rounded(volts), discharge.stopped_because, discharge.model)


def _rounded(numbers: np.ndarray, places: int = 6) -> tuple[float, ...]:
    """Six decimals, a microvolt, so that the last bits of a platform's arithmetic do not show."""
    return tuple(round(float(number), places) for number in numbers)


def _from_json(data: Mapping) -> CellCurves:
    curves = tuple(Curve(**{**c, "capacity_ah": tuple(c["capacity_ah"]), "voltage_v": tuple(c["voltage_v"])}) for c in data["curves"])
    fields = {**data, "curves": curves, "averages": tuple(Average(**a) for a in data["averages"])}
    for name in ("share_discharged", "open_circuit_v"):
        fields[name] = tuple(data[name])
    return CellCurves(**fields)
