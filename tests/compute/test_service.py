"""Service of primary cells: only what follows is worked out."""

from __future__ import annotations

from generator.compute.service import service_table


def test_hours_follow_from_a_constant_current_only(library):
    for subject in library.chemistries.values():
        for group in service_table(subject):
            for line in group.lines:
                condition = line.value.condition
                if line.computed:
                    assert condition.current_a and line.value.quantity.id == "service-capacity"
                    assert abs(line.hours[0] * condition.current_a * 1000 - line.capacity_mah[0]) <= 0.06 * condition.current_a * 1000
                else:
                    assert (line.hours is None) != (line.capacity_mah is None)


def test_alkaline_sizes_come_in_the_trades_order(library):
    sizes = [group.size for group in service_table(library.chemistries["alkaline"])]
    assert [s for s in sizes if s in ("AAA", "AA", "C", "D")] == ["AAA", "AA", "C", "D"]


def test_heavier_loads_give_less_charge(library):
    # Makers' capacity graphs of alkaline AA cells: 25 mA against 1 A.
    lines = next(g for g in service_table(library.chemistries["alkaline"]) if g.size == "AA").lines
    by_load = {l.value.condition.current_a: l.capacity_mah for l in lines if l.value.condition.product == "Coppertop" and l.capacity_mah}
    assert list(by_load) == sorted(by_load)
    assert [c[0] for c in by_load.values()] == sorted((c[0] for c in by_load.values()), reverse=True)


def test_rechargeable_cells_have_no_service_table(library):
    assert service_table(library.chemistries["nmc"]) == ()
