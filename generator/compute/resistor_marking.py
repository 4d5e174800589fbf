"""What is printed on a resistor, in ohms.

IEC 60062 puts a letter where the decimal point is (R ohm, K kilohm, M megohm, L milliohm) and may add a letter for the
tolerance; three and four digits are significant figures and a count of zeros; EIA-96 is a number of the E96 series
(IEC 60063) and a letter for the multiplier. One marking can have more than one reading: all are returned, the
standard's own first, and a meter has the last word.
"""

from __future__ import annotations

import re
from dataclasses import dataclass

MAX_LENGTH = 8
_LETTER = {"L": -3, "R": 0, "K": 3, "M": 6}
_TOLERANCE = {"B": 0.1, "C": 0.25, "D": 0.5, "F": 1.0, "G": 2.0, "J": 5.0, "K": 10.0, "M": 20.0}
_EIA96 = {"Z": -3, "Y": -2, "R": -2, "X": -1, "S": -1, "A": 0, "B": 1, "H": 1, "C": 2, "D": 3, "E": 4, "F": 5}

_POINT = re.compile(r"(\d{0,4})([LRKM])(\d{0,4})([BCDFGJKM]?)")
_DIGITS = re.compile(r"(\d{2,3})(\d)")
_SERIES = re.compile(r"(\d\d)([ZYRXSABHCDEF])")


class NotAMarking(ValueError):
    """The text follows none of the codes; the message says so in a sentence."""


@dataclass(frozen=True, slots=True)
class MarkedResistance:
    """``ohm``: the resistance. ``tolerance_percent``: plus or minus, None where the marking does not say.

    ``code`` names the rule: letter-code, zero-ohm, three-digit, four-digit, eia-96, milliohm-m.
    """

    ohm: float
    tolerance_percent: float | None
    code: str


def read_marking(text: str) -> tuple[MarkedResistance, ...]:
    """Return every reading of a marking, the likeliest first. Raises NotAMarking."""
    marking = text.strip().upper()
    if not marking:
        raise NotAMarking("Type what is printed on the resistor, for example R005.")
    if len(marking) > MAX_LENGTH or not re.fullmatch(r"[0-9A-Z]+", marking):
        raise NotAMarking(f"A marking has at most {MAX_LENGTH} letters and digits, without spaces or signs.")
    readings = (*_letter_code(marking), *_digit_code(marking), *_eia96(marking), *_milliohm_m(marking))
    if not readings:
        raise NotAMarking(f"'{marking}' follows none of the codes: letter for the point, three or four digits, EIA-96.")
    return readings


def _letter_code(marking: str) -> tuple[MarkedResistance, ...]:
    found = _POINT.fullmatch(marking)
    if not found or not (found[1] or found[3]):
        return ()
    return (MarkedResistance(_pointed(found[1], found[3], _LETTER[found[2]]), _TOLERANCE.get(found[4]), "letter-code"),)


def _digit_code(marking: str) -> tuple[MarkedResistance, ...]:
    if set(marking) == {"0"}:
        return (MarkedResistance(0.0, None, "zero-ohm"),)
    found = _DIGITS.fullmatch(marking)
    if not found:
        return ()
    return (MarkedResistance(float(int(found[1]) * 10 ** int(found[2])), None, "three-digit" if len(marking) == 3 else "four-digit"),)


def _eia96(marking: str) -> tuple[MarkedResistance, ...]:
    found = _SERIES.fullmatch(marking)
    if not found or not 1 <= int(found[1]) <= 96:
        return ()
    return (MarkedResistance(_scaled(e96(int(found[1])), _EIA96[found[2]]), 1.0, "eia-96"),)


def _milliohm_m(marking: str) -> tuple[MarkedResistance, ...]:
    """Some makers of shunts print 0M50 for half a milliohm, against the standard; only plausible below 100 mOhm."""
    found = _POINT.fullmatch(marking)
    if not found or found[2] != "M" or not (found[1] or found[3]):
        return ()
    return (MarkedResistance(_pointed(found[1], found[3], -3), _TOLERANCE.get(found[4]), "milliohm-m"),)


def e96(number: int) -> int:
    """Return the three figures of the E96 series for ``number`` 1 to 96: 100 x 10^((n-1)/96), rounded (IEC 60063)."""
    if not 1 <= number <= 96:
        raise ValueError(f"the E96 series has the numbers 1 to 96, not {number}")
    return int(100.0 * 10.0 ** ((number - 1) / 96.0) + 0.5)


def _pointed(whole: str, part: str, exponent: int) -> float:
    """Digits with the letter as decimal point; put together as decimal text, so that R005 is exactly 0.005."""
    return float(f"{whole or '0'}.{part or '0'}e{exponent}")


def _scaled(figures: int, exponent: int) -> float:
    return float(f"{figures}e{exponent}")
