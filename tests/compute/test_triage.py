"""Triage refuses first, whatever the voltage."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.compute.triage import SIGNS, triage


@given(st.sets(st.sampled_from(sorted(SIGNS)), min_size=1), st.floats(0, 5))
def test_any_sign_refuses_at_any_voltage(signs, volts):
    assert triage(signs, volts, 2.1, 3.0, 4.2).action == "refuse"


@given(st.floats(max_value=2.0999))
def test_below_the_floor_is_refused(volts):
    assert triage(set(), volts, 2.1, 3.0, 4.2).action == "refuse"


def test_in_between():
    assert [triage(set(), volts, 2.1, 3.0, 4.2).action for volts in (2.1, 2.9, 3.0, 4.2, 4.21, math.nan)] == ["watched-precharge", "watched-precharge", "test", "test", "refuse", "refuse"]


def test_even_a_pass_promises_nothing():
    assert "no promise" in triage(set(), 3.7, 2.1, 3.0, 4.2).reason


def test_thresholds_out_of_order_or_unknown_signs_are_refused():
    with pytest.raises(ValueError):
        triage(set(), 3.7, 3.1, 3.0, 4.2)
    with pytest.raises(ValueError):
        triage({"pretty"}, 3.7, 2.1, 3.0, 4.2)
