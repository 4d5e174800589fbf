"""Stored packs, balancers, and transport thresholds against the regulation."""

from __future__ import annotations

import pytest

from generator.compute.protection import balance_current_ma, balance_hours, days_to_fall
from generator.compute.transport import band_of, cargo_bands, passenger_bands, watt_hours


def test_a_board_empties_a_small_pack_in_years():
    """2.5 Ah, 30 uA alone: 2.5/30e-6 h = 83333 h = 3472 days (hand arithmetic)."""
    assert days_to_fall(2.5, 100.0, 30.0, 0.0) == pytest.approx(3472.2, rel=1e-4)


def test_self_discharge_alone_takes_its_months():
    assert days_to_fall(2.5, 10.0, 0.0, 2.0) == pytest.approx(5 * 365.25 / 12)


def test_balancing_time_and_current():
    assert balance_hours(2.5, 4.0, 50.0) == pytest.approx(2.0)
    assert balance_hours(2.5, 4.0, 50.0, 0.25) == pytest.approx(8.0)
    assert balance_current_ma(2.5, 4.0, 2.0) == pytest.approx(50.0)


def test_thresholds_are_the_regulations(library):
    """49 CFR 173.185 (c)(1)(i), (iv): 20 and 100 Wh, 60 and 300 Wh by road or rail; FAA for passengers: 100 and 160 Wh."""
    transport = library.practices["transport"]
    assert [band.limit_wh for band in cargo_bands(transport, True)] == [20, 60, None]
    assert [band.limit_wh for band in cargo_bands(transport, False)] == [100, 300, None]
    assert [band.limit_wh for band in passenger_bands(transport)] == [100, 160, None]


def test_a_limit_belongs_to_its_band(library):
    bands = passenger_bands(library.practices["transport"])
    assert [band_of(wh, bands) for wh in (0.1, 100.0, 100.01, 160.0, 160.01, 1e6)] == [0, 0, 1, 1, 2, 2]


def test_rating_is_capacity_times_nominal_voltage():
    """49 CFR 171.8: a pack of three 2.0 Ah cells labelled 10.8 V is 21.6 Wh."""
    assert watt_hours(2.0, 10.8) == pytest.approx(21.6)
