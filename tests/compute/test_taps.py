"""Tap voltages: steps, odd taps, fits."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.compute.taps import CellVoltages, ImpossibleReadings, parallel_counts, read_taps

NMC, LFP, NIMH = CellVoltages("nmc", "NMC", 2.5, 4.2, 2.1), CellVoltages("lfp", "LFP", 2.5, 3.65, 2.1), CellVoltages("nimh", "NiMH", 1.0, 1.4, None)
ALL = (NMC, LFP, NIMH)


def odd(*readings):
    return [step.odd for step in read_taps(readings, ALL).steps]


@pytest.mark.parametrize(
    ("readings", "wanted"),
    [
        ((3.71, 7.40, 11.12), ["none"] * 3),
        ((0.0, 3.71, 7.40, 11.12), ["none"] * 3),
        ((3.7, 7.4, 7.41, 11.1), ["none", "none", "same-node", "none"]),
        ((3.7, 3.1, 6.8), ["none", "negative", "none"]),
        ((3.7, 11.1, 14.8), ["none", "skipped-tap", "none"]),
        ((3.7, 7.0, 11.1), ["none", "tap-between", "tap-between"]),
        ((3.7, 7.1, 10.8, 14.5), ["none", "low", "none", "none"]),
        ((3.7, 7.4, 11.45, 15.15), ["none", "none", "high", "none"]),
        ((3.7, 7.45, 11.15), ["none", "drifted", "none"]),
    ],
)
def test_odd_taps(readings, wanted):
    assert odd(*readings) == wanted


def test_what_fits():
    found = read_taps((3.71, 7.40, 11.12), ALL).fits
    assert [(f.id, f.cells, f.state) for f in found] == [("nmc", 3, "within"), ("nimh", 9, "within"), ("lfp", 3, "over-charged")]


def test_a_skipped_tap_still_counts_its_cells():
    assert read_taps((3.7, 11.1, 14.8), (NMC,)).fits[0].cells == 4


def test_a_deeply_discharged_reading_never_passes_as_healthy_only():
    """1.2 V fits a nickel cell; that it is below the floor of lithium-ion must stand beside it."""
    states = {f.id: f.state for f in read_taps((1.2, 2.4), ALL).fits}
    assert states == {"nimh": "within", "lfp": "below-floor", "nmc": "below-floor"}


@pytest.mark.parametrize("readings", [(), (0.0,), (-3.7, -7.4), (math.nan,), (math.inf,), (1e9,), (3.7,) * 65])
def test_impossible_readings_say_why(readings):
    with pytest.raises(ImpossibleReadings) as refused:
        read_taps(readings, ALL)
    assert len(str(refused.value)) > 20


@given(st.lists(st.floats(-50, 100), min_size=1, max_size=20))
def test_any_readings_are_read_or_refused(readings):
    try:
        found = read_taps(readings, ALL)
    except ImpossibleReadings:
        return
    assert all(fit.cells >= 1 for fit in found.fits)


@given(st.integers(1, 16), st.floats(2.6, 3.6))
def test_equal_cells_are_counted(count, volts):
    fits = read_taps([round(volts * k, 4) for k in range(1, count + 1)], (NMC,)).fits
    assert (fits[0].cells, fits[0].state) == (count, "within")


def test_cells_side_by_side():
    assert parallel_counts(5.0, 1.1, 3.5) == (2, 3, 4)
    assert parallel_counts(2.5, 2.5, 2.5) == (1,)
    assert parallel_counts(6.0, 3.9, 5.0) == ()
    with pytest.raises(ValueError):
        parallel_counts(5, 3, 2)
