"""What the record states makes physical sense: choices exist, voltages stand in order, windows are open."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from generator.check.corpus import Corpus
from generator.problem import Problem, nearest
from generator.read import Document
from generator.stating import Outcome, state

# Quantities that pack tables compute with: one number each, where they are given at all.
SINGLE = ("nominal-voltage", "charge-voltage-max", "discharge-cutoff-voltage", "storage-voltage")
# No chemistry can do without these; one whose charge is ended by voltage needs that voltage too.
NEEDED = ("nominal-voltage", "discharge-cutoff-voltage")
NEEDED_TO_CHARGE = ("charge-voltage-max",)
# Each pair: the first lies below the second.
ORDER = (
    ("discharge-cutoff-voltage", "nominal-voltage"),
    ("nominal-voltage", "charge-voltage-max"),
    ("discharge-cutoff-voltage", "storage-voltage"),
    ("storage-voltage", "charge-voltage-max"),
    ("charge-voltage-max", "charge-voltage-absolute-max"),
)


def _groups(document: Document, quantity: str) -> dict[str, list]:
    groups: dict[str, list] = {}
    for value in document.data["values"].get(quantity, ()):
        groups.setdefault(value.get("variant", "standard"), []).append(value)
    return groups


def _outcome(corpus: Corpus, document: Document, quantity: str, variant: str) -> Outcome | None:
    values = [v for v in _groups(document, quantity).get(variant, ()) if any(v.get(n) is not None for n in ("min", "typical", "max"))]
    choice = document.data.get("stated", {}).get(quantity, {}).get(variant)
    if not values or quantity not in corpus.quantities:
        return None
    if choice and choice.get("key") not in (None, *(v["key"] for v in values)):
        return None
    return state(corpus.quantities[quantity]["role"], values, choice)


def charge_method(record: Mapping[str, Any]) -> str:
    """Return how a record's charge is ended: as it says, else by what its kind of cell needs."""
    return record.get("charge_method") or ("voltage-limited" if record["rechargeable"] else "never")


def choice_fits(corpus: Corpus) -> Iterator[Problem]:
    """A choice names a variant and a key that exist, and a departure from the rule gives its reason."""
    for document in corpus.tree.subjects():
        for quantity, variants in document.data.get("stated", {}).items():
            groups = _groups(document, quantity)
            if corpus.quantities.get(quantity, {}).get("role") == "listed":
                yield document.problem(("stated", quantity), "choice-fits", f"{quantity} is listed, not stated", "Remove the choice; see its role in quantities.yml.", at_key=True)
                continue
            for variant, choice in variants.items():
                path = ("stated", quantity, variant)
                if variant not in groups:
                    yield document.problem(path, "choice-fits", f"{quantity} has no value of variant '{variant}'", nearest(variant, groups), at_key=True)
                    continue
                keys = [value["key"] for value in groups[variant]]
                if choice.get("key") not in (None, *keys):
                    yield document.problem((*path, "key"), "choice-fits", f"{quantity} has no value with key '{choice['key']}'", nearest(choice["key"], keys) or f"Known: {', '.join(keys)}.")
                if ("key" in choice) == ("rule" in choice):
                    yield document.problem(path, "choice-fits", "a choice has either a rule or a key", "Keep one of the two.")
                if not choice.get("because"):
                    yield document.problem(path, "choice-fits", "a choice must say why", "Add because: readers see it beside the figure.")


def needed_voltages(corpus: Corpus) -> Iterator[Problem]:
    """Pack tables need one number for each voltage that a record gives, and some voltages always."""
    for document in corpus.tree.folder("records"):
        needed = NEEDED + (NEEDED_TO_CHARGE if charge_method(document.data) == "voltage-limited" else ())
        for quantity in needed:
            if "standard" not in _groups(document, quantity):
                yield document.problem(("values",), "needed-voltages", f"the record has no {quantity} of variant standard", "Pack tables cannot do without it.", at_key=True)
        for quantity in SINGLE:
            for variant in _groups(document, quantity):
                outcome = _outcome(corpus, document, quantity, variant)
                if outcome and outcome.typical is None:
                    message = f"{quantity} of variant {variant} is stated as a range; pack tables need one number"
                    yield document.problem(("values", quantity), "needed-voltages", message, "Name the value under stated: {key: ..., because: ...}.", at_key=True)


def voltages_in_order(corpus: Corpus) -> Iterator[Problem]:
    """Stated voltages stand in the order physics asks: cut-off < nominal < maximum, storage between."""
    for document in corpus.tree.subjects():
        for low, high in ORDER:
            for variant in _groups(document, low):
                below, above = (_outcome(corpus, document, q, variant) for q in (low, high))
                if below and above and below.typical is not None and above.typical is not None and below.typical >= above.typical:
                    message = f"stated {low} {below.typical} V is not below {high} {above.typical} V (variant {variant})"
                    yield document.problem(("values", low), "voltages-in-order", message, "Check the values and what is stated.", at_key=True)


def window_open(corpus: Corpus) -> Iterator[Problem]:
    """A stated window has its lower end below its upper end."""
    for document in corpus.tree.subjects():
        for quantity in document.data["values"]:
            if corpus.quantities.get(quantity, {}).get("role") != "window":
                continue
            for variant in _groups(document, quantity):
                outcome = _outcome(corpus, document, quantity, variant)
                if outcome and outcome.min is not None and outcome.max is not None and outcome.min >= outcome.max:
                    message = f"the values of {quantity} (variant {variant}) have no part in common: {outcome.min} to {outcome.max}"
                    yield document.problem(("values", quantity), "window-open", message, "Split them by variant, or name one under stated with its reason.", at_key=True)
