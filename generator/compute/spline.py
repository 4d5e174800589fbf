"""Tables as piecewise polynomials: linear, or the not-a-knot cubic spline."""

from __future__ import annotations

from collections.abc import Callable
from functools import lru_cache

import numpy as np


@lru_cache(maxsize=256)
def piecewise(term) -> Callable[[np.ndarray, int], np.ndarray]:
    """Interpolator of a table term: f(x, order) -> value (0) or slope (1).

    Outside the table the end piece is continued (a straight line for `linear`).
    Built once per term (terms hash by identity).
    """
    knots = np.asarray(term.table_x, dtype=float)
    heights = np.asarray(term.table_y, dtype=float)
    cubic = term.interpolation == "cubic"
    pieces = _cubic(knots, heights) if cubic else _linear(knots, heights)
    return lambda x, order: _at(knots, pieces, x, order)


def _at(knots, pieces, x, order):
    index = np.clip(np.searchsorted(knots, x, side="right") - 1, 0, knots.size - 2)
    h = x - knots[index]
    a, b, c, d = pieces[:, index]
    if order:
        return b + h * (2.0 * c + 3.0 * h * d)
    return a + h * (b + h * (c + h * d))


def _linear(knots, heights):
    slopes = np.diff(heights) / np.diff(knots)
    nothing = np.zeros_like(slopes)
    return np.stack([heights[:-1], slopes, nothing, nothing])


def _cubic(knots, heights):
    """Coefficients (4, n-1) of the not-a-knot spline, n >= 4.

    Solves the usual tridiagonal conditions for the second derivatives
    (de Boor, A Practical Guide to Splines, chapter IV), dense: done once.
    """
    step, rise = np.diff(knots), np.diff(heights) / np.diff(knots)
    n = knots.size
    matrix, right = np.zeros((n, n)), np.zeros(n)
    inner = np.arange(1, n - 1)
    matrix[inner, inner - 1] = step[:-1]
    matrix[inner, inner] = 2.0 * (step[:-1] + step[1:])
    matrix[inner, inner + 1] = step[1:]
    right[inner] = 6.0 * np.diff(rise)
    matrix[0, :3] = step[1], -(step[0] + step[1]), step[0]
    matrix[-1, -3:] = step[-1], -(step[-2] + step[-1]), step[-2]
    bend = np.linalg.solve(matrix, right)
    slopes = rise - step * (2.0 * bend[:-1] + bend[1:]) / 6.0
    return np.stack([heights[:-1], slopes, bend[:-1] / 2.0, np.diff(bend) / (6.0 * step)])
