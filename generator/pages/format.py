"""Numbers, ranges, units and conditions as readers see them. One style everywhere; nothing is computed here."""

from __future__ import annotations

import re
from decimal import Decimal

from generator.model.subject import Condition, Stated, Value

MINUS = "\u2212"
NARROW_SPACE = "\u202f"  # between thousands
FIXED_SPACE = "\u00a0"  # between number and unit: found by a search for a plain space

_UNIT_SHOWN = {"degC": "\u00b0C", "mOhm": "m\u03a9", "nOhm m": "n\u03a9\u00a0m", "mOhm/m": "m\u03a9/m", "us": "\u00b5s", "g/cm3": "g/cm\u00b3", "uA": "\u00b5A", "1": ""}


def number(figure: float, decimals: int | None = None) -> str:
    """Return a number with at least ``decimals`` decimals and never fewer than it was given with.

    4.2 with two decimals is 4.20; 3.635 stays 3.635; 12000 is 12 000; a true minus sign.
    """
    exact = Decimal(repr(figure)).normalize() if figure else Decimal(0)
    places = max(decimals or 0, -int(exact.as_tuple().exponent), 0)
    text = f"{abs(exact):,.{places}f}".replace(",", NARROW_SPACE if abs(exact) >= 10000 else "")
    return f"{MINUS}{text}" if exact < 0 else text


def unit(symbol: str) -> str:
    """Return a unit's symbol as readers see it."""
    return _UNIT_SHOWN.get(symbol, symbol)


def figure(item: Value | Stated, *, with_unit: bool = True) -> str:
    """Return the numbers of a value or stated figure, for example "4.20 V", "0 to 45 °C", "at least 500 cycles"."""
    text = _numbers(item.min, item.typical, item.max, _decimals(item))
    shown = unit(item.unit.symbol)
    if not with_unit or not shown:
        return text
    return f"{text}{FIXED_SPACE}{shown}"


def _decimals(item: Value | Stated) -> int | None:
    return item.quantity.decimals


def _numbers(low: float | None, mid: float | None, high: float | None, decimals: int | None) -> str:
    if mid is not None:
        around = low is not None or high is not None
        text = number(mid, decimals)
        return f"{text} ({_range(low, high, decimals)})" if around else text
    return _range(low, high, decimals)


def _range(low: float | None, high: float | None, decimals: int | None) -> str:
    if low is None:
        return f"at most {number(high, decimals)}"
    if high is None:
        return f"at least {number(low, decimals)}"
    return f"{number(low, decimals)} to {number(high, decimals)}"


def fahrenheit_of(celsius: float) -> int:
    """Return degrees Fahrenheit, rounded to whole degrees."""
    return round(celsius * 9 / 5 + 32)


def fahrenheit(item: Value | Stated) -> str | None:
    """Return a temperature figure in \u00b0F, or None when the quantity is not a temperature."""
    if item.unit.symbol != "degC":
        return None
    converted = (None if c is None else fahrenheit_of(c) for c in (item.min, item.typical, item.max))
    return f"{_numbers(*converted, None)}{FIXED_SPACE}\u00b0F"


# "25 degC", "-20 to 60 degC", "40 or 55 degC": temperatures. "every 10 degC", "a rise of 5 degC": differences.
_TEMPERATURE = re.compile(
    r"(?P<step>\b(?:by|every|each|per|within|(?:rise|fall|drop|difference|steps?) of|\+/-|plus or minus) )?"
    r"(?P<numbers>(?<![\w.-])[-\u2212]?\d+(?:\.\d+)?(?: (?:to|and|or) [-\u2212]?\d+(?:\.\d+)?)?) ?(?:degC|\u00b0C)(?!\w)"
)
_SIGNED = re.compile(r"(?<!\d)[-\u2212]?\d+(?:\.\d+)?")


def prose(text: str) -> str:
    """Return a record's sentence as readers see it: \u00b0C for degC, and \u00b0F beside every temperature.

    Differences of temperature are recognised by the word before them and keep \u00b0C alone.
    """
    return typeset(_TEMPERATURE.sub(_both_scales, text))


_NEGATIVE = re.compile(r"(?<![^\s(\[=\u00b1])-(?=\d)")
_EITHER_WAY = re.compile(r"\+/?-(?= ?\d)")


def typeset(text: str) -> str:
    """Return text with the signs that records write in ASCII as readers see them: \u00b0C, \u00b0F, \u00b1 and a true minus before a number."""
    text = _EITHER_WAY.sub("\u00b1", text.replace("degC", "\u00b0C").replace("degF", "\u00b0F"))
    return _NEGATIVE.sub(MINUS, text)


def _both_scales(found: re.Match[str]) -> str:
    shown = _SIGNED.sub(lambda n: _minus(n.group()), found["numbers"])
    celsius = f"{found['step'] or ''}{shown}{FIXED_SPACE}\u00b0C"
    if found["step"]:
        return celsius
    converted = _SIGNED.sub(lambda n: number(fahrenheit_of(float(n.group().replace(MINUS, "-")))), found["numbers"])
    return f"{celsius} ({converted}{FIXED_SPACE}\u00b0F)"


def _minus(digits: str) -> str:
    return digits.replace("-", MINUS)


def volts(figure: float | None) -> str:
    """Return a voltage without its unit for a column headed V; a dash where there is none."""
    return "\u2013" if figure is None else number(figure, 2)


def sentence(text: str) -> str:
    """Return text ending as a sentence does."""
    return text if text.endswith((".", "!", "?")) else f"{text}."


_CONDITION_WORDS = {
    "temperature_c": "{} \u00b0C",
    "c_rate": "{} C",
    "current_a": "{} A",
    "load_ohm": "{} \u03a9 load",
    "soc_percent": "{} % state of charge",
    "dod_percent": "{} % depth of discharge",
    "charge_voltage_v": "charged to {} V",
    "cutoff_v": "discharged to {} V",
    "end_capacity_percent": "to {} % of the initial capacity",
    "cycles": "{} cycles",
    "days": "{} days",
    "size": "size {}",
    "product": "{}",
    "note": "{}",
}


def condition(item: Condition) -> str:
    """Return a condition in words, empty when nothing is given: "LG M50, 25 °C, 0.2 C, discharged to 2.5 V"."""
    given = item.given()
    order = ("product", "size", *(name for name in _CONDITION_WORDS if name not in ("product", "size", "note")), "note")
    return prose(", ".join(_CONDITION_WORDS[name].format(_plain(given[name])) for name in order if name in given))


def _plain(value: float | str) -> str:
    return value if isinstance(value, str) else number(value)


GRADE_WORDS = {
    "read": "read in the source",
    "reported": "reported by another document",
    "recalled": "from memory, not yet checked",
    "practice": "common practice, no published source",
    "derived": "worked from the source's figures",
    "computed": "computed here",
}


def grade_words(grade: str) -> str:
    """Return a grade with its meaning: "read in the source", "derived (worked from the source's figures)"."""
    words = GRADE_WORDS[grade]
    return words if words.startswith(grade) else f"{grade} ({words})"

GRADE_MEANINGS = {
    "read": "The figure was read in the source itself, at the place named.",
    "reported": "Another document says what the source says; the source itself was not read.",
    "recalled": "Written down from memory and not yet compared with the source.",
    "practice": "Common practice of the trade for which no published source was found.",
    "derived": "Worked out from figures of the source; the working is shown.",
    "computed": "Computed by the almanac from stated figures or published cell parameters, which are named.",
}

RULE_WORDS = {
    "lowest": "the lowest credible value, because it is an upper limit",
    "highest": "the highest credible value, because it is a lower limit",
    "overlap": "the part common to all credible values",
    "span": "from the lowest to the highest value",
    "named": "one value, named for the reason given",
}
