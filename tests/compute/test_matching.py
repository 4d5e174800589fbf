"""Measurements to a match: refusals with their reason, problems with their place."""

from __future__ import annotations

import time

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from generator.build import ROOT
from generator.compute.match import TooFewCells, match_cells, refusals
from generator.compute.measurements import MAX_CELLS, MAX_PROBLEMS, MeasuredCell, read_measurements
from generator.compute.sample_cells import PARALLEL, SAMPLE, SERIES


def cell(name, capacity=2400.0, resistance=None, voltage=None, loss=None):
    return MeasuredCell(name, capacity, resistance, voltage, loss)


def test_the_sample_the_page_offers_is_the_file_the_site_serves():
    assert (ROOT / "docs" / "assets" / "sample-cells.csv").read_text("utf-8") == SAMPLE
    assert "made-up" in SAMPLE.splitlines()[0].lower()


def test_the_sample():
    cells, problems = read_measurements(SAMPLE.splitlines())
    assert not problems
    found = match_cells(cells, SERIES, PARALLEL, 2.1)
    assert {r.cell for r in found.rejects if r.refused} == {"A05", "A09", "A14"}
    assert found.optimal and found.usable_capacity_mah == found.bound_mah == min(g.capacity_mah for g in found.groups)
    total = sum(g.capacity_mah for g in found.groups)
    assert found.wasted_share == pytest.approx((total - 3 * found.usable_capacity_mah) / total)


def test_a_cell_below_the_floor_is_refused_however_strong():
    cells = [cell("empty", 9999.0, voltage=2.05), *(cell(f"c{k}", voltage=3.7) for k in range(4))]
    found = match_cells(cells, 2, 2, 2.1)
    assert [(r.cell, r.refused) for r in found.rejects] == [("empty", True)]
    assert "do not charge it" in found.rejects[0].reason


def test_a_leaking_and_a_worn_cell_are_refused_only_against_enough_mates():
    mates = [cell(f"c{k}", resistance=30.0, loss=0.5) for k in range(4)]
    odd = [cell("leaks", resistance=30.0, loss=4.0), cell("worn", resistance=61.0, loss=0.5)]
    assert [bool(reason) for reason in refusals([*mates, *odd], None)] == [False] * 4 + [True, True]
    assert not any(refusals([*mates[:2], *odd], None))


def test_settling_cells_are_not_refused_for_noise():
    cells = [cell(f"c{k}", loss=loss) for k, loss in enumerate((-0.1, 0.0, 0.0, 0.1, 0.2, 0.9))]
    assert not any(refusals(cells, None))


def test_too_few_after_refusals_says_who_and_why():
    cells = [cell("a", voltage=1.0), cell("b", voltage=3.7)]
    with pytest.raises(TooFewCells, match=r"1S2P needs 2 cells, but only 1 may be used, 1 refused \(a: found at 1 V, below the floor"):
        match_cells(cells, 1, 2, 2.0)


def test_cells_far_apart_in_voltage_or_capacity_are_pointed_out():
    cells = [cell("a", 2400, voltage=3.7), cell("b", 2400, voltage=3.5), *(cell(f"c{k}", 2400, voltage=3.7) for k in range(3)), cell("weak", 900, voltage=3.7)]
    notes = " ".join(match_cells(cells, 2, 3, 2.1).notes)
    assert "one voltage" in notes and "weak" in notes


@pytest.mark.parametrize(
    ("text", "place"),
    [
        ("cell,capacity_mah\na,2500\nb,2.5\nc,2400\n", (3, 3, "unit")),
        ("cell,capacity_mah\na,280000\nbb,280\nc,281000\n", (3, 4, "unit")),
        ("cell,capacity_mah\na,2500\na,2400\n", (3, 1, "duplicate-cell")),
        ("cell,capacity_mah\na,2500\nb,lots\n", (3, 3, "not-a-number")),
        ("cell,capacity_mah\na,2500,7\n", (2, 3, "wrong-count")),
        ("cell,capacity_mah\na\n", (2, 1, "wrong-count")),
        ("a,2500\n", (1, 1, "missing-column")),
        ("cell,capacity_mah,resistance\na,2500,3\n", (1, 19, "unknown-column")),
        ("", (1, 1, "no-cells")),
        ("cell,capacity_mah\n", (1, 1, "no-cells")),
        ("cell,capacity_mah\na,-5\n", (2, 3, "unit")),
        ("cell,capacity_mah\na,nan\n", (2, 3, "not-a-number")),
        ("cell,capacity_mah\n\u0000,2500\n", (2, 1, "not-text")),
        ("cell,capacity_mah,voltage_v\na,2500,3700\n", (2, 8, "unit")),
    ],
)
def test_a_problem_has_its_line_and_column(text, place):
    problems = read_measurements(text.splitlines(keepends=True))[1]
    assert place in [(p.line, p.column, p.id) for p in problems]
    assert all(p.message.endswith(".") for p in problems)


@pytest.mark.parametrize("separator", [",", ";", "\t"])
def test_separators_quotes_and_a_byte_order_mark(separator):
    text = f'\ufeffCell{separator}Capacity_mAh\r\n"a ""1"""{separator}2500.5\r\n'
    cells, problems = read_measurements(text.splitlines(keepends=True))
    assert not problems
    assert [(c.cell, c.capacity_mah) for c in cells] == [('a "1"', 2500.5)]


def test_a_million_rows_of_noise_end_early():
    def noise():
        yield "cell,capacity_mah\n"
        for k in range(1_000_000):
            yield f"{k * 2654435761 % 2**32:x};;{k},,\n"

    started, rows = time.process_time(), noise()
    problems = read_measurements(rows)[1]
    assert len(problems) == MAX_PROBLEMS + 1 and "rest was not read" in problems[-1].message
    assert time.process_time() - started < 2


def test_a_million_good_rows_end_at_the_limit():
    rows = (line for line in ("cell,capacity_mah\n", *(f"c{k},2500\n" for k in range(MAX_CELLS + 5))))
    problems = read_measurements(rows)[1]
    assert [(p.line, p.id) for p in problems] == [(MAX_CELLS + 2, "too-many-cells")]


@settings(max_examples=300, deadline=None)
@given(st.text(max_size=300))
def test_any_text_is_read_or_refused(text):
    cells, problems = read_measurements(text.split("\n"))
    assert problems or cells
    assert all(p.line >= 1 and p.column >= 1 for p in problems)


@settings(max_examples=200, deadline=None)
@given(st.lists(st.text(st.sampled_from('ab,;"\t.5-e\u202e<'), max_size=20), max_size=8))
def test_any_rows_below_a_good_header(rows):
    cells, problems = read_measurements(["cell,capacity_mah", *rows])
    assert problems or all(20 <= c.capacity_mah <= 1e6 for c in cells)
