"""Writes grouping.json: groupings solved by a general mixed-integer solver (HiGHS through SciPy), for test_grouping.py.

Needs SciPy, which the tests themselves do not. Run: python tests/reference/regenerate_grouping.py
"""

from __future__ import annotations

import json
import random
from pathlib import Path

import numpy as np
import scipy
from scipy.optimize import Bounds, LinearConstraint, milp

FILE = Path(__file__).with_name("grouping.json")
CASES = ((4, 4, 1, 120), (3, 5, 2, 60), (5, 4, 2, 120), (6, 3, 1, 200), (10, 3, 1, 120), (13, 3, 0, 200), (10, 4, 4, 90), (4, 12, 2, 150), (14, 4, 3, 60))
SECONDS = 25


def solve(capacities: list[int], series: int, parallel: int) -> tuple[int, float]:
    """Return (weakest group found, proven bound)."""
    n = len(capacities)
    columns = n * series + 1  # x[i, g], then the weakest group
    cost = np.zeros(columns)
    cost[-1] = -1.0
    rows, low, high = [], [], []
    for g in range(series):
        count, total = np.zeros(columns), np.zeros(columns)
        count[[i * series + g for i in range(n)]] = 1
        total[[i * series + g for i in range(n)]] = capacities
        total[-1] = -1
        rows += [count, total]
        low += [parallel, 0]
        high += [parallel, np.inf]
    for i in range(n):
        once = np.zeros(columns)
        once[i * series : (i + 1) * series] = 1
        rows, low, high = [*rows, once], [*low, 0], [*high, 1]
    whole = np.ones(columns)
    whole[-1] = 0
    upper = np.ones(columns)
    upper[-1] = sum(capacities)
    result = milp(cost, constraints=LinearConstraint(np.array(rows), low, high), integrality=whole, bounds=Bounds(0, upper), options={"time_limit": SECONDS})
    return (0 if result.x is None else round(-result.fun)), -result.mip_dual_bound


def main() -> None:
    cases = []
    for number, (series, parallel, surplus, spread) in enumerate(CASES):
        rng = random.Random(number)
        capacities = [round(rng.gauss(2400, spread)) for _ in range(series * parallel + surplus)]
        found, bound = solve(capacities, series, parallel)
        cases.append({"series": series, "parallel": parallel, "capacities": capacities, "found": found, "bound": bound})
        print(series, parallel, found, bound)
    FILE.write_text(json.dumps({"solver": f"HiGHS of SciPy {scipy.__version__}, at most {SECONDS} s a case", "cases": cases}, indent=1) + "\n", "utf-8")


if __name__ == "__main__":
    main()
