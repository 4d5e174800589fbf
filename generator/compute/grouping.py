"""S groups of P cells whose weakest group is as strong as can be.

Cells in parallel add their capacities; a string of groups ends with its weakest. So the grouping that wastes least is
the one with the largest weakest group (for a given set of cells the total is fixed). It is a partition problem with
groups of equal count. With more cells than needed the strongest S x P serve: putting a stronger cell in the place of a
weaker one never lowers a group.

Capacities are whole numbers of any one unit, so that sums are exact and the page's script finds the same groups.
"""

from __future__ import annotations

from bisect import insort
from collections.abc import Sequence
from dataclasses import dataclass

from generator.compute.exact_grouping import prove
from generator.compute.exchange import improve, sums_of

# Up to this many cells the exact search is tried.
EXACT_CELLS = 40


@dataclass(frozen=True, slots=True)
class Grouping:
    """``groups``: indices into the capacities, strongest cell first. ``spare``: indices left out.

    ``bound``: no grouping has a weakest group above it. ``optimal``: the weakest group is proven the best possible.
    """

    groups: tuple[tuple[int, ...], ...]
    spare: tuple[int, ...]
    bound: int
    optimal: bool


def group_cells(capacities: Sequence[int], series: int, parallel: int) -> Grouping:
    """Return the grouping of whole-number ``capacities`` into ``series`` groups of ``parallel`` cells.

    Raises ValueError when there are fewer cells than series x parallel or a count below 1.
    """
    needed = series * parallel
    if series < 1 or parallel < 1 or len(capacities) < needed:
        raise ValueError(f"{series}S{parallel}P needs {needed} cells, {len(capacities)} are there")
    order = sorted(range(len(capacities)), key=lambda i: (-capacities[i], i))
    caps = [capacities[i] for i in order[:needed]]
    groups, limit, optimal = _best(caps, series, parallel)
    used, spare = _spare_the_strong(groups, [capacities[i] for i in order])
    in_order = sorted((sorted(members) for members in used), key=lambda g: (-sum(capacities[order[r]] for r in g), g))
    return Grouping(tuple(tuple(order[r] for r in g) for g in in_order), tuple(order[r] for r in spare), limit, optimal)


def _best(caps: list[int], series: int, parallel: int) -> tuple[list[list[int]], int, bool]:
    """Groups of ranks (positions in ``caps``, which falls), the bound and whether it is proven."""
    if parallel <= 2 or series == 1:
        # One cell a group leaves no choice; pairs are best as strongest with weakest (exchange argument).
        groups = [[r, len(caps) - 1 - r] for r in range(series)] if parallel == 2 else _fold(caps, series)
        return groups, min(sums_of(groups, caps)), True
    limit = upper_bound(caps, series, parallel)
    groups = max((improve(start, caps, limit) for start in (_fold(caps, series), _greedy(caps, series, parallel))), key=lambda g: min(sums_of(g, caps)))
    if min(sums_of(groups, caps)) == limit or len(caps) > EXACT_CELLS:
        return groups, limit, min(sums_of(groups, caps)) == limit
    better, proven = prove(caps, series, parallel, min(sums_of(groups, caps)), limit)
    groups = better or groups
    return groups, min(sums_of(groups, caps)) if proven else limit, proven


def upper_bound(caps: Sequence[int], series: int, parallel: int) -> int:
    """Return a figure that no weakest group exceeds; ``caps`` falls and holds series x parallel cells.

    Whatever the j strongest cells do, at least series - j groups do without them: their average is at most that of the
    strongest of the rest. And the group of the weakest cell has at most the strongest parallel - 1 beside it.
    """
    prefix = [0]
    for cap in caps:
        prefix.append(prefix[-1] + cap)
    averages = ((prefix[j + (series - j) * parallel] - prefix[j]) // (series - j) for j in range(series))
    return min(min(averages), caps[-1] + prefix[parallel - 1])


def _fold(caps: Sequence[int], series: int) -> list[list[int]]:
    """Deal the cells out, forwards and backwards in turn."""
    groups: list[list[int]] = [[] for _ in range(series)]
    for rank in range(len(caps)):
        turn, place = divmod(rank, series)
        groups[place if turn % 2 == 0 else series - 1 - place].append(rank)
    return groups


def _greedy(caps: Sequence[int], series: int, parallel: int) -> list[list[int]]:
    """Each cell, strongest first, to the weakest group that has room: round by round this is a merge of two orders."""
    groups: list[list[int]] = [[] for _ in range(series)]
    sums = [0] * series
    for start in range(0, len(caps), series):
        weakest_first = sorted(range(series), key=lambda g: (sums[g], g))
        for place, rank in enumerate(range(start, start + series)):
            groups[weakest_first[place]].append(rank)
            sums[weakest_first[place]] += caps[rank]
    return groups


def _spare_the_strong(groups: list[list[int]], caps: Sequence[int]) -> tuple[list[list[int]], list[int]]:
    """Exchange cells of groups above the weakest for weaker spare ones where the weakest stays as it is: less is wasted."""
    used = sum(len(members) for members in groups)
    spare = list(range(used, len(caps)))
    floor = min(sums_of(groups, caps))
    for members in groups:
        members.sort()
        slack = sum(caps[r] for r in members) - floor
        for place, rank in enumerate(list(members)):
            weakest = _last_not_below(spare, caps, caps[rank] - slack)
            if weakest >= 0 and caps[spare[weakest]] < caps[rank]:
                slack -= caps[rank] - caps[spare[weakest]]
                members[place] = spare.pop(weakest)
                insort(spare, rank)
    return groups, spare


def _last_not_below(ranks: list[int], caps: Sequence[int], least: int) -> int:
    low, high = 0, len(ranks)
    while low < high:
        middle = (low + high) // 2
        if caps[ranks[middle]] >= least:
            low = middle + 1
        else:
            high = middle
    return low - 1
