"""Fast tables of functions of stoichiometry: cubic Hermite on an even grid."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

CELLS = 2048
EDGE = 1.0e-6  # the grid runs from EDGE to 1 - EDGE: logarithms and powers stay finite
SCALE = CELLS / (1.0 - 2.0 * EDGE)


@dataclass(frozen=True, slots=True, eq=False)
class Lookup:
    """`rows` functions over stoichiometry; `coefficients` is (rows * CELLS, 4)."""

    coefficients: np.ndarray

    def __call__(self, row: np.ndarray, x: np.ndarray):
        """(value, slope) of function number `row` at x; row broadcasts against x.

        x outside the grid continues the end cell's cubic; nan gives nan.
        """
        u = (x - EDGE) * SCALE
        cell = np.minimum(np.maximum(u, 0.0), CELLS - 1.0).astype(np.intp)
        u -= cell
        cell += row * CELLS
        picked = self.coefficients.take(cell, axis=0, mode="clip")
        c1, c2, bend = picked[..., 1], picked[..., 2], picked[..., 3] * u
        slope = c1 + u * (2.0 * c2 + 3.0 * bend)
        return picked[..., 0] + u * (c1 + u * (c2 + bend)), slope * SCALE


def grid() -> np.ndarray:
    """Stoichiometries at which a table needs values and slopes, (CELLS + 1,)."""
    return np.linspace(EDGE, 1.0 - EDGE, CELLS + 1)


def lookup(values: np.ndarray, slopes: np.ndarray) -> Lookup:
    """Table from values and slopes on `grid()`, each (rows, CELLS + 1).

    Raises ValueError where a function is not finite on the open interval (0, 1).
    """
    if not (np.isfinite(values).all() and np.isfinite(slopes).all()):
        raise ValueError("a function of stoichiometry is not finite between 0 and 1")
    step = (1.0 - 2.0 * EDGE) / CELLS
    low, high = values[:, :-1], values[:, 1:]
    rise_low, rise_high = slopes[:, :-1] * step, slopes[:, 1:] * step
    c2 = 3.0 * (high - low) - 2.0 * rise_low - rise_high
    c3 = 2.0 * (low - high) + rise_low + rise_high
    return Lookup(np.stack([low, rise_low, c2, c3], axis=-1).reshape(-1, 4))
