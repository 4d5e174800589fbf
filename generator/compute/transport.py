"""Which class of transport a pack's watt-hours give, by the rules' own thresholds."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from generator.model.subject import Subject


@dataclass(frozen=True, slots=True)
class Band:
    """Watt-hours up to ``limit_wh`` (None: without end) and the variant of ``watt-hour-limit`` that ends the band."""

    limit_wh: float | None
    variant: str | None


def watt_hours(capacity_ah: float, nominal_v: float) -> float:
    """Return the rating [Wh]: rated capacity times nominal voltage (49 CFR 171.8)."""
    return capacity_ah * nominal_v


def limit_wh(transport: Subject, variant: str) -> float:
    """Return one limit [Wh] of the practice file ``transport``. Raises KeyError where it is not stated."""
    stated = transport.figure("watt-hour-limit", variant)
    limit = None if stated is None else stated.typical if stated.typical is not None else stated.max
    if limit is None:
        raise KeyError(f"transport.watt-hour-limit.{variant}")
    return limit


def passenger_bands(transport: Subject) -> tuple[Band, ...]:
    """Return the bands a passenger's battery falls into: without approval, with approval, not at all."""
    return tuple(Band(limit_wh(transport, v), v) for v in ("passenger", "passenger-approval")) + (Band(None, None),)


def cargo_bands(transport: Subject, single_cell: bool) -> tuple[Band, ...]:
    """Return the bands of the small-battery exceptions; a battery of one cell counts as a cell."""
    kind = "cell" if single_cell else "battery"
    return tuple(Band(limit_wh(transport, v), v) for v in (f"small-{kind}", f"road-rail-{kind}")) + (Band(None, None),)


def band_of(energy_wh: float, bands: Sequence[Band]) -> int:
    """Return the index of the first band that holds this energy."""
    return next(i for i, band in enumerate(bands) if band.limit_wh is None or energy_wh <= band.limit_wh)
