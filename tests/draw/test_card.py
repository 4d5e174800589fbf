"""Bench cards: one page, the same bytes, nothing cut off, and never a charge voltage for cells that are never charged."""

from __future__ import annotations

import re
import textwrap

from generator.cache import NO_CACHE
from generator.draw import card
from generator.draw.card_data import card_of


def test_one_page_without_dates_and_the_same_bytes_twice(library):
    made = card_of(library.chemistries["lfp"])
    first, second = card.card_pdf(made, NO_CACHE), card.card_pdf(made, NO_CACHE)
    assert first == second and first.startswith(b"%PDF")
    assert len(re.findall(rb"/Type /Page\b(?!s)", first)) == 1
    assert b"CreationDate" not in first and b"ModDate" not in first
    width, height = map(float, re.search(rb"/MediaBox \[ 0 0 ([0-9.]+) ([0-9.]+) \]", first).groups())
    assert width <= 595.3 and height <= 792.1, "fits A4's width (595.28 pt) and Letter's height (792 pt)"


def test_every_caution_fits_above_the_foot(library):
    for subject in library.chemistries.values():
        made = card_of(subject)
        rows = 69 + 9.5 * len(made.limits) + 4 + (7 + 7.2 * len(made.packs) + 3.5 if made.packs else 0)
        lines = sum(len(textwrap.wrap(c, card._BOLD_WRAP if n == 0 else card._WRAP)) for n, c in enumerate(made.cautions))
        assert (card._FOOT_MM - 3 - rows) / (lines + 2) >= 2.8, f"{subject.id}: the letters would be below 6 points"


def test_primary_cells_have_no_charge_figures(library):
    made = card_of(library.chemistries["alkaline"])
    assert made.never_charge and {f.text for f in made.big if f.name == "FULL"} == {"never charge"}
    assert not any(limit.name.startswith(("Charge", "Never above")) for limit in made.limits)


def test_nickel_cells_show_no_charge_voltage(library):
    assert {f.text for f in card_of(library.chemistries["nimh"]).big if f.name == "FULL"} == {"no voltage ends it"}


def test_a_figure_that_no_source_confirms_is_marked(library):
    made = card_of(library.chemistries["lmfp"])
    stated = library.chemistries["lmfp"].figure("charge-voltage-max")
    assert next(f for f in made.big if f.name == "FULL").unchecked == stated.unchecked
