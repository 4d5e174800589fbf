"""Spectral basis for diffusion in a sphere: conserves exactly, no surface guess."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.polynomial import legendre


@dataclass(frozen=True, slots=True, eq=False)
class RadialBasis:
    """Even polynomials on 0 <= r <= 1, orthonormal under the weight r^2.

    They diagonalise the Galerkin stiffness of constant diffusivity, whose diagonal is
    `stiffness`; `surface` are their values at r = 1. Mode 0 is the constant sqrt(3),
    so it carries the mean. `values` (points, modes) samples them at the quadrature
    points; `products` (points, modes * modes) sums to the stiffness matrix of a
    diffusivity given at those points.
    """

    stiffness: np.ndarray
    surface: np.ndarray
    values: np.ndarray
    products: np.ndarray


@lru_cache(maxsize=16)
def radial_basis(modes: int) -> RadialBasis:
    """The basis of `modes` even polynomials (degree 0, 2, ... 2 (modes - 1))."""
    points, weights = legendre.leggauss(2 * modes + 4)
    r, weight = (points + 1.0) / 2.0, weights / 2.0
    even = np.zeros((2 * modes - 1, modes))
    even[2 * np.arange(modes), np.arange(modes)] = 1.0
    value = legendre.legval(r, even).T
    slope = legendre.legval(r, legendre.legder(even)).T
    surface = legendre.legval(1.0, even)
    root = np.sqrt(weight) * r
    _, triangle = np.linalg.qr(root[:, None] * value)
    value, slope = (np.linalg.solve(triangle.T, a.T).T for a in (value, slope))
    surface = np.linalg.solve(triangle.T, surface)
    stiff, turn = np.linalg.eigh((root[:, None] * slope).T @ (root[:, None] * slope))
    turn = turn * np.where(surface @ turn < 0.0, -1.0, 1.0)
    stiff[0] = 0.0
    value, slope = value @ turn, slope @ turn
    slope[:, 0] = 0.0
    product = (root**2)[:, None, None] * slope[:, :, None] * slope[:, None, :]
    return RadialBasis(
        stiff, surface @ turn, value, product.reshape(len(r), modes * modes)
    )
