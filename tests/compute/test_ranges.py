"""Ranges and electrode potentials against handbook figures."""

from __future__ import annotations

import pytest

from generator.compute.ranges import cell_potential, reach, self_discharge

# CRC Handbook of Chemistry and Physics, electrochemical series (recalled): PbO2/PbSO4 1.6913, PbSO4/Pb -0.3588;
# Cd(OH)2/Cd(Hg) -0.809; Ag2O/Ag 0.342; ZnO/Zn -1.260; O2/OH- 0.401. NiOOH/Ni(OH)2 0.49 (Linden, Handbook of Batteries; recalled).
HANDBOOK = {
    "lead-acid-flooded": 1.6913 + 0.3588,
    "lead-acid-agm": 1.6913 + 0.3588,
    "lead-acid-gel": 1.6913 + 0.3588,
    "nicd": 0.49 + 0.809,
    "silver-oxide": 0.342 + 1.260,
    "nizn": 0.49 + 1.260,
    "zinc-air": 0.401 + 1.260,
}
# How far the label may lie below the standard potentials: oxygen never reaches its own, zinc cells sag on load.
LABEL_BELOW_V = {"zinc-air": 0.3, "nizn": 0.15}


@pytest.mark.parametrize(("id", "volts"), HANDBOOK.items())
def test_cell_potential_against_the_handbook(library, id, volts):
    assert cell_potential(library.chemistries[id]).volts == pytest.approx(volts, abs=0.015)


@pytest.mark.parametrize("id", HANDBOOK)
def test_the_label_follows_from_the_electrodes(library, id):
    subject = library.chemistries[id]
    below = cell_potential(subject).volts - subject.volts("nominal-voltage")
    assert 0 <= round(below, 3) <= LABEL_BELOW_V.get(id, 0.12)


def test_known_pairs():
    # The two figures every textbook gives: 2.05 V for lead-acid and 1.30 V for nickel-cadmium.
    assert round(HANDBOOK["lead-acid-agm"], 2) == 2.05
    assert round(HANDBOOK["nicd"], 2) == 1.30


def test_no_potential_without_both_electrodes(library):
    assert cell_potential(library.chemistries["lfp"]) is None


def test_reach_holds_every_credible_value(library):
    for subject in library.chemistries.values():
        for quantity in ("specific-energy", "energy-density", "cycle-life", "self-discharge", "discharge-rate-max"):
            found = reach(subject, quantity)
            values = list(subject.values_of(quantity))
            assert (found is None) == (not values)
            for value in values:
                if value.grade != "recalled":
                    assert all(found.low <= n <= found.high for n in (value.min, value.typical, value.max) if n is not None)


def test_yearly_self_discharge_becomes_monthly(library):
    subject = library.chemistries["lithium-thionyl-chloride"]
    yearly, monthly = reach(subject, "self-discharge-yearly"), self_discharge(subject)
    assert monthly.high == pytest.approx(yearly.high / 12)
