"""Labels that never collide: places pushed apart to a least gap, each as near to its own as can be."""

from __future__ import annotations

from collections.abc import Sequence


def spread(places: Sequence[float], gap: float, low: float, high: float) -> list[float]:
    """Return ascending places at least ``gap`` apart within [low, high], least squares from the ascending ``places``.

    Isotonic regression of place minus rank times gap, by pooling adjacent violators (Ayer et al. 1955); then held
    inside the bounds. Raises ValueError when so many do not fit.
    """
    room = high - low - gap * (len(places) - 1)
    if room < -1e-9:
        raise ValueError(f"{len(places)} labels {gap} apart do not fit between {low} and {high}")
    pools: list[list[float]] = []  # sum, count
    for rank, place in enumerate(places):
        pools.append([place - rank * gap, 1])
        while len(pools) > 1 and pools[-2][0] / pools[-2][1] > pools[-1][0] / pools[-1][1]:
            total, count = pools.pop()
            pools[-1][0] += total
            pools[-1][1] += count
    free = [total / count for total, count in pools for _ in range(int(count))]
    return [round(min(max(f, low), low + room) + rank * gap, 2) for rank, f in enumerate(free)]
