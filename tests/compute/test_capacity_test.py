"""Test plans, DC resistance and factors."""

from __future__ import annotations

import pytest

from generator.compute.capacity_test import dc_resistance_mohm, factors, test_plan as plan_of
from generator.compute.curves import Average, CellCurves


def test_the_standard_currents():
    """IEC 61960-3, 7.3.1 and 7.7.3 (recalled): It = C5 / 1 h; 0.2 It for capacity, 0.2 It and 1.0 It for resistance."""
    plan = plan_of(2.5)
    assert (plan.discharge_a, plan.discharge_h, plan.resistance_low_a, plan.resistance_high_a) == (0.5, 5.0, 0.5, 2.5)
    with pytest.raises(ValueError):
        plan_of(0)


def test_dc_resistance():
    assert dc_resistance_mohm(0.5, 3.652, 2.5, 3.540) == pytest.approx(56.0)
    for wrong in ((2.5, 3.6, 0.5, 3.5), (0.5, 3.5, 2.5, 3.6), (-1, 3.6, 1, 3.5)):
        with pytest.raises(ValueError):
            dc_resistance_mohm(*wrong)


def _cell(name, *averages):
    return CellCurves(name, "nmc", 5.0, (), (), (), tuple(Average(rate, 25.0, cutoff, 3.6, 3.6, ah) for rate, cutoff, ah in averages))


def test_factors_relate_to_each_cells_own_standard_test():
    found = factors([_cell("a", (0.2, 2.5, 5.0), (1.0, 3.0, 4.0)), _cell("b", (0.2, 2.5, 4.0), (1.0, 3.0, 3.6)), _cell("c", (1.0, 3.0, 1.0))])
    by_key = {(f.c_rate, f.cutoff_v): f for f in found}
    assert by_key[0.2, 2.5].least == by_key[0.2, 2.5].most == 1.0
    assert (by_key[1.0, 3.0].least, by_key[1.0, 3.0].most, by_key[1.0, 3.0].cells) == (pytest.approx(4 / 3.6), 1.25, 2)
