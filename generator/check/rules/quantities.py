"""Values speak the vocabulary: quantity, unit and size of the figure."""

from __future__ import annotations

from collections.abc import Iterator

from generator.check.corpus import Corpus
from generator.problem import Problem, nearest


def quantity_known(corpus: Corpus) -> Iterator[Problem]:
    """Every quantity stands in quantities.yml."""
    for document in corpus.tree.subjects():
        for group in ("values", "stated"):
            for quantity in document.data.get(group, {}):
                if quantity not in corpus.quantities:
                    hint = nearest(quantity, corpus.quantities) or "See quantities.yml."
                    yield document.problem((group, quantity), "quantity-known", f"the quantity '{quantity}' is not known", hint, at_key=True)


def unit_known(corpus: Corpus) -> Iterator[Problem]:
    """A quantity's unit stands in the list of units."""
    document = corpus.tree.documents["quantities.yml"]
    for index, item in enumerate(document.data["quantities"]):
        if item["unit"] not in corpus.units:
            hint = nearest(item["unit"], corpus.units) or "Add it under units with its UCUM code."
            yield document.problem(("quantities", index, "unit"), "unit-known", f"the unit '{item['unit']}' is not listed", hint)


def unit_fits(corpus: Corpus) -> Iterator[Problem]:
    """A value is given in its quantity's unit, so that nothing is converted silently."""
    for place in corpus.values():
        quantity = corpus.quantities.get(place.quantity or "")
        if quantity and place.item["unit"] != quantity["unit"]:
            message = f"the unit '{place.item['unit']}' does not fit {place.quantity}"
            yield place.document.problem((*place.path, "unit"), "unit-fits", message, f"Give it in '{quantity['unit']}'.")


def plausible(corpus: Corpus) -> Iterator[Problem]:
    """A figure lies in its quantity's plausible range: outside it is nearly always a slip."""
    for place in corpus.values():
        quantity = corpus.quantities.get(place.quantity or "")
        for name in ("min", "typical", "max"):
            figure = place.item.get(name)
            if quantity and figure is not None and not quantity["plausible_min"] <= figure <= quantity["plausible_max"]:
                message = f"{figure} {quantity['unit']} is outside the plausible range of {place.quantity}"
                hint = f"Expected {quantity['plausible_min']} to {quantity['plausible_max']} {quantity['unit']}; check the unit and the decimal point."
                yield place.document.problem((*place.path, name), "plausible", message, hint)
