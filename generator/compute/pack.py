"""Voltages of cells in series: multiplication, nothing else.

A pack of n equal cells in series has n times the voltage of one; this is Kirchhoff's voltage law. The cells of a
real pack are never equal: the limits hold per cell, and a pack-level reading cannot show one cell beyond them.
"""

from __future__ import annotations

from dataclasses import dataclass

from generator.model.subject import Subject

SERIES = tuple(range(1, 25))

# The columns of a pack table and the quantity each multiplies.
COLUMNS = (
    ("empty_v", "discharge-cutoff-voltage"),
    ("nominal_v", "nominal-voltage"),
    ("storage_v", "storage-voltage"),
    ("full_v", "charge-voltage-max"),
)


@dataclass(frozen=True, slots=True)
class PackRow:
    """Voltages of ``series`` cells in series [V]; None where the chemistry states no such figure."""

    series: int
    empty_v: float | None
    nominal_v: float | None
    storage_v: float | None
    full_v: float | None


def pack_row(subject: Subject, series: int, variant: str = "standard") -> PackRow:
    """Return the pack voltages of ``series`` cells [V], rounded to 1 mV.

    A figure that the variant does not state is None: another variant's would be a guess. Raises ValueError for series < 1.
    """
    if series < 1:
        raise ValueError(f"a pack needs at least one cell in series, not {series}")
    return PackRow(series, **{name: pack_volts(subject, quantity, series, variant) for name, quantity in COLUMNS})


def pack_volts(subject: Subject, quantity: str, series: int, variant: str = "standard") -> float | None:
    """Return one voltage of ``series`` cells in series [V], rounded to 1 mV; None where the variant states no such figure."""
    volts = subject.volts(quantity, variant)
    return None if volts is None else round(volts * series, 3)


def pack_table(subject: Subject, variant: str = "standard") -> tuple[PackRow, ...]:
    """Return the rows for 1 to 24 cells in series."""
    return tuple(pack_row(subject, series, variant) for series in SERIES)


def packed_variants(subject: Subject) -> tuple[str, ...]:
    """Return the variants other than standard that state both a nominal voltage and a voltage to charge to or stop at."""
    ends = ("charge-voltage-max", "discharge-cutoff-voltage")
    ids = (variant.id for variant in subject.variants if variant.id != "standard")
    return tuple(id for id in ids if subject.volts("nominal-voltage", id) and any(subject.volts(end, id) for end in ends))
