"""What a pack of found cells costs for what it still gives: price a cell, an Ah and a usable Wh, against new cells."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Worth:
    """Prices in one currency. ``break_even_good``: least number of good cells at which a Wh costs no more than new;
    None when even all good cells do not reach it."""

    good_cells: int
    per_cell: float
    per_good_cell: float
    per_ah: float
    usable_wh: float
    per_usable_wh: float
    new_per_wh: float
    ratio: float
    break_even_good: int | None


def worth(price: float, cells: int, rejects: int, mean_ah: float, nominal_v: float, usable_share: float, new_price: float, new_ah: float) -> Worth:
    """Return the prices of a pack bought for ``price`` with ``cells`` of which ``rejects`` are refused.

    ``mean_ah``: mean measured capacity of the good cells; ``usable_share`` (0 to 1]: what the grouping leaves usable;
    ``nominal_v``: of one cell, for both kinds; ``new_price``, ``new_ah``: of one new cell. Time, tools and the risk are
    not priced. Raises ValueError, in words, for what makes no sense.
    """
    _check(price, cells, rejects, mean_ah, nominal_v, usable_share, new_price, new_ah)
    good = cells - rejects
    usable_wh = good * mean_ah * nominal_v * usable_share
    per_wh, new_per_wh = price / usable_wh, new_price / (new_ah * nominal_v)
    wh_a_cell = mean_ah * nominal_v * usable_share
    least = next((n for n in range(1, cells + 1) if price / (n * wh_a_cell) <= new_per_wh), None)
    return Worth(good, price / cells, price / good, price / (good * mean_ah), usable_wh, per_wh, new_per_wh, per_wh / new_per_wh, least)


def _check(price: float, cells: int, rejects: int, mean_ah: float, nominal_v: float, usable_share: float, new_price: float, new_ah: float) -> None:
    if not 1 <= cells <= 100_000:
        raise ValueError("a pack has 1 to 100000 cells")
    if not 0 <= rejects < cells:
        raise ValueError("the rejects are 0 or more and fewer than the cells: at least one good cell must remain")
    if price < 0:
        raise ValueError("the price is 0 or more")
    named = {"the capacity": mean_ah, "the nominal voltage": nominal_v, "the price of a new cell": new_price, "its capacity": new_ah}
    for name, figure in named.items():
        if not figure > 0:
            raise ValueError(f"{name} must be above 0")
    if not 0 < usable_share <= 1:
        raise ValueError("the usable share is above 0 and at most 1")
