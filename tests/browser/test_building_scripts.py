"""The building pages' scripts compute what the generator computes: shared vectors, in a real browser, without a site."""

from __future__ import annotations

import json
import math
from pathlib import Path

import pytest

from generator.build import ROOT
from tests.vectors.regenerate_building import FILE, vectors

pytestmark = pytest.mark.browser
SCRIPTS = ("taps", "board", "sorting", "strings", "worth")


@pytest.fixture(scope="module")
def shared() -> dict:
    return json.loads(FILE.read_text("utf-8"))


@pytest.fixture(scope="module")
def scripts(browser):
    page = browser.new_page()
    for name in SCRIPTS:
        page.add_script_tag(path=str(Path(ROOT) / "docs" / "assets" / f"{name}.js"))
    yield page
    page.close()


def assert_like(found, wanted, where: str) -> None:
    """Same structure, same texts and whole numbers, other numbers to 1e-9 relative."""
    if isinstance(wanted, dict):
        for key, value in wanted.items():
            assert_like(found[key], value, f"{where}.{key}")
    elif isinstance(wanted, list):
        assert len(found) == len(wanted), where
        for k, (a, b) in enumerate(zip(found, wanted, strict=True)):
            assert_like(a, b, f"{where}[{k}]")
    elif isinstance(wanted, float):
        assert math.isclose(found, wanted, rel_tol=1e-9, abs_tol=1e-9), f"{where}: {found} is not {wanted}"
    else:
        assert found == wanted, f"{where}: {found!r} is not {wanted!r}"


def test_the_stored_vectors_are_what_the_generator_computes(shared):
    assert json.loads(json.dumps(vectors())) == shared


def test_markings(scripts, shared):
    for case in shared["markings"]:
        found = scripts.evaluate("t => { try { return almanacBoard.readMarking(t) } catch (e) { return {error: e.message} } }", case["text"])
        assert_like(found, case["readings"], case["text"])


def test_trip_currents(scripts, shared):
    found = scripts.evaluate("cases => cases.map(c => ({amps: almanacBoard.tripCurrent(c.mv, c.mohm), path: almanacBoard.switchPath(c.mohm, c.side, 0.5, 1.5)}))", shared["trips"])
    for answer, case in zip(found, shared["trips"], strict=True):
        assert_like(answer, {"amps": case["amps"], "path": case["path"]}, "trip")


def test_thermistors(scripts, shared):
    run = "cases => cases.map(c => almanacBoard.thresholdTemperature({low: c.share, typical: c.share, high: c.share}, c.fixed, c.r25, c.b, c.low))"
    for answer, case in zip(scripts.evaluate(run, shared["thermistors"]), shared["thermistors"], strict=True):
        assert_like(answer, case["acts"], "thermistor")


def test_taps(scripts, shared):
    run = "([readings, windows]) => { try { return almanacTaps.readTaps(readings, windows) } catch (e) { return {error: e.message} } }"
    for case in shared["taps"]:
        assert_like(scripts.evaluate(run, [case["readings"], shared["windows"]]), case["answer"], str(case["readings"][:8]))


def test_strings(scripts, shared):
    run = "([c, curve]) => almanacStrings.usable(c.cells, curve, c.window, c.hours)"
    for case in shared["strings"]:
        assert_like(scripts.evaluate(run, [case, shared["curve"]]), case["usable"], "string")


def test_worth(scripts, shared):
    for case in shared["worth"]:
        assert_like(scripts.evaluate("c => almanacWorth.worth(c)", case["case"]), case["worth"], "worth")


def test_matches_are_the_same_groups(scripts, shared):
    run = """c => { try { return almanacSorting.matchCells(almanacSorting.readMeasurements(c.text).cells, c.series, c.parallel, c.floor) }
                    catch (e) { return {error: e.message} } }"""
    for case in shared["matches"]:
        wanted = json.loads(json.dumps(case["match"]))
        found = scripts.evaluate(run, case)
        for group in wanted.get("groups", ()):
            group.pop("resistance_mohm")  # rounded in the generator; held below
        assert_like(found, wanted, case["text"][:60])
        for mine, theirs in zip(found.get("groups", ()), case["match"].get("groups", ()), strict=True):
            if theirs["resistance_mohm"] is None:
                assert mine["resistance_mohm"] is None
            else:
                assert abs(mine["resistance_mohm"] - theirs["resistance_mohm"]) <= 5.1e-5


def test_problems_of_a_table_are_the_same(scripts, shared):
    run = "t => almanacSorting.readMeasurements(t).problems.map(p => [p.line, p.column, p.id, p.message])"
    for case in shared["tables"]:
        assert scripts.evaluate(run, case["text"]) == case["problems"], case["text"][:60]


def test_ten_thousand_cells_in_seconds(scripts):
    run = """() => { const cells = [];
      for (let i = 0; i < 10000; i++) cells.push({cell: `c${i}`, capacity_mah: 2000 + (i * 7919) % 701, resistance_mohm: null, voltage_v: null, self_discharge_mv_per_day: null});
      const m = almanacSorting.matchCells(cells, 2500, 4, null);
      return [m.groups.length, m.usable_capacity_mah, m.bound_mah, new Set(m.groups.flatMap(g => g.cells)).size] }"""
    groups, usable_mah, bound_mah, used = scripts.evaluate(run)
    assert (groups, used) == (2500, 10_000)
    assert bound_mah - 5 <= usable_mah <= bound_mah
