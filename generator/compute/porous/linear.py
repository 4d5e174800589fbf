"""Linear solves of many small systems, where one bad system spoils no other."""

from __future__ import annotations

import numpy as np


def solve_each(matrix: np.ndarray, right: np.ndarray) -> np.ndarray:
    """Solution of every system: matrix (..., n, n), right (..., n, m).

    Where any system of a member (first axis) is singular, that member's answer is nan.
    """
    try:
        return np.linalg.solve(matrix, right)
    except np.linalg.LinAlgError:
        return _one_by_one(matrix, right)


def _one_by_one(matrix, right):
    answer = np.full(right.shape, np.nan)
    for k in range(len(matrix)):
        try:
            answer[k] = np.linalg.solve(matrix[k], right[k])
        except np.linalg.LinAlgError:
            continue  # stays nan: the caller refuses the step and tries a shorter one
    return answer
