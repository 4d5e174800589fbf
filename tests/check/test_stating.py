"""One figure from several values: by role, never averaged, on the safe side."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.stating import GRADES, state


def value(key, *, low=None, mid=None, high=None, grade="read"):
    return {"key": key, "min": low, "typical": mid, "max": high, "grade": grade}


def test_upper_limit_states_the_lowest():
    outcome = state("upper-limit", [value("a", mid=4.2), value("b", mid=4.1, grade="reported"), value("c", low=4.15, high=4.25)])
    assert (outcome.typical, outcome.keys, outcome.grade) == (4.1, ("b",), "reported")


def test_lower_limit_states_the_highest():
    outcome = state("lower-limit", [value("a", mid=2.5), value("b", mid=3.0), value("c", low=2.0, high=2.75)])
    assert (outcome.typical, outcome.keys) == (3.0, ("b",))


def test_a_range_counts_with_its_safe_end():
    assert state("upper-limit", [value("a", low=0.5, high=1.0)]).typical == 0.5
    assert state("lower-limit", [value("a", low=2.5, high=3.0)]).typical == 3.0


def test_window_states_the_common_part():
    outcome = state("window", [value("a", low=-20, high=60), value("b", low=0, high=45), value("c", low=5, high=50)])
    assert (outcome.min, outcome.typical, outcome.max, outcome.keys) == (5, None, 45, ("c", "b"))


def test_typical_shows_the_span_and_averages_nothing():
    outcome = state("typical", [value("a", mid=3.6), value("b", mid=3.7, grade="recalled"), value("c", mid=3.63, grade="derived")])
    assert (outcome.min, outcome.typical, outcome.max) == (3.6, None, 3.63)


def test_recalled_values_count_only_when_there_is_nothing_else():
    mixed = state("upper-limit", [value("a", mid=4.2), value("b", mid=4.1, grade="recalled")])
    assert (mixed.typical, mixed.unchecked) == (4.2, False)
    alone = state("upper-limit", [value("b", mid=4.1, grade="recalled")])
    assert (alone.typical, alone.unchecked) == (4.1, True)


def test_a_named_value_is_stated_as_it_stands():
    outcome = state("typical", [value("a", mid=3.6), value("b", low=3.5, mid=3.7, high=3.8)], {"key": "b", "because": "x"})
    assert (outcome.min, outcome.typical, outcome.max, outcome.rule, outcome.because) == (3.5, 3.7, 3.8, "named", "x")


def test_a_shared_figure_takes_its_best_grade_a_span_its_worst():
    shared = state("upper-limit", [value("a", mid=4.2, grade="reported"), value("b", mid=4.2, grade="read")])
    assert (shared.grade, shared.keys) == ("read", ("a", "b"))
    assert state("typical", [value("a", mid=1, grade="reported"), value("b", mid=2, grade="read")]).grade == "reported"


def test_unknown_key_is_not_passed_over():
    with pytest.raises(KeyError):
        state("typical", [value("a", mid=1)], {"key": "b"})


figures = st.floats(0.1, 100, allow_nan=False)
values = st.lists(st.builds(lambda n, mid, grade: value(f"k{n}", mid=mid, grade=grade), st.integers(0, 99), figures, st.sampled_from(GRADES)), min_size=1, max_size=8)


@given(values)
def test_limits_err_to_the_safe_side(group):
    credible = [v["typical"] for v in group if v["grade"] != "recalled"] or [v["typical"] for v in group]
    assert state("upper-limit", group).typical == min(credible)
    assert state("lower-limit", group).typical == max(credible)


@given(values)
def test_the_stated_figure_is_always_a_value_of_a_source(group):
    every = {v["typical"] for v in group}
    for role in ("upper-limit", "lower-limit", "typical"):
        outcome = state(role, group)
        assert {n for n in (outcome.min, outcome.typical, outcome.max) if n is not None} <= every
