"""Stand-ins: series counts the trade uses come out, and none that is dangerous does."""

from __future__ import annotations

import pytest

from generator.build import CACHE
from generator.compute import old_charger, standin
from generator.compute.curves import curves_of


@pytest.fixture(scope="module")
def curves(library):
    wanted = [cell for cell in library.cells.values() if cell.porous and cell.chemistry in standin.CANDIDATES]
    return {cell.id: curves_of(cell, CACHE) for cell in wanted}


@pytest.fixture(scope="module")
def found(library, curves):
    return {one.old.id: one for one in standin.replacements(library, curves)}


def test_every_old_battery_of_the_trade_is_there(found):
    assert list(found) == [
        "lead-6", "lead-12", "lead-24", "lead-36", "lead-48",
        "nickel-7-2", "nickel-8-4", "nickel-9-6", "nickel-12", "nickel-14-4", "nickel-18", "nickel-24",
    ]  # fmt: skip


def verdict_of(one, chemistry, series):
    return next((c.verdict for c in one.candidates if (c.subject.id, c.series) == (chemistry, series)), None)


# Common practice of the trade, no one source: what 12, 24, 36 and 48 V packs of these kinds are built with.
@pytest.mark.parametrize(
    ("old", "chemistry", "series"),
    [("lead-12", "lfp", 4), ("lead-24", "lfp", 8), ("lead-36", "lfp", 12), ("lead-48", "lfp", 16), ("lead-48", "lfp", 15), ("lead-24", "nmc", 7), ("lead-36", "nmc", 10),
     ("lead-48", "nmc", 13), ("lead-48", "nmc", 14), ("lead-12", "lto", 5), ("lead-12", "lto", 6), ("lead-12", "sodium-ion-layered", 4), ("nickel-7-2", "nmc", 2),
     ("nickel-14-4", "nmc", 4), ("nickel-18", "nmc", 5), ("nickel-9-6", "lfp", 3)],
)  # fmt: skip
def test_usual_stand_ins_are_found(found, old, chemistry, series):
    assert verdict_of(found[old], chemistry, series) in (standin.FITS, standin.LOWER)


@pytest.mark.parametrize(("old", "chemistry", "series"), [("lead-12", "nmc", 4), ("lead-12", "lfp", 3), ("lead-24", "nmc", 8), ("nickel-12", "nmc", 4)])
def test_what_never_fits(found, old, chemistry, series):
    assert verdict_of(found[old], chemistry, series) == standin.NEVER


def test_no_cell_limit_is_ever_exceeded(found):
    for one in found.values():
        for c in one.candidates:
            assert c.ceiling_v <= c.full_v + 1e-9
            assert c.ceiling_v <= one.old.high_v + 1e-9
            if c.verdict == standin.FITS:
                assert c.full_v <= one.old.high_v + 0.0051
            if c.verdict != standin.NEVER:
                assert one.old.low_v - 0.0051 <= c.nominal_v <= one.old.high_v
            if c.used_percent is not None and c.verdict != standin.NEVER:
                assert 50 <= c.used_percent <= 101


def test_share_of_the_charge_against_the_curve_itself(library, curves):
    curve = curves["chen-2020"]
    whole = curve.curve(standin.SHARE_RATE_C).capacity_ah[-1]
    got = standin.used_percent(curve, 4.2, 2.5)
    assert got == pytest.approx(100 * whole / curve.reference_ah, abs=1.0)
    assert standin.used_percent(curve, 3.0, 3.5) == 0


def test_charger_stages_over_the_limit(library, found):
    # 14.4 V over three lithium-ion cells is 4.8 V each: arithmetic that every maker's limit of 4.2 V forbids.
    twelve = found["lead-12"]
    settings = {s.name: s for s in old_charger.charger_settings(library, 6)}
    three = next(c for c in twelve.candidates if (c.subject.id, c.series) == ("nmc", 3))
    assert old_charger.per_cell(settings["AGM, absorption"], 3) == pytest.approx(4.8)
    assert old_charger.over_limit(settings["AGM, absorption"], three)
    four = next(c for c in twelve.candidates if (c.subject.id, c.series) == ("lfp", 4))
    assert not old_charger.over_limit(settings["AGM, absorption"], four)
    equalise = next(s for name, s in settings.items() if name.endswith("equalise"))
    assert old_charger.over_limit(equalise, four)
    assert any(old_charger.over_limit(s, four) for name, s in settings.items() if "at 0" in name)


def test_verdict_needs_the_nominal_voltage_inside():
    old = standin.OldBattery("x", "x", None, 6, 12.0, 10.5, 14.4, ())
    assert standin.verdict(old, 3, 3.4, 4.0) == standin.NEVER  # 10.2 V nominal: taken for empty
    assert standin.verdict(old, 4, 3.2, 3.6) == standin.FITS
    assert standin.verdict(old, 4, 3.2, 3.65) == standin.LOWER
    assert standin.verdict(old, 4, 3.6, 4.2) == standin.NEVER  # nominal at the very top
