"""The stated figures a pack worksheet needs of a chemistry, each with the id it is stated under."""

from __future__ import annotations

from dataclasses import dataclass

from generator.model.library import Library
from generator.model.subject import Stated, Subject

# Name on the worksheet and quantity. Limits that a chemistry does not state are taken from its family's practice file.
VOLTAGES = (
    ("empty", "discharge-cutoff-voltage"),
    ("nominal", "nominal-voltage"),
    ("storage", "storage-voltage"),
    ("full", "charge-voltage-max"),
)
LIMITS = (
    ("charge_rate", "charge-rate-standard"),
    ("charge_rate_max", "charge-rate-max"),
    ("discharge_rate_max", "discharge-rate-max"),
    ("charge_temperature", "charge-temperature"),
    ("discharge_temperature", "discharge-temperature"),
    ("specific_energy", "specific-energy"),
    ("energy_density", "energy-density"),
)
PROTECTION = (
    ("overcharge", "overcharge-detection-voltage"),
    ("overcharge_release", "overcharge-release-voltage"),
    ("overdischarge", "overdischarge-detection-voltage"),
    ("overdischarge_release", "overdischarge-release-voltage"),
)
_OF_CELLS = ("specific_energy", "energy_density")  # never borrowed from a family: they are what tells chemistries apart


@dataclass(frozen=True, slots=True)
class Figure:
    """The lowest and highest number of a stated figure; None where it has none. ``id`` says where it is stated."""

    id: str
    low: float | None
    high: float | None


def pack_figures(library: Library, chemistry: str) -> dict[str, Figure | None]:
    """Return every figure of VOLTAGES, LIMITS and PROTECTION by name, None where nothing is stated."""
    subject = library.chemistries[chemistry]
    family = library.practices.get(subject.family or "")
    found: dict[str, Figure | None] = {name: _figure(subject.figure(quantity)) for name, quantity in VOLTAGES}
    for name, quantity in LIMITS:
        own = subject.figure(quantity)
        borrowed = family.figure(quantity) if family and own is None and name not in _OF_CELLS else None
        found[name] = _figure(own or borrowed)
    for name, quantity in PROTECTION:
        found[name] = _figure(_protection(library, subject, quantity) or subject.figure(quantity))
    return found


def _protection(library: Library, subject: Subject, quantity: str) -> Stated | None:
    """What boards for 3.6 and 3.7 V cells do; other chemistries have figures of their own or none."""
    boards, full = library.practices.get("protection"), subject.volts("charge-voltage-max")
    fits = boards is not None and subject.family == "lithium-ion" and full is not None and 4.1 <= full <= 4.2
    return boards.figure(quantity, "lithium-ion") if fits else None


def _figure(stated: Stated | None) -> Figure | None:
    if stated is None:
        return None
    numbers = [n for n in (stated.min, stated.typical, stated.max) if n is not None]
    one_sided = stated.typical is None
    low = stated.min if one_sided else min(numbers)
    high = stated.max if one_sided else max(numbers)
    return Figure(stated.id, low, high)
