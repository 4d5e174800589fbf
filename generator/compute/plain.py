"""Numbers in sentences, the same in the generator and in the page's scripts."""

from __future__ import annotations


def plain(figure: float) -> str:
    """Return a number with at most six significant figures and no trailing zeros: 2.5, 1000000, 0.02."""
    short = float(f"{figure:.6g}")
    return str(int(short)) if short == int(short) else repr(short)
