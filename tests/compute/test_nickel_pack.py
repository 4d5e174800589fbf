"""Strings of nickel cells against the rule a maker prints, and the clock against makers' charging times."""

from __future__ import annotations

import pytest

from generator.compute import nickel_pack as nickel


@pytest.mark.parametrize("cells", range(1, 11))
def test_cutoff_follows_the_makers_rule(cells):
    # Evergreen NC23AA400, section 3, battery pack condition: 1.0 V times n up to six cells, 1.2 V times (n - 1) for seven to ten.
    printed = cells * 1.0 if cells <= 6 else (cells - 1) * 1.2
    assert nickel.string_cutoff_v(cells, 1.0, 1.2) == pytest.approx(printed)


@pytest.mark.parametrize("cells", range(1, 25))
def test_the_rule_never_reverses_one_empty_cell(cells):
    stop = nickel.string_cutoff_v(cells, 1.0, 1.2)
    assert nickel.weakest_v(cells, stop, 1.2) >= -1e-9


def test_the_cells_own_cutoff_reverses_the_weakest_from_seven_on():
    at = [nickel.weakest_v(n, n * 1.0, 1.2) for n in range(1, 25)]
    assert all(v >= -1e-9 for v in at[:6]) and all(v < -1e-9 for v in at[6:])


@pytest.mark.parametrize("id", ["nicd", "nimh"])
def test_table_agrees_with_the_pack_cutoffs_of_the_record(library, id):
    subject = library.chemistries[id]
    lines = {line.cells: line for line in nickel.string_table(subject)}
    assert sorted(lines) == list(range(1, 25))
    stated = subject.figure("pack-cutoff-voltage")
    assert lines[10].cutoff_v / 10 == pytest.approx(stated.typical, abs=0.005)
    assert [n for n, line in lines.items() if line.sourced] == list(range(1, 11))


def test_no_rule_without_a_source(library):
    assert nickel.string_table(library.chemistries["nizn"]) == ()
    assert nickel.string_table(library.chemistries["lfp"]) == ()


def test_charge_by_the_clock_matches_what_makers_print(library):
    # Makers of both kinds print 14 to 16 h at 0.1 C (Evergreen, Sanyo, VARTA; IEC 61951 charges 16 h at 0.1 C before the test).
    for id in ("nicd", "nimh"):
        clock = nickel.clock_charge(library.chemistries[id], library)
        assert 14 <= clock.hours <= 16


def test_refusals():
    with pytest.raises(ValueError, match="at least one"):
        nickel.string_cutoff_v(0, 1.0, 1.2)
    with pytest.raises(ValueError, match="current"):
        nickel.charge_hours(0, 140)
