"""Numbers, temperatures and conditions as printed."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.model.subject import Condition
from generator.pages.format import condition, fahrenheit_of, number, prose, sentence, volts

# Fixed points of the two scales, NIST SP 811 appendix B.9: t(degF) = 1.8 t(degC) + 32; -40 is the same on both.
SCALES = [(-40, -40), (0, 32), (25, 77), (37, 99), (45, 113), (60, 140), (100, 212), (-20, -4)]


@pytest.mark.parametrize(("celsius", "fahrenheit"), SCALES)
def test_temperatures_agree_with_the_published_scales(celsius, fahrenheit):
    assert fahrenheit_of(celsius) == fahrenheit


@pytest.mark.parametrize(
    ("text", "shown"),
    [
        ("not below 0 degC.", "not below 0 °C (32 °F)."),
        ("from -20 to 60 degC", "from −20 to 60 °C (−4 to 140 °F)"),
        ("at 40 or 55 degC", "at 40 or 55 °C (104 or 131 °F)"),
        ("Over-charged at -10 degC to 4.8 V", "Over-charged at −10 °C (14 °F) to 4.8 V"),
        ("lifetime halves every 10 degC", "lifetime halves every 10 °C"),
        ("a rise of 5 degC in a minute", "a rise of 5 °C in a minute"),
        ("within 2 degC of each other", "within 2 °C of each other"),
        ("kept within 0 to 45 degC", "kept within 0 to 45 °C"),  # unsure, so no second scale: never a wrong one
        ("in degC", "in °C"),
        ("18650 cells at 45 degC", "18650 cells at 45 °C (113 °F)"),
        ("INR18650-25 degC", "INR18650-25 °C"),  # part of a name, not a number
        ("no temperature", "no temperature"),
    ],
)
def test_prose_shows_both_scales_but_never_converts_a_difference(text, shown):
    assert prose(text).replace("\u00a0", " ") == shown


@given(st.text(max_size=60))
def test_prose_keeps_text_without_temperatures(text):
    if "deg" not in text and "°" not in text:
        assert prose(text) == text


@pytest.mark.parametrize(
    ("figure", "decimals", "shown"),
    [(4.2, 2, "4.20"), (3.635, 2, "3.635"), (0, 1, "0.0"), (-0.5, None, "−0.5"), (12000, None, "12\u202f000"), (1e-4, None, "0.0001"), (9999, 0, "9999"), (1e6, 0, "1\u202f000\u202f000")],
)
def test_numbers_keep_their_figures(figure, decimals, shown):
    assert number(figure, decimals) == shown


@given(st.decimals(-99999, 99999, places=4))
def test_numbers_read_back(figure):
    shown = number(float(figure), 2)
    assert float(shown.replace("\u202f", "").replace("\u2212", "-")) == float(figure)


def test_volts_without_a_figure_are_a_dash():
    assert (volts(None), volts(12.6)) == ("–", "12.60")


def test_conditions_name_the_product_first_and_the_note_last():
    given_ = Condition(temperature_c=-20, c_rate=0.2, size="18650", product="INR18650-X", note="at rest")
    assert condition(given_).replace("\u00a0", " ") == "INR18650-X, size 18650, −20 °C (−4 °F), 0.2 C, at rest"
    assert condition(Condition()) == ""


@pytest.mark.parametrize(("text", "ended"), [("Half of five", "Half of five."), ("Half.", "Half."), ("Half?", "Half?")])
def test_sentences_end(text, ended):
    assert sentence(text) == ended
