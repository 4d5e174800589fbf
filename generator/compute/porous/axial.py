"""Polynomial elements across a layer of the cell: nodes, sums, integrals, slopes."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.polynomial import legendre


@dataclass(frozen=True, slots=True, eq=False)
class Element:
    """Gauss-Lobatto-Legendre nodes on [0, 1] and the matrices of their polynomial.

    `integrate[a]` gives the integral from 0 to node a, `differentiate[a]` the slope
    at node a. The last row of `integrate` is `weights`.
    """

    nodes: np.ndarray
    weights: np.ndarray
    integrate: np.ndarray
    differentiate: np.ndarray


@lru_cache(maxsize=32)
def element(degree: int) -> Element:
    """The element of the given polynomial degree (at least 2).

    Source of the rule: Abramowitz and Stegun 25.4.32 (Lobatto's formula).
    """
    if degree < 2:
        raise ValueError(f"degree {degree} of an element is below 2")
    top = np.zeros(degree + 1)
    top[-1] = 1.0
    inner = np.sort(legendre.legroots(legendre.legder(top)).real)
    x = np.concatenate(([-1.0], inner, [1.0]))
    weights = 2.0 / (degree * (degree + 1) * legendre.legval(x, top) ** 2)
    to_modes = np.linalg.inv(legendre.legvander(x, degree))
    modes = np.eye(degree + 1)
    rise = legendre.legval(x, legendre.legint(modes, lbnd=-1.0, axis=0)).T
    slope = legendre.legval(x, legendre.legder(modes, axis=0)).T
    return Element(
        nodes=(x + 1.0) / 2.0,
        weights=weights / 2.0,
        integrate=rise @ to_modes / 2.0,
        differentiate=slope @ to_modes * 2.0,
    )
