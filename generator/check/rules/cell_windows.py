"""Electrode windows of cell files: in range, in balance, and warm enough for the functions."""

from __future__ import annotations

from collections.abc import Iterator

from generator.check.corpus import Corpus
from generator.problem import Problem

_FARADAY_C_MOL = 96485.33212331001  # CODATA 2018
_SIDES = ("negative", "positive")
_BALANCE = 0.005  # relative: both electrodes carry the same charge over the window
_COLD_K = 10.0  # a temperature this far below the reference needs functions that know it
_FORMS_WITH_TEMPERATURE = frozenset({"temperature-power", "polynomial-in-x-and-temperature", "vogel-fulcher-tammann"})


def volume_shares(corpus: Corpus) -> Iterator[Problem]:
    """Electrolyte and active material do not fill more than the electrode."""
    for document, side, data in _electrodes(corpus):
        active = _active_fraction(data)
        if active is not None and data["porosity"]["value"] + active > 1.0 + 1e-9:
            path = (side, "porosity", "value")
            yield document.problem(path, "volume-shares", f"porosity and active material add up to {data['porosity']['value'] + active:.4g}", "Together they are at most 1.")


def window_direction(corpus: Corpus) -> Iterator[Problem]:
    """The negative electrode is full of the ion when the cell is, the positive empty of it."""
    for document, side, data in _electrodes(corpus):
        full, empty = _window(data)
        if (full > empty) != (side == "negative"):
            path = (side, "stoichiometry_full", "value")
            yield document.problem(path, "window-direction", f"the {side} electrode goes from {full} (full) to {empty} (empty)", "On discharge the negative electrode empties and the positive fills.")


def window_in_range(corpus: Corpus) -> Iterator[Problem]:
    """No function of stoichiometry is used outside the range it is valid in."""
    for document, side, data in _electrodes(corpus):
        functions = {name: data[name] for name in ("potential", "entropy", "diffusivity")}
        functions["rate"] = data["kinetics"]["rate"]
        for end in ("stoichiometry_full", "stoichiometry_empty"):
            x = data[end]["value"]
            for name, function in functions.items():
                if not function["valid_from"] <= x <= function["valid_to"]:
                    message = f"{x} lies outside the range of {name}, {function['valid_from']:g} to {function['valid_to']:g}"
                    yield document.problem((side, end, "value"), "window-in-range", message, "Narrow the window, or find a function that reaches so far.")


def window_balance(corpus: Corpus) -> Iterator[Problem]:
    """Both electrodes give the same charge over the window, and the checked one."""
    for document in corpus.tree.folder("cells"):
        data = document.data
        if not all(part in data for part in ("negative", "positive", "geometry", "check_values")):
            continue
        area = data["geometry"]["pair_area_m2"]["value"] * data["geometry"]["parallel_pairs"]["value"]
        stated = data["check_values"].get("window_ah")
        if stated is None:
            continue
        for side in _SIDES:
            charge = _charge_ah(data[side], area)
            if charge is not None and abs(charge - stated) > _BALANCE * stated:
                path = (side, "stoichiometry_full", "value")
                yield document.problem(path, "window-balance", f"the {side} electrode carries {charge:.4g} Ah over the window, not {stated:g} Ah", "Check thickness, active fraction, concentration and stoichiometries.")


def cold_is_known(corpus: Corpus) -> Iterator[Problem]:
    """A set may be shown cold only when diffusion, rate and conductivity depend on temperature."""
    for document, side, data in _electrodes(corpus):
        coldest = min(document.data["temperatures_valid_c"]) + 273.15
        if coldest > document.data.get("reference_temperature_k", 298.15) - _COLD_K:
            continue
        pieces = [((side, "diffusivity"), data["diffusivity"]), ((side, "kinetics", "rate"), data["kinetics"]["rate"])]
        if "electrolyte" in document.data:
            pieces.append((("electrolyte", "conductivity"), document.data["electrolyte"]["conductivity"]))
        for path, function in pieces:
            if not _knows_temperature(function):
                message = f"{path[-1]} does not depend on temperature, but the set is to be shown at {coldest - 273.15:g} degrees Celsius"
                yield document.problem(path, "cold-is-known", message, "Take the cold temperatures out of temperatures_valid_c.")


def _electrodes(corpus: Corpus):
    for document in corpus.tree.folder("cells"):
        for side in _SIDES:
            if side in document.data:
                yield document, side, document.data[side]


def _window(electrode) -> tuple[float, float]:
    return electrode["stoichiometry_full"]["value"], electrode["stoichiometry_empty"]["value"]


def _active_fraction(electrode) -> float | None:
    """Volume share of active material; a third of surface times radius for spheres."""
    if "active_fraction" in electrode:
        return electrode["active_fraction"]["value"]
    if "surface_per_volume_1_m" in electrode:
        return electrode["surface_per_volume_1_m"]["value"] * electrode["particle_radius_m"]["value"] / 3.0
    return None


def _charge_ah(electrode, area_m2: float) -> float | None:
    active = _active_fraction(electrode)
    if active is None:
        return None
    full, empty = _window(electrode)
    amount_mol = area_m2 * electrode["thickness_m"]["value"] * active * electrode["maximum_mol_m3"]["value"] * abs(full - empty)
    return amount_mol * _FARADAY_C_MOL / 3600.0


def _knows_temperature(function) -> bool:
    if function.get("activation_energy_j_mol"):
        return True
    pieces = (*function["terms"], *function.get("factors", ()))
    return any(term["form"] in _FORMS_WITH_TEMPERATURE or term.get("boltzmann_k") for term in pieces)
