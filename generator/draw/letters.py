"""The letters matplotlib's own fonts have: what they lack is left out of a picture instead of drawn as a box with a warning."""

from __future__ import annotations

from functools import cache

# A reader meets the whole text in the page; a picture only has to be free of empty boxes.
LEFT_OUT = "\u2026"


def drawable(text: str, fonts: tuple[str, ...]) -> str:
    """Return ``text`` with each run of characters that none of ``fonts`` has as one ellipsis."""
    shown = [letter if ord(letter) in _letters(fonts) else LEFT_OUT for letter in text]
    return "".join(letter for place, letter in enumerate(shown) if letter != LEFT_OUT or shown[place - 1 : place] != [LEFT_OUT])


def first_with(letter: str, fonts: tuple[str, ...]) -> str:
    """Return the first of ``fonts`` that has the letter, else the first of all."""
    return next((name for name in fonts if ord(letter) in _letters((name,))), fonts[0])


@cache
def file_of(font: str) -> str:
    """Return the file of a font, named "family" or "family:style"; raises ValueError where it is not installed."""
    from matplotlib.font_manager import FontProperties, findfont

    family, _, style = font.partition(":")
    return findfont(FontProperties(family=family, style=style or None), fallback_to_default=False)


@cache
def _letters(fonts: tuple[str, ...]) -> frozenset[int]:
    from matplotlib.font_manager import get_font

    return frozenset().union(*(get_font(file_of(name)).get_charmap() for name in fonts))
