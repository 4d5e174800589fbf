"""Grouping against exhaustive search on small sets and a general integer solver on larger ones."""

from __future__ import annotations

import json
import random
import time
from itertools import combinations
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from generator.compute.grouping import group_cells, upper_bound


def weakest(capacities, found):
    return min(sum(capacities[i] for i in group) for group in found.groups)


def exhaustive(capacities, series, parallel):
    """The strongest possible weakest group, by trying every choice of cells and every partition."""
    best = 0

    def partition(rest, low):
        nonlocal best
        if not rest:
            best = max(best, low)
            return
        first, *others = rest
        for mates in combinations(others, parallel - 1):
            total = capacities[first] + sum(capacities[i] for i in mates)
            if total > best:
                partition([i for i in others if i not in mates], min(low, total))

    for chosen in combinations(range(len(capacities)), series * parallel):
        partition(list(chosen), 10**9)
    return best


@settings(max_examples=150, deadline=None)
@given(st.sampled_from([(2, 2), (2, 3), (3, 2), (3, 3), (4, 2), (2, 4), (1, 4), (5, 1)]), st.integers(0, 2), st.randoms(use_true_random=False))
def test_small_sets_are_optimal(pack, surplus, rng):
    series, parallel = pack
    wide = rng.choice([3, 60, 900])
    capacities = [1500 + rng.randrange(wide) for _ in range(series * parallel + surplus)]
    found = group_cells(capacities, series, parallel)
    assert found.optimal
    assert weakest(capacities, found) == found.bound == exhaustive(capacities, series, parallel)


SOLVED = json.loads((Path(__file__).parents[1] / "reference" / "grouping.json").read_text("utf-8"))


@pytest.mark.parametrize("case", SOLVED["cases"], ids=lambda case: f"{case['series']}S{case['parallel']}P-{len(case['capacities'])}")
def test_larger_sets_against_a_general_solver(case):
    """HiGHS, a mixed-integer solver, on the same problem (tests/reference/regenerate_grouping.py): what it found, and its proven bound."""
    found = group_cells(case["capacities"], case["series"], case["parallel"])
    ours = weakest(case["capacities"], found)
    assert ours >= case["found"] - (0 if found.optimal else 3)
    assert ours <= case["bound"] + 1e-6
    assert case["found"] <= found.bound
    if found.optimal:
        assert case["found"] <= ours


@settings(max_examples=100, deadline=None)
@given(st.integers(1, 8), st.integers(1, 6), st.integers(0, 6), st.randoms(use_true_random=False))
def test_every_cell_is_used_once_or_spare(series, parallel, surplus, rng):
    capacities = [rng.randrange(500, 3000) for _ in range(series * parallel + surplus)]
    found = group_cells(capacities, series, parallel)
    assert sorted(i for part in (*found.groups, found.spare) for i in part) == list(range(len(capacities)))
    assert [len(group) for group in found.groups] == [parallel] * series
    assert weakest(capacities, found) <= found.bound
    assert (weakest(capacities, found) == found.bound) or not found.optimal


@settings(max_examples=60, deadline=None)
@given(st.integers(3, 6), st.integers(3, 4), st.randoms(use_true_random=False))
def test_the_order_of_the_list_does_not_change_the_capacity(series, parallel, rng):
    capacities = [rng.randrange(1800, 2600) for _ in range(series * parallel)]
    mixed = capacities[:]
    rng.shuffle(mixed)
    assert weakest(capacities, group_cells(capacities, series, parallel)) == weakest(mixed, group_cells(mixed, series, parallel))


def test_spare_cells_take_the_place_of_stronger_ones_where_nothing_is_lost():
    capacities = [100, 100, 150, 120, 60]  # groups of one: the weakest is 100 either way
    found = group_cells(capacities, 3, 1)
    assert weakest(capacities, found) == 100
    assert sum(capacities[i] for group in found.groups for i in group) == 100 + 100 + 120


def test_the_bound_sees_a_giant_and_a_dwarf():
    assert upper_bound([9000, 1000, 1000, 1000, 1000, 1000], 2, 3) == 3000
    assert upper_bound([1000, 1000, 1000, 1000, 1000, 10], 2, 3) == 2010


@pytest.mark.parametrize(("series", "parallel"), [(2500, 4), (3333, 3), (1000, 10), (100, 100), (2, 5000), (5000, 2), (10_000, 1)])
def test_ten_thousand_cells_take_seconds_and_stay_near_the_bound(series, parallel):
    rng = random.Random(5)
    capacities = [max(500, round(rng.gauss(2400, 90))) for _ in range(10_000)]
    started = time.process_time()
    found = group_cells(capacities, series, parallel)
    assert time.process_time() - started < 20  # a wide guard against a slip into quadratic time; the benchmark measures
    assert found.bound - weakest(capacities, found) <= 0.001 * found.bound


@pytest.mark.parametrize(("count", "series", "parallel"), [(11, 3, 4), (0, 1, 1), (5, 0, 3), (5, 3, 0), (5, -1, -1)])
def test_too_few_cells_or_no_pack(count, series, parallel):
    with pytest.raises(ValueError):
        group_cells([2000] * count, series, parallel)
