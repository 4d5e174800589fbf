"""Fast tables of functions on 0 to 1: cubic Hermite between breakpoints.

The breakpoints are an even grid, growing ever closer to the two ends for functions that
run away there, and every knot of the functions' own tables, so that a published table is
met exactly, kinks of linear interpolation included.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass

import numpy as np

from generator.model.function import Function

CELLS = 1024
NEAR_END = 0.01  # to here the cells grow by a fixed factor,
END_CELLS = 64  # for a function that has a logarithm of x or 1 - x in it
EDGE = 1.0e-6  # the breaks run from EDGE to 1 - EDGE: logarithms and powers stay finite
INSIDE = 1.0e-7  # share of a cell: slopes are taken just inside it, beside a kink


@dataclass(frozen=True, slots=True, eq=False)
class Lookup:
    """Functions of x from 0 to 1, one a row; `coefficients` is (rows * cells, 4).

    Where several tables were joined it is (rows * cells, tables, 4), and every answer
    has the tables along a last axis of its own.
    """

    breaks: np.ndarray  # (cells + 1,)
    inverse_width: np.ndarray  # (cells,)
    coefficients: np.ndarray

    def __call__(self, row: np.ndarray, x: np.ndarray):
        """(value, slope) of function number `row` at x; row broadcasts against x.

        x outside the breaks continues the end cell's cubic; nan gives nan.
        """
        u, rate, picked = self._cell(row, x)
        c1, c2, bend = picked[..., 1], picked[..., 2], picked[..., 3] * u
        slope = c1 + u * (2.0 * c2 + 3.0 * bend)
        return picked[..., 0] + u * (c1 + u * (c2 + bend)), slope * rate

    def value(self, row: np.ndarray, x: np.ndarray) -> np.ndarray:
        """The value alone."""
        u, _, picked = self._cell(row, x)
        return picked[..., 0] + u * (picked[..., 1] + u * (picked[..., 2] + u * picked[..., 3]))

    def _cell(self, row, x):
        cell = self.breaks[1:-1].searchsorted(x, side="right")
        rate = self.inverse_width.take(cell)
        picked = self.coefficients.take(cell + row * len(self.inverse_width), axis=0)
        u = (x - self.breaks.take(cell)) * rate
        if self.coefficients.ndim == 3:
            u, rate = u[..., None], rate[..., None]
        return u, rate, picked


def breakpoints(
    functions: Iterable[Function], span: float = 1.0, steep_ends: bool = False
) -> np.ndarray:
    """Breakpoints for a table of these functions; its x is theirs divided by `span`."""
    found = [np.linspace(EDGE, 1.0 - EDGE, CELLS + 1)]
    if steep_ends:
        near = np.geomspace(EDGE, NEAR_END, END_CELLS)
        found += [near, 1.0 - near]
    for function in functions:
        for term in function.terms + function.factors:
            knots = np.array(term.table_x) / (function.x_scale * span)
            found.append(knots[(knots > EDGE) & (knots < 1.0 - EDGE)])
    breaks = np.unique(np.concatenate(found))
    return breaks[np.append(True, np.diff(breaks) > 1.0e-9)]


def lookup(breaks: np.ndarray, functions: Sequence[Callable]) -> Lookup:
    """Table of `functions`, each giving (values, slopes) at an array of x.

    A cell in which a function is not finite answers nan.
    """
    width = np.diff(breaks)
    low_x, high_x = breaks[:-1] + INSIDE * width, breaks[1:] - INSIDE * width
    with np.errstate(all="ignore"):
        rows = [_cubics(f(low_x), f(high_x), width) for f in functions]
    return Lookup(breaks, 1.0 / width, np.concatenate(rows))


def joined(tables: Sequence[Lookup]) -> Lookup:
    """One table that answers for all of these, which have the same breaks and rows."""
    first = tables[0]
    return Lookup(
        first.breaks, first.inverse_width, np.stack([t.coefficients for t in tables], axis=1)
    )


def _cubics(left, right, width):
    (low, low_gain), (high, high_gain) = left, right
    rise_low, rise_high, rise = low_gain * width, high_gain * width, high - low
    c2 = 3.0 * rise - 2.0 * rise_low - rise_high
    c3 = rise_low + rise_high - 2.0 * rise
    cubics = np.stack(np.broadcast_arrays(low, rise_low, c2, c3), axis=-1)
    return np.where(np.isfinite(cubics), cubics, np.nan)
