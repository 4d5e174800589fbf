"""Printed pack voltages. What no publication states is marked as common practice."""

from __future__ import annotations

import math

import pytest

from generator.compute.label import read_label
from generator.compute.label_candidates import CLASS, FULL, NOMINAL, candidates, kinds
from generator.compute.label_lookup import MAX_MV, MESSAGES, answer_label, answer_rest, read_volts
from generator.compute.label_results import label_results
from generator.compute.measured import OpenCircuit, charge_span, curve, rest_span


@pytest.fixture(scope="module")
def results(library):
    return label_results(library)


def best(library, volts, chemistry="nmc"):
    found = [(e, r) for e in read_label(volts, library) for r in e.readings if r.chemistry == chemistry]
    return found[0]


# Common practice: three cells are sold as 10.8, 11.1 and 12 V, five as 18, 18.5 and 20 V; ten as 36 and 40 V.
@pytest.mark.parametrize(
    "volts, series, reading, full",
    [(10.8, 3, NOMINAL, 12.6), (11.1, 3, NOMINAL, 12.6), (12, 3, FULL, 12.6), (18, 5, NOMINAL, 21.0), (18.5, 5, NOMINAL, 21.0), (20, 5, FULL, 21.0), (36, 10, NOMINAL, 42.0), (40, 10, FULL, 42.0), (48, 13, NOMINAL, 54.6)],
)
def test_common_lithium_ion_labels(library, volts, series, reading, full):
    explanation, found = best(library, volts)
    assert (found.series, found.reading, found.row.full_v) == (series, reading, full)
    assert explanation.evidence


# Godson and Conssin texts quoted in the data: 12.8 V is four cells, 25.6 V eight, 51.2 V sixteen, sold as 12, 24, 48 V.
@pytest.mark.parametrize("volts, series, reading", [(12.8, 4, NOMINAL), (25.6, 8, NOMINAL), (51.2, 16, NOMINAL), (12, 4, CLASS), (24, 8, CLASS)])
def test_iron_phosphate_labels(library, volts, series, reading):
    _, found = best(library, volts, "lfp")
    assert (found.series, found.reading) == (series, reading)


def test_the_same_label_has_several_readings(library):
    """12 V is ten nickel cells, six lead-acid cells, three lithium-ion cells counted at 4 V and four of iron phosphate."""
    found = {(r.chemistry, r.series) for e in read_label(12, library) for r in e.readings}
    assert {("nimh", 10), ("lead-acid-agm", 6), ("nmc", 3), ("lfp", 4)} <= found


def test_residual_and_pack_row_are_arithmetic(library, results):
    for volts, explanations in results.table.items():
        for reading in (r for e in explanations for r in e.readings):
            assert reading.residual_v == pytest.approx(volts - reading.series * reading.per_cell_v, abs=1e-3)
            subject = library.chemistries[reading.chemistry]
            nominal = subject.volts("nominal-voltage", reading.variant)
            assert reading.row.nominal_v == pytest.approx(reading.series * nominal, abs=1e-3)


def test_rank_one_comes_first_and_recorded_before_unrecorded(results):
    for explanations in results.table.values():
        ranks = [e.rank for e in explanations]
        assert ranks == sorted(ranks) and ranks[0] == 1
        recorded = [bool(e.evidence) for e in explanations]
        assert recorded == sorted(recorded, reverse=True)


def test_every_recorded_label_of_a_known_chemistry_is_explained(library, results):
    for entry in library.labels.entries:
        known = [c for c in entry.group.chemistries if c in library.chemistries]
        found = {(r.chemistry, r.variant, r.series) for e in results.table[entry.volts] if entry in e.evidence for r in e.readings}
        variants = {c for c in known if any(k.subject.id == c and k.variant == entry.group.variant for k in kinds(library))}
        assert {(c, entry.group.variant, entry.series) for c in variants} <= found, entry.id


def test_safe_figures_hold_for_every_member(results):
    for explanation in (e for found in results.table.values() for e in found):
        for reading in explanation.readings:
            if reading.row.full_v is not None:
                assert explanation.safe_full_v <= reading.row.full_v
            assert explanation.safe_empty_v >= reading.row.empty_v


def test_reasons_are_one_plain_sentence(results):
    for explanation in (e for found in results.table.values() for e in found):
        assert explanation.reason.endswith(".") and explanation.reason[0] in "O0123456789" and "  " not in explanation.reason


def test_primary_cells_are_never_full(library, results):
    for explanation in (e for found in results.table.values() for e in found):
        for reading in explanation.readings:
            if not library.chemistries[reading.chemistry].rechargeable:
                assert reading.row.full_v is None and reading.reading == NOMINAL


def test_nothing_explains_an_absurd_voltage(library):
    assert read_label(0.3, library) == ()


def test_candidates_hold_their_own_voltage(library):
    for candidate in candidates(library):
        if candidate.reading != CLASS:
            assert candidate.low_v < candidate.volts < candidate.high_v


@pytest.mark.parametrize("typed, millivolts", [("10.8", 10800), (" 10,8 V", 10800), ("12v", 12000), ("3.85", 3850), ("1", 1000), ("100 volts", 100000)])
def test_voltages_as_people_type_them(typed, millivolts):
    assert read_volts(typed) == (millivolts, None)


@pytest.mark.parametrize(
    "typed, message",
    [("0", "out-of-range"), ("-5", "not-a-voltage"), ("1e9", "not-a-voltage"), ("twelve", "not-a-voltage"), ("", "empty"), ("9999", "out-of-range"), ("1.2.3", "not-a-voltage"), ("<b>12</b>", "not-a-voltage"), ("9" * 500, "not-a-voltage"), ("\u0661\u0662", "not-a-voltage")],
)
def test_bad_voltages_get_a_plain_sentence(typed, message):
    assert read_volts(typed) == (None, message) and MESSAGES[message].endswith(".")


def test_the_lookup_says_what_the_computation_says(library, results):
    data = results.lookup
    for volts in (7.2, 10.8, 12.0, 20.0, 36.0, 48.0):
        answer = answer_label(f"{volts:g}", data)
        shown = [(data["explanations"][i]["series"], data["explanations"][i]["reason"]) for i in answer["explanations"]]
        likely = [(e.series, e.reason) for e in read_label(volts, library) if e.evidence or e.usual]
        assert shown == likely[: len(shown)] and shown


def test_a_voltage_between_labels_is_rounded_to_a_tenth(results):
    assert answer_label("10.83", results.lookup)["volts"] == "10800"
    assert answer_label("10.85", results.lookup)["volts"] == "10900"


@pytest.fixture
def line() -> OpenCircuit:
    """A made-up cell: 3.0 V empty, 4.0 V full, a straight line between."""
    return curve("made-up", [0, 50, 100], [3.0, 3.5, 4.0])


def test_charge_from_a_straight_line(line):
    assert line.charge(3.25) == pytest.approx(25) and line.at(25) == pytest.approx(3.25)
    assert line.charge(2.99) is None and line.charge(4.01) is None


def test_several_cells_give_a_span(line):
    other = curve("second", [0, 100], [3.2, 4.2])
    low, high = charge_span(3.7, (line, other))
    assert (low, high) == (pytest.approx(50), pytest.approx(70))
    assert rest_span(50, (line, other), 3) == (pytest.approx(10.5), pytest.approx(11.1))


def test_a_falling_curve_is_refused():
    with pytest.raises(ValueError, match="falls with charge"):
        curve("made-up", [0, 100], [3.5, 3.4])


def test_measured_voltage_of_a_three_cell_pack(results):
    """12.6 V is full and 9 V nearly empty for three lithium-ion cells, by the definition of their window."""
    data = results.lookup
    index = next(i for i, c in enumerate(data["rest"]) if c["chemistry"] == "nmc")
    full = next(p for p in answer_rest("12.6", data)["packs"] if p[:2] == [index, 3])
    low = next(p for p in answer_rest("9.0", data)["packs"] if p[:2] == [index, 3])
    assert full[3] == 100 and full[2] >= 99 and low[3] <= 5


def test_the_lookup_is_whole_numbers(results):
    for chemistry in results.lookup["rest"]:
        assert all(isinstance(n, int) for key in ("low", "high", "series") for n in chemistry[key])
        assert all(lo <= hi for lo, hi in zip(chemistry["low"], chemistry["high"], strict=True))
        assert math.isclose(chemistry["start_mv"] % 10, 0) and chemistry["start_mv"] * max(chemistry["series"]) <= MAX_MV
