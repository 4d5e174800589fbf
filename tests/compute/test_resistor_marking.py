"""Resistor markings against printed examples."""

from __future__ import annotations

import pytest

from generator.compute.resistor_marking import NotAMarking, e96, read_marking

# Examples of IEC 60062 as an encyclopedia repeats them (reported): R47 0.47, 4R7 4.7, 470R, 4K7, 47K, 47K3, 470K, 4M7.
IEC_60062 = {"R47": 0.47, "4R7": 4.7, "470R": 470, "4K7": 4700, "47K": 47_000, "47K3": 47_300, "470K": 470_000, "4M7": 4_700_000}
# A distributor's resolution of a shunt maker's order codes (reported): WSL1206 8L000 is 8 mOhm, 7L000 7 mOhm, R0100 10 mOhm.
SHUNTS = {"8L000": 0.008, "7L000": 0.007, "R0100": 0.01, "R0500": 0.05}
# A public list of label texts (read): value, three digits or letter, four digits, EIA-96.
LIST = [(5.1, "5R1", "5R10", None), (10, "100", "10R0", "01X"), (180, "181", "1800", None), (200, "201", "2000", "30A"), (1000, "102", "1001", "01B"),
        (1270, None, "1271", "11B"), (1500, "152", "1501", "18B"), (10_000, "103", "1002", "01C"), (150_000, "154", "1503", "18D"), (1_000_000, "105", "1004", "01E")]  # fmt: skip
# The E96 series of IEC 60063, complete (well known; from memory).
E96 = """100 102 105 107 110 113 115 118 121 124 127 130 133 137 140 143 147 150 154 158 162 165 169 174 178 182 187 191 196 200 205 210
215 221 226 232 237 243 249 255 261 267 274 280 287 294 301 309 316 324 332 340 348 357 365 374 383 392 402 412 422 432 442 453
464 475 487 499 511 523 536 549 562 576 590 604 619 634 649 665 681 698 715 732 750 768 787 806 825 845 866 887 909 931 953 976"""


@pytest.mark.parametrize(("marking", "ohm"), [*IEC_60062.items(), *SHUNTS.items(), ("R005", 0.005), ("5L00", 0.005), ("R010", 0.01), ("68X", 49.9)])
def test_printed_examples(marking, ohm):
    assert read_marking(marking)[0].ohm == ohm


@pytest.mark.parametrize(("ohm", "marking"), [(row[0], m) for row in LIST for m in row[1:] if m])
def test_a_public_list_of_labels(ohm, marking):
    assert ohm in [reading.ohm for reading in read_marking(marking)]


def test_the_e96_series():
    assert [e96(n) for n in range(1, 97)] == [int(figure) for figure in E96.split()]


def test_tolerance_letters():
    assert [read_marking(f"R010{letter}")[0].tolerance_percent for letter in "FJK"] == [1.0, 5.0, 10.0]


def test_ambiguous_markings_keep_every_reading_the_standards_first():
    assert [(r.ohm, r.code) for r in read_marking("12R")] == [(12.0, "letter-code"), (1.3, "eia-96")]
    assert [(r.ohm, r.code) for r in read_marking("0M50")] == [(500_000.0, "letter-code"), (0.0005, "milliohm-m")]


@pytest.mark.parametrize("text", ["", "   ", "R", "RR", "A B", "97A", "00A", "<b>", "123456789", "\u0661\u0660\u0663", "5.1", "-5"])
def test_what_is_no_marking_is_refused_with_a_sentence(text):
    with pytest.raises(NotAMarking) as refused:
        read_marking(text)
    assert str(refused.value).endswith(".")
