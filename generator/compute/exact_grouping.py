"""The exact search behind small groupings: groups are built one by one and everything that cannot win is left out.

Depth-first branch and bound. A grouping that beats the best so far needs every group above it; so a group may also not
take so much that the rest could not reach that figure on average. The search counts its steps, not seconds, so that
every machine gives the same answer.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import accumulate

MAX_STEPS = 150_000


class _Search:
    """State of one search: the figure to beat, the groups found, the steps left."""

    def __init__(self, caps: Sequence[int], parallel: int, best: int, limit: int) -> None:
        self.caps, self.parallel, self.best, self.limit = caps, parallel, best, limit
        self.found: list[list[int]] | None = None
        self.steps = MAX_STEPS

    @property
    def over(self) -> bool:
        return self.steps <= 0 or self.best >= self.limit

    def split(self, rest: list[int], total: int, chosen: list[list[int]]) -> None:
        """Try every group that holds the strongest of ``rest``, then split what remains."""
        left = len(rest) // self.parallel
        if left == 1:
            if total > self.best:
                groups = [*chosen, rest]
                self.best = min(sum(self.caps[r] for r in g) for g in groups)
                self.found = groups
            return
        sums = [0, *accumulate(self.caps[r] for r in rest)]
        self._fill(rest, sums, 1, [rest[0]], self.caps[rest[0]], chosen)

    def _fill(self, rest: list[int], sums: list[int], start: int, members: list[int], held: int, chosen: list[list[int]]) -> None:
        """Add members to the group from place ``start`` on; ``sums`` are the running sums of ``rest``."""
        self.steps -= 1
        missing, total, end = self.parallel - len(members), sums[-1], len(rest)
        if missing == 0:
            if held > self.best and self._rest_can(rest, total - held):
                inside = set(members)
                self.split([r for r in rest if r not in inside], total - held, [*chosen, members])
            return
        weakest, previous = total - sums[end - missing + 1], -1
        for place in range(start, end - missing + 1):
            if self.over or held + sums[place + missing] - sums[place] <= self.best:
                return  # even the strongest that are left do not reach: weaker ones do not either
            cap = self.caps[rest[place]]
            if cap == previous or not self._rest_can(rest, total - held - cap - weakest):
                continue
            previous = cap
            self._fill(rest, sums, place + 1, [*members, rest[place]], held + cap, chosen)

    def _rest_can(self, rest: list[int], remaining: int) -> bool:
        """Whether the groups still to come could all beat the best on average."""
        return remaining >= (len(rest) // self.parallel - 1) * (self.best + 1)


def prove(caps: Sequence[int], series: int, parallel: int, best: int, limit: int) -> tuple[list[list[int]] | None, bool]:
    """Search for a grouping whose weakest group is above ``best``; ``caps`` falls.

    Returns the best grouping found (None when none beats ``best``) and whether the search came to its end or reached
    ``limit``, which proves it.
    """
    search = _Search(caps, parallel, best, limit)
    search.split(list(range(series * parallel)), sum(caps), [])
    return search.found, search.steps > 0
