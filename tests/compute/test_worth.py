"""Prices by hand."""

from __future__ import annotations

import pytest

from generator.compute.worth import worth

CASE = {"price": 10.0, "cells": 10, "rejects": 5, "mean_ah": 2.0, "nominal_v": 3.5, "usable_share": 1.0, "new_price": 3.5, "new_ah": 2.0}


def test_by_hand():
    """5 good cells of 7 Wh are 35 Wh for 10: 2 a cell, 1 an Ah, 0.2857 a Wh; new 3.5 / 7 Wh is 0.5; worth it from 3 good cells."""
    w = worth(**CASE)
    assert (w.good_cells, w.per_cell, w.per_good_cell, w.per_ah, w.usable_wh, w.new_per_wh) == (5, 1.0, 2.0, 1.0, 35.0, 0.5)
    assert (w.per_usable_wh, w.ratio, w.break_even_good) == (pytest.approx(10 / 35), pytest.approx(20 / 35), 3)


def test_never_worth_it():
    assert worth(**{**CASE, "price": 1000.0}).break_even_good is None


@pytest.mark.parametrize("change", [{"cells": 0}, {"rejects": 10}, {"rejects": -1}, {"price": -1.0}, {"mean_ah": 0.0}, {"usable_share": 1.1}, {"usable_share": 0.0}, {"new_ah": float("nan")}])
def test_nonsense_is_refused_in_words(change):
    with pytest.raises(ValueError, match="[a-z]+ [a-z]+"):
        worth(**{**CASE, **change})
