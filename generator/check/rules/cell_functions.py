"""Function forms of cell files: enough coefficients, rising tables, ranges that make sense."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from generator.check.corpus import Corpus
from generator.problem import Problem
from generator.read import Document

_U = frozenset({"offset", "rate", "centre", "width"})
_ANY = frozenset({"form", "amplitude", "boltzmann_k", "temperature_slope_per_k"})
_TABLE = frozenset({"table_x", "table_y", "interpolation"})
_GAP = frozenset({"coefficients", "energy_j_mol", "mixing_temperature_k", "gap_from", "gap_to", "gap_energy_j_mol"})

# form: (fields it cannot do without, further fields it uses)
FORM_FIELDS: dict[str, tuple[frozenset[str], frozenset[str]]] = {
    "constant": (frozenset({"amplitude"}), frozenset()),
    "polynomial": (frozenset({"coefficients"}), _U),
    "rational": (frozenset({"coefficients", "denominator"}), _U),
    "power": (frozenset({"exponent"}), _U),
    "exponential": (frozenset({"amplitude"}), _U),
    "exponential-of-power": (frozenset({"amplitude", "rate", "exponent"}), _U),
    "exponential-of-polynomial": (frozenset({"coefficients"}), _U),
    "gaussian": (frozenset({"amplitude", "centre"}), _U - {"offset"}),
    "tanh": (frozenset({"amplitude"}), _U),
    "sech-squared": (frozenset({"amplitude"}), _U),
    "arctan": (frozenset({"amplitude"}), _U),
    "logarithm": (frozenset({"amplitude"}), _U),
    "logit": (frozenset({"amplitude"}), _U),
    "polynomial-of-log10": (frozenset({"coefficients"}), _U),
    "redlich-kister": (_GAP, frozenset()),
    "table": (_TABLE, frozenset()),
    "temperature-power": (frozenset({"exponent", "temperature_origin_k"}), frozenset()),
    "polynomial-in-x-and-temperature": (frozenset({"rows"}), _U),
    "vogel-fulcher-tammann": (frozenset({"coefficients"}), frozenset()),
    "nernst-einstein": (frozenset(), frozenset()),
}
_VOGEL_COEFFICIENTS = 5
_KNOTS = {"linear": 2, "cubic": 4}
_UNITS = {
    "potential": ("V",),
    "entropy": ("V/K",),
    "diffusivity": ("m2/s",),
    "conductivity": ("S/m",),
    "thermodynamic_factor": ("1",),
    "darken_factor": ("1",),
    "exchange_current": ("A/m2",),
    "rate": ("A m-2 (m3 mol-1)^1.5", "m2.5 mol-0.5 s-1", "mol m-2 s-1", "m/s", "A/m2"),
}

Found = Iterator[tuple[Document, tuple, Mapping[str, Any]]]


def functions(corpus: Corpus) -> Found:
    """Yield (document, path, function) for every function of every cell."""
    for document in corpus.tree.folder("cells"):
        for path, item in nested(document.data):
            if "terms" in item:
                yield document, path, item


def terms(corpus: Corpus) -> Found:
    """Yield (document, path, term) for every term and factor of every function."""
    for document, path, function in functions(corpus):
        for group in ("terms", "factors"):
            for index, term in enumerate(function.get(group, ())):
                yield document, (*path, group, index), term


def nested(data: Any, path: tuple = ()) -> Iterator[tuple[tuple, Mapping[str, Any]]]:
    """Yield (path, mapping) for every mapping in plain data, outermost first."""
    if isinstance(data, dict):
        yield path, data
    pairs = data.items() if isinstance(data, dict) else enumerate(data) if isinstance(data, list) else ()
    for key, child in pairs:
        yield from nested(child, (*path, key))


def form_complete(corpus: Corpus) -> Iterator[Problem]:
    """A form has the coefficients it cannot do without."""
    for document, path, term in terms(corpus):
        for name in sorted(FORM_FIELDS[term["form"]][0] - term.keys()):
            yield document.problem(path, "form-complete", f"the form {term['form']} needs '{name}'", "Add it as the source prints it.")
        given = len(term.get("coefficients", ()))
        if term["form"] == "vogel-fulcher-tammann" and "coefficients" in term and given != _VOGEL_COEFFICIENTS:
            yield document.problem((*path, "coefficients"), "form-complete", f"vogel-fulcher-tammann has {given} coefficients, not 5", "Give a, b, t0, g, h.")


def form_uses(corpus: Corpus) -> Iterator[Problem]:
    """A form has no field it would silently ignore."""
    for document, path, term in terms(corpus):
        needed, used = FORM_FIELDS[term["form"]]
        ignored = term.keys() - needed - used - _ANY
        if "temperature_slope_per_k" in term:
            ignored -= {"temperature_origin_k"}
        for name in sorted(ignored):
            yield document.problem((*path, name), "form-uses", f"the form {term['form']} does not use '{name}'", "Remove it, or choose the form that does.", at_key=True)


def table_rises(corpus: Corpus) -> Iterator[Problem]:
    """The abscissa of a table rises strictly and is as long as the ordinate."""
    for document, path, term in terms(corpus):
        x, y = term.get("table_x", ()), term.get("table_y", ())
        yield from rising(document, (*path, "table_x"), x, "table-rises")
        if len(x) != len(y):
            yield document.problem((*path, "table_y"), "table-rises", f"{len(y)} ordinates for {len(x)} abscissae", "One each.")
        least = _KNOTS[term.get("interpolation", "linear")]
        if x and len(x) < least:
            yield document.problem((*path, "table_x"), "table-rises", f"{len(x)} points are too few", f"Linear needs 2, cubic 4; this one {least}.")


def rising(document: Document, path: tuple, numbers: list[float], id: str) -> Iterator[Problem]:
    """Yield the first number that is not above the one before it."""
    for index in range(1, len(numbers)):
        if numbers[index] <= numbers[index - 1]:
            message = f"{numbers[index]} follows {numbers[index - 1]}: these numbers must rise"
            yield document.problem((*path, index), id, message, "Sort the points; of two at one place keep one.")
            return


def range_open(corpus: Corpus) -> Iterator[Problem]:
    """A valid range has an inside; a stoichiometry stays within 0 and 1."""
    for document, path, function in functions(corpus):
        low, high = function["valid_from"], function["valid_to"]
        if low >= high:
            yield document.problem((*path, "valid_to"), "range-open", f"the range from {low} to {high} is empty", "valid_from must be below valid_to.")
        if function["variable"] == "stoichiometry" and not -0.01 <= low <= high <= 1.01:
            yield document.problem((*path, "valid_from"), "range-open", f"{low} to {high} is no range of a stoichiometry", "A stoichiometry lies between 0 and 1.")
        if function["variable"] != "stoichiometry" and low < 0:
            yield document.problem((*path, "valid_from"), "range-open", f"{low} is no concentration", "A concentration is not negative.")


def range_is_table(corpus: Corpus) -> Iterator[Problem]:
    """A range that is said to come from a table does not reach beyond it."""
    for document, path, function in functions(corpus):
        scale = function.get("x_scale", 1.0)
        for term in function["terms"]:
            if function["range_basis"] != "table" or not term.get("table_x"):
                continue
            first, last = term["table_x"][0] / scale, term["table_x"][-1] / scale
            margin = 1e-9 * (abs(first) + abs(last))
            if function["valid_from"] < first - margin or function["valid_to"] > last + margin:
                yield document.problem((*path, "valid_from"), "range-is-table", f"the range reaches beyond the table, which runs from {first:g} to {last:g}", "Narrow the range.")


def function_unit(corpus: Corpus) -> Iterator[Problem]:
    """A potential is in volts, a diffusivity in m2/s, and so on."""
    for document, path, function in functions(corpus):
        allowed = _UNITS.get(path[-1], ("V",))
        if function["unit"] not in allowed:
            yield document.problem((*path, "unit"), "function-unit", f"'{function['unit']}' is not the unit of {path[-1]}", f"Convert to {' or '.join(allowed)}.")
