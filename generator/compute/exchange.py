"""Making groups of cells more equal: dealing cells again between all groups, then exchanges between two.

Groups hold ranks: positions in a list of capacities that falls. Everything counts its work instead of looking at the
clock, so that every machine, and the page's script, finds the same groups.
"""

from __future__ import annotations

from collections.abc import Sequence

# Searches for one cell in another group before the exchanges end: a second or so.
MAX_SEARCHES = 200_000
MAX_DEALS = 400
# Two cells for two are tried in groups of at most this many.
MAX_PAIRED = 12


def improve(groups: list[list[int]], caps: Sequence[int], limit: int) -> list[list[int]]:
    """Return groups whose weakest is at least as strong: first cells are dealt again, then single exchanges.

    The exchanges are between the weakest group and any other, from the strongest down: one cell for one, and two for
    two where groups are small. Ends at ``limit``, when no exchange helps, or after MAX_SEARCHES.
    """
    work = _Exchanges(deal_again(groups, caps), caps)
    while min(work.sums) < limit and work.searches < MAX_SEARCHES and (work.help_weakest(1) or work.help_weakest(2)):
        pass
    return work.groups


def deal_again(groups: list[list[int]], caps: Sequence[int]) -> list[list[int]]:
    """Return the groups after taking a cell, or two, out of each and dealing them anew, until the spread stays.

    The strongest of what was taken goes to the weakest of what is left, and so on: no other way of joining the two
    gives a stronger weakest group (exchange argument) or more equal ones.
    """
    size = len(groups[0])
    places = [(j,) for j in range(size)] + ([(j, j + 1) for j in range(size - 1)] if size > 3 else [])
    groups = [sorted(members) for members in groups]
    spread, unchanged, turn = _spread(groups, caps), 0, 0
    while unchanged < len(places) and turn < MAX_DEALS:
        groups = _deal(groups, caps, places[turn % len(places)])
        now = _spread(groups, caps)
        unchanged, spread, turn = (unchanged + 1 if now >= spread else 0), now, turn + 1
    return groups


def _deal(groups: list[list[int]], caps: Sequence[int], places: tuple[int, ...]) -> list[list[int]]:
    kept = [[r for j, r in enumerate(members) if j not in places] for members in groups]
    taken = [[members[j] for j in places] for members in groups]
    weakest = _order(sums_of(kept, caps), 1)
    strongest = _order(sums_of(taken, caps), -1)
    return [sorted(kept[a] + taken[b]) for a, b in zip(weakest, strongest, strict=True)]


def _order(sums: list[int], sign: int) -> list[int]:
    return sorted(range(len(sums)), key=lambda g: (sign * sums[g], g))


def _spread(groups: list[list[int]], caps: Sequence[int]) -> int:
    """Sum of the groups' distances from their average: whole numbers that the page's script holds exactly, unlike squares."""
    sums = sums_of(groups, caps)
    mean = sum(sums) // len(sums)
    return sum(abs(total - mean) for total in sums)


class _Exchanges:
    """Groups of ranks that exchange cells; ``searches`` counts the work."""

    def __init__(self, groups: list[list[int]], caps: Sequence[int]) -> None:
        self.groups, self.caps = groups, caps
        self.sums = sums_of(groups, caps)
        self.searches = 0

    def help_weakest(self, count: int) -> bool:
        """One exchange of ``count`` cells that raises the weakest group, with the strongest partner that allows one."""
        if count > len(self.groups[0]) or count == 2 and len(self.groups[0]) > MAX_PAIRED:
            return False
        weakest = self.sums.index(min(self.sums))
        return any(self._exchange(weakest, partner, count) for partner in _order(self.sums, -1) if self.searches < MAX_SEARCHES)

    def _exchange(self, weak: int, strong: int, count: int) -> bool:
        """Make the exchange that leaves the weaker of the two groups strongest; False when none helps it."""
        gap, best, at = self.sums[strong] - self.sums[weak], 0, None
        if gap < 2:
            return False
        offered = self._items(strong, count)
        for own in self._items(weak, count):
            self.searches += 1
            # Capacities fall along the items: the first place where the exchange moves no more than half the gap.
            middle = _first_not_above(offered, 2 * own[0] + gap)
            for j in (middle, middle - 1):
                if 0 <= j < len(offered):
                    moved = offered[j][0] - own[0]
                    if min(moved, gap - moved) > best:
                        best, at = min(moved, gap - moved), (own, offered[j])
        if at:
            self._swap(weak, strong, at[0], at[1])
        return bool(at)

    def _items(self, group: int, count: int) -> list[tuple[int, tuple[int, ...]]]:
        """The group's cells, or its pairs of cells, as (capacity, ranks), strongest first."""
        members, caps = self.groups[group], self.caps
        if count == 1:
            return [(caps[r], (r,)) for r in members]
        pairs = [(caps[a] + caps[b], (a, b)) for place, a in enumerate(members) for b in members[place + 1 :]]
        return sorted(pairs, key=lambda item: (-item[0], item[1]))

    def _swap(self, weak: int, strong: int, given: tuple[int, tuple[int, ...]], taken: tuple[int, tuple[int, ...]]) -> None:
        self.groups[weak] = sorted([*(r for r in self.groups[weak] if r not in given[1]), *taken[1]])
        self.groups[strong] = sorted([*(r for r in self.groups[strong] if r not in taken[1]), *given[1]])
        self.sums[weak] += taken[0] - given[0]
        self.sums[strong] += given[0] - taken[0]


def _first_not_above(items: list[tuple[int, tuple[int, ...]]], twice: int) -> int:
    low, high = 0, len(items)
    while low < high:
        middle = (low + high) // 2
        if 2 * items[middle][0] > twice:
            low = middle + 1
        else:
            high = middle
    return low


def sums_of(groups: list[list[int]], caps: Sequence[int]) -> list[int]:
    return [sum(caps[r] for r in members) for members in groups]
