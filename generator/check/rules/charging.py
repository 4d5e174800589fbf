"""Figures about charging fit the way the chemistry is charged."""

from __future__ import annotations

from collections.abc import Iterator

from generator.check.corpus import Corpus
from generator.check.rules.voltages import charge_method
from generator.problem import Problem

# Quantities that tell someone how to charge; a primary cell must have none of them.
CHARGING = (
    "charge-voltage-max",
    "charge-voltage-absolute-max",
    "charge-rate-standard",
    "charge-rate-max",
    "charge-current-standard",
    "charge-current-max",
    "charge-end-rate",
    "charge-end-current",
    "charge-temperature",
    "precharge-voltage",
    "precharge-rate",
    "float-voltage",
    "absorption-voltage",
    "equalise-voltage",
    "charge-end-voltage",
    "gassing-voltage",
    "temperature-compensation",
    "charge-time",
    "charge-factor",
    "trickle-rate",
    "cold-charge-rate-max",
    "negative-delta-v",
    "temperature-rise-rate",
    "charge-termination-temperature",
    "charge-surface-temperature-max",
)
VOLTAGE_LIMITS = ("charge-voltage-max", "charge-voltage-absolute-max")
# A lead-acid voltage means nothing without the temperature it holds at.
LEAD_ACID_AT_TEMPERATURE = ("charge-voltage-max", "float-voltage", "absorption-voltage", "equalise-voltage")


def never_charged(corpus: Corpus) -> Iterator[Problem]:
    """A primary cell has no charging figure: someone would use it."""
    for document in corpus.tree.folder("records"):
        if charge_method(document.data) == "never":
            for quantity in CHARGING:
                if quantity in document.data["values"]:
                    yield document.problem(("values", quantity), "never-charged", f"a primary cell is never charged, but {quantity} is given", "Remove it.", at_key=True)


def no_voltage_limit(corpus: Corpus) -> Iterator[Problem]:
    """A nickel cell charged at constant current has no voltage limit: its voltage falls when it is full."""
    for document in corpus.tree.folder("records"):
        if charge_method(document.data) == "current-limited":
            for quantity in VOLTAGE_LIMITS:
                if quantity in document.data["values"]:
                    message = f"the charge is ended by current, time and temperature, but {quantity} is given as a limit"
                    yield document.problem(("values", quantity), "no-voltage-limit", message, "Remove it; give open-circuit-voltage-full or negative-delta-v.", at_key=True)


def nickel_says_how(corpus: Corpus) -> Iterator[Problem]:
    """A nickel record says how it is charged, because the family knows both ways."""
    for document in corpus.tree.folder("records"):
        if document.data["family"] == "nickel" and "charge_method" not in document.data:
            yield document.problem(("family",), "nickel-says-how", "a nickel record must say how it is charged", "Add charge_method: current-limited (NiCd, NiMH) or voltage-limited (NiZn).")


def lead_acid_temperature(corpus: Corpus) -> Iterator[Problem]:
    """A lead-acid charging voltage names the temperature it holds at."""
    for place in corpus.values():
        lead = place.document.data.get("family") == "lead-acid"
        if lead and place.quantity in LEAD_ACID_AT_TEMPERATURE and "temperature_c" not in place.item.get("condition", {}):
            message = f"{place.quantity} of a lead-acid battery is given without its temperature"
            yield place.document.problem(place.path, "lead-acid-temperature", message, "Add condition: {temperature_c: ...}; sheets mostly mean 20 or 25 degC and say which.")
