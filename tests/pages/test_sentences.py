"""How a figure was chosen, in words: exact sentences for every rule."""

from __future__ import annotations

from dataclasses import replace

from generator.pages.format import figure
from generator.pages.sections import TASKS, evidence_sections, figure_sections, is_working_limit, label_figures, limit_sections
from generator.pages.sentences import how_stated, siblings, spread_words
from tests.made_up import made_up_library, record


def stated(tmp_path, quantity, variant="standard", **changes):
    subject = made_up_library(tmp_path, made=record(**changes)).chemistries["hostilium"]
    found = subject.figure(quantity, variant)
    return found, how_stated(found, siblings(subject, found)).replace("\u00a0", " ")


def voltages(*numbers, grade="practice"):
    return [{"key": f"v{index}", "typical": v, "unit": "V", "grade": grade} for index, v in enumerate(numbers)]


def with_values(**groups):
    return {**record()["values"], **{name.replace("_", "-"): values for name, values in groups.items()}}


def test_upper_limit_states_the_lowest_and_leaves_memory_out(tmp_path):
    found, words = stated(tmp_path, "charge-voltage-max")
    assert figure(found) == "3.60\u00a0V"
    assert words == (
        "3 values, 3.50 to 3.70 V. 1 from memory is left out. Stated: the lowest credible value, because it is an upper limit."
    )


def test_lower_limit_states_the_highest(tmp_path):
    found, words = stated(tmp_path, "discharge-cutoff-voltage", values=with_values(discharge_cutoff_voltage=voltages(2.0, 2.5, 3.0)))
    assert found.typical == 3.0
    assert words == "3 values, 2.00 to 3.00 V. Stated: the highest credible value, because it is a lower limit."


def test_window_states_what_all_have_in_common(tmp_path):
    found, words = stated(tmp_path, "charge-temperature")
    assert (found.min, found.max) == (0, 45)
    assert words == (
        "2 values, −10 to 50 °C. Stated: what all credible values have in common, because outside it at least one source forbids use."
    )


def test_one_value_says_so(tmp_path):
    assert stated(tmp_path, "nominal-voltage")[1] == "The only value found."


def test_a_named_value_gives_the_reason_of_the_record(tmp_path):
    values = with_values(discharge_cutoff_voltage=voltages(2.0, 2.5))
    choice = {"discharge-cutoff-voltage": {"standard": {"key": "v0", "because": "The other holds at 25 degC only."}}}
    assert stated(tmp_path, "discharge-cutoff-voltage", values=values, stated=choice)[1] == (
        "2 values, 2.00 to 2.50 V. One of them is stated. The other holds at 25 °C (77 °F) only."
    )


def spanned(tmp_path, *numbers):
    """A nominal voltage stated as a span; checked records name one, so the figures are put in afterwards."""
    subject = made_up_library(tmp_path).chemistries["hostilium"]
    found, value = subject.figure("nominal-voltage"), next(subject.values_of("nominal-voltage"))
    low, high = min(numbers), max(numbers)
    figures = {"min": None, "typical": low, "max": None} if low == high else {"min": low, "typical": None, "max": high}
    words = how_stated(replace(found, rule="span", **figures), [replace(value, typical=n) for n in numbers])
    return words.replace("\u00a0", " ")


def test_a_span_says_that_the_range_is_stated(tmp_path):
    assert spanned(tmp_path, 3.2, 3.3, 3.6) == "3 values, 3.20 to 3.60 V. The range is stated."


def test_agreement_says_so(tmp_path):
    assert spanned(tmp_path, 3.2, 3.2) == "2 values, all 3.20 V. They agree."


def test_a_figure_from_memory_alone_is_unchecked(tmp_path):
    found, _ = stated(tmp_path, "charge-voltage-max", "power-cell")
    assert found.unchecked


def test_spread_counts_one_value_as_one(tmp_path):
    subject = made_up_library(tmp_path).chemistries["hostilium"]
    assert spread_words(tuple(subject.values_of("nominal-voltage"))) == "1 value, 3.20 V"


def placed(subject):
    limits = [s for section in limit_sections(subject) for s in section.items]
    rest = [s for section in figure_sections(subject) for s in section.items]
    return limits, [*limits, *label_figures(subject), *rest]


def test_every_stated_figure_and_value_has_one_place(library):
    for subject in library.subjects():
        limits, everything = placed(subject)
        assert sorted(s.id for s in everything) == sorted(s.id for s in subject.stated)
        assert all(is_working_limit(s) for s in limits)
        shown = [v.id for section in evidence_sections(subject.values) for v in section.items]
        assert sorted(shown) == sorted(v.id for v in subject.values)


def test_what_only_tells_how_a_cell_fails_is_no_working_limit(library):
    for subject in library.subjects():
        for stated_ in placed(subject)[0]:
            assert "onset" not in stated_.quantity.id and stated_.quantity.group not in ("safety", "protection")


def test_every_task_of_the_vocabulary_has_a_heading(library):
    assert {task for quantity in library.quantities.values() for task in quantity.tasks} <= set(TASKS)
