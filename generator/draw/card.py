"""The bench card as PDF: one page that fits A4 and Letter alike, the same bytes in every build."""

from __future__ import annotations

import io
import json
import textwrap
from dataclasses import asdict
from pathlib import Path

from generator.cache import Cache, code_digest, key_of, version_of
from generator.draw.card_data import FIRST, Card
from generator.draw.letters import LEFT_OUT

# A4 is 210 mm wide and Letter 279.4 mm high: a page of both minima prints on either without scaling.
WIDTH_MM, HEIGHT_MM = 210.0, 279.4
_MM_PER_INCH = 25.4
_INK, _RED, _SOFT = "#000000", "#8a1f14", "#444444"
# One of the 14 fonts that every reader of PDF brings itself: a card of 3 KB that prints alike anywhere. Its regular weight calls itself medium.
_STYLE = {"font.family": "Times", "font.weight": "medium", "text.parse_math": False, "pdf.use14corefonts": True, "pdf.compression": 9}
_ENCODING = "cp1252"  # the letters such a font has
_WRAP, _BOLD_WRAP, _PITCH_MM, _FOOT_MM = 98, 88, 5.0, 264.0
_CODE = tuple(Path(__file__).with_name(name) for name in ("card.py", "card_data.py", "letters.py"))


def card_pdf(card: Card, cache: Cache) -> bytes:
    """Return the card as a PDF of one page, from the cache when nothing it depends on has changed."""
    key = key_of("card", json.dumps(asdict(card), sort_keys=True), code_digest(_CODE), version_of("matplotlib"))
    return cache.get_or_make(key, lambda: _drawn(card))


def _drawn(card: Card) -> bytes:
    import matplotlib
    from matplotlib.backends.backend_pdf import FigureCanvasPdf
    from matplotlib.figure import Figure

    with matplotlib.rc_context(_STYLE):
        figure = Figure(figsize=(WIDTH_MM / _MM_PER_INCH, HEIGHT_MM / _MM_PER_INCH))
        FigureCanvasPdf(figure)
        _head(figure, card)
        low = _limits(figure, card, _big(figure, card))
        _cautions(figure, card, _packs(figure, card, low))
        _foot(figure)
        out = io.BytesIO()
        # No dates, no names of programs: the bytes depend on the card alone.
        figure.savefig(out, format="pdf", metadata={"CreationDate": None, "Producer": None, "Creator": None, "Title": f"{card.name}: bench card"})
    return out.getvalue()


def _write(figure, x_mm: float, y_mm: float, text: str, size: float, **looks) -> None:
    """Text with its baseline ``y_mm`` below the top edge."""
    figure.text(x_mm / WIDTH_MM, 1.0 - y_mm / HEIGHT_MM, _written(text), fontsize=size, color=looks.pop("color", _INK), va="baseline", **looks)


def _written(text: str) -> str:
    """The text in the letters of the card's font: a hyphen for the minus sign, an ellipsis for what it lacks."""
    return "".join(letter if letter.encode(_ENCODING, "ignore") else LEFT_OUT for letter in text.replace("\u2212", "-"))


def _rule(figure, y_mm: float, wide: float = 0.8) -> None:
    from matplotlib.lines import Line2D

    y = 1.0 - y_mm / HEIGHT_MM
    figure.add_artist(Line2D((15 / WIDTH_MM, 195 / WIDTH_MM), (y, y), color=_INK, linewidth=wide))


def _head(figure, card: Card) -> None:
    _write(figure, 15, 24, card.name, 21 if len(card.name) < 36 else 16, weight="bold")
    _write(figure, 15, 31, textwrap.shorten(card.also, 90, placeholder=" \u2026"), 11.5, color=_SOFT)
    if card.never_charge:
        _write(figure, 195, 31, "NEVER CHARGE", 14, color=_RED, weight="bold", ha="right")
    _rule(figure, 35, 2.0)


def _big(figure, card: Card) -> float:
    for index, item in enumerate(card.big):
        x = 15 + 46 * index
        _write(figure, x, 43, item.name, 12, weight="bold")
        _write(figure, x, 48, item.meaning, 10, color=_SOFT)
        never = item.text[0] == "n"  # words in the place of a voltage
        _write(figure, x, 61, item.text, 12 if never else 27, weight="bold", color=_RED if item.name in ("EMPTY", "FULL") else _INK)
        if item.unchecked:
            _write(figure, x, 66, "not yet checked", 9, color=_RED, style="italic")
    _rule(figure, 69)
    return 69.0


def _limits(figure, card: Card, top: float) -> float:
    y = top
    for limit in card.limits:
        y += 9.5
        _write(figure, 15, y, limit.name, 14.5)
        _write(figure, 75, y, limit.text, 17.5, weight="bold")
        if limit.unchecked:
            _write(figure, 195, y, "not yet checked", 10, color=_RED, style="italic", ha="right")
    _rule(figure, y + 4)
    return y + 4


def _packs(figure, card: Card, top: float) -> float:
    if not card.packs:
        return top
    columns = (15.0, 85.0, 130.0, 175.0)
    y = top + 7
    for x, name in zip(columns, ("Cells in series", "Empty V", "Nominal V", "Full V"), strict=True):
        _write(figure, x, y, name, 11, color=_SOFT, ha="left" if x == 15.0 else "right")
    for row in card.packs:
        y += 7.2
        for x, text in zip(columns, row, strict=True):
            _write(figure, x, y, text, 15.5, weight="bold" if x in (15.0, 175.0) else "medium", ha="left" if x == 15.0 else "right")
    _rule(figure, y + 3.5)
    return y + 3.5


def _cautions(figure, card: Card, top: float) -> None:
    """Every caution in full: where there is little room the lines move together and the letters shrink with them."""
    lines = [(number, index, line) for number, c in enumerate(card.cautions) for index, line in enumerate(textwrap.wrap(c, _BOLD_WRAP if number == 0 else _WRAP))]
    pitch = min(_PITCH_MM, (_FOOT_MM - 3 - top) / (len(lines) + 0.35 * len(card.cautions) + 0.3))
    y = top + 1.3 * pitch
    for number, index, line in lines:
        y += 0.35 * pitch if index == 0 and number else 0.0
        looks = {"color": _RED, "weight": "bold"} if number == 0 else {}
        _write(figure, 15 if index == 0 else 19, y, f"! {line}" if index == 0 else line, 12 * pitch / _PITCH_MM, **looks)
        y += pitch


def _foot(figure) -> None:
    _rule(figure, _FOOT_MM)
    _write(figure, 15, 269, FIRST, 10.5, weight="bold")
    _write(figure, 15, 274, "Cell Almanac. Every figure with its source: cell-almanac.org. Data CC BY 4.0.", 9.5, color=_SOFT)
