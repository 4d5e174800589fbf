"""What a bench card shows: one page a chemistry for the wall, limits large. Page and PDF print the same lines."""

from __future__ import annotations

from dataclasses import dataclass

from generator.compute.pack import pack_row
from generator.model.subject import Stated, Subject

_VOLTS = (
    ("EMPTY", "stop here", "discharge-cutoff-voltage"),
    ("STORAGE", "at rest", "storage-voltage"),
    ("NOMINAL", "the label", "nominal-voltage"),
    ("FULL", "charger", "charge-voltage-max"),
)
_LIMITS = (
    ("Never above", "charge-voltage-absolute-max"),
    ("Charge only at", "charge-temperature"),
    ("Usual charge rate", "charge-rate-standard"),
    ("Charge rate at most", "charge-rate-max"),
    ("Discharge only at", "discharge-temperature"),
    ("Discharge rate at most", "discharge-rate-max"),
    ("Store at", "storage-temperature"),
)
_CHARGING = ("charge-temperature", "charge-rate-standard", "charge-rate-max", "charge-voltage-max", "charge-voltage-absolute-max")
SERIES_SHOWN = 8
CAUTIONS_SHOWN = 4
FIRST = "Figures for the chemistry. The data sheet of the very cell goes first and may allow less."


@dataclass(frozen=True, slots=True)
class BigFigure:
    """One of the large voltages: name, what it means, its quantity, text, and whether no source has confirmed it."""

    name: str
    meaning: str
    quantity: str
    text: str
    unchecked: bool


@dataclass(frozen=True, slots=True)
class LimitLine:
    """One limit: name, its quantity, text, and whether no source has confirmed it."""

    name: str
    quantity: str
    text: str
    unchecked: bool


@dataclass(frozen=True, slots=True)
class Card:
    """Everything one bench card shows; ``packs`` are (name, empty, nominal, full) for the usual counts in series."""

    id: str
    name: str
    also: str
    never_charge: bool
    big: tuple[BigFigure, ...]
    limits: tuple[LimitLine, ...]
    packs: tuple[tuple[str, str, str, str], ...]
    cautions: tuple[str, ...]


def card_of(subject: Subject) -> Card:
    """Return the card of a chemistry."""
    charged = bool(subject.rechargeable)
    big = (BigFigure(name, meaning, quantity, *_text(subject.figure(quantity), charged or quantity not in _CHARGING, _missing(quantity), "V", 2)) for name, meaning, quantity in _VOLTS)
    found = ((name, subject.figure(quantity)) for name, quantity in _LIMITS if charged or quantity not in _CHARGING)
    limits = tuple(LimitLine(name, stated.quantity.id, _limit(stated).removeprefix("at most " if name.endswith("at most") else ""), stated.unchecked) for name, stated in found if stated)
    counts = subject.series_usual[:SERIES_SHOWN]
    rows = (pack_row(subject, series) for series in counts)
    packs = tuple((f"{row.series}S", _volts(row.empty_v), _volts(row.nominal_v), _volts(row.full_v)) for row in rows)
    also = ", ".join(subject.also_called[:5])
    return Card(subject.id, subject.name, also, not charged, tuple(big), limits, packs, tuple(_degrees(c) for c in subject.cautions[:CAUTIONS_SHOWN]))


def _missing(quantity: str) -> str:
    """What stands in the place of a voltage: nickel cells have no charge voltage to set."""
    return "no voltage ends it" if quantity == "charge-voltage-max" else "\u2013"


def _degrees(text: str) -> str:
    return text.replace("degC", "\u00b0C")


def _volts(volts: float | None) -> str:
    return "\u2013" if volts is None else _decimals(volts, 2)


def _decimals(number: float, places: int | None) -> str:
    """At least ``places`` decimals and none dropped: rounding could lift an upper limit."""
    text = f"{number:.6g}"
    missing = (places or 0) - len(text.partition(".")[2])
    return text if missing <= 0 else f"{number:.{places}f}"


def _text(stated: Stated | None, allowed: bool, missing: str, unit: str, places: int) -> tuple[str, bool]:
    if not allowed:
        return "never charge", False
    if stated is None:
        return missing, False
    return f"{_numbers(stated, places)} {unit}", stated.unchecked


def _limit(stated: Stated) -> str:
    symbol = {"degC": "\u00b0C", "1": ""}.get(stated.unit.symbol, stated.unit.symbol)
    text = f"{_numbers(stated, 2 if symbol == 'V' else None)} {symbol}".strip()
    if stated.unit.symbol != "degC":
        return text
    fahrenheit = " to ".join(str(round(n * 9 / 5 + 32)) for n in (stated.min, stated.typical, stated.max) if n is not None)
    return f"{text} ({fahrenheit} \u00b0F)".replace("-", "\u2212")


def _numbers(stated: Stated, places: int | None) -> str:
    def shown(number: float) -> str:
        return _decimals(number, places).replace("-", "\u2212")

    if stated.typical is not None:
        return shown(stated.typical)
    if stated.min is None:
        return f"at most {shown(stated.max)}"
    return f"at least {shown(stated.min)}" if stated.max is None else f"{shown(stated.min)} to {shown(stated.max)}"
