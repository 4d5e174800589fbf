"""The parts of a chemistry's page that only its kind needs: lead-acid blocks, nickel strings, primary cells."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from generator.compute import lead_acid_tables as lead
from generator.compute import nickel_pack as nickel
from generator.compute.pack_columns import PackTable, primary_packs
from generator.compute.peukert import PeukertLine, peukert_table
from generator.compute.ranges import CellPotential, cell_potential
from generator.compute.service import ServiceSize, service_table
from generator.model.library import Library
from generator.model.subject import Remark, Stated, Subject, Value


@dataclass(frozen=True, slots=True)
class LeadBlock:
    """Tables of a lead-acid battery: compensation, charge by resting voltage and gravity, frost, run time."""

    compensated: tuple[lead.Compensated, ...]
    temperatures: tuple[lead.TemperatureLine, ...]
    gassing: tuple[Stated, ...]
    rest: tuple[lead.ChargeSeries, ...]
    rest_levels: tuple[float, ...]
    gravity: tuple[lead.ChargeSeries, ...]
    gravity_levels: tuple[float, ...]
    gravity_rule: Remark | None
    clamps: tuple[Remark, ...]
    frost: tuple[Value, ...]
    run_times: tuple[PeukertLine, ...]
    exponent: Stated | None


@dataclass(frozen=True, slots=True)
class NickelBlock:
    """Tables of nickel cells that are charged by current: how a charge ends, strings, what is said of reversal."""

    termination: tuple[Stated, ...]
    clock: nickel.ClockCharge | None
    lines: tuple[nickel.StringLine, ...]
    rule: Remark | None


@dataclass(frozen=True, slots=True)
class Kind:
    """What a chemistry's page shows besides what all have; None or empty where it has no such part."""

    packs: PackTable | None
    lead: LeadBlock | None
    nickel: NickelBlock | None
    service: tuple[ServiceSize, ...]
    potential: CellPotential | None
    points: tuple[Value, ...]
    contents: tuple[tuple[str, str], ...]


def kind_of(subject: Subject, library: Library) -> Kind:
    """Return the parts of the page that fit the subject's kind."""
    if subject.family == "lead-acid":
        block = _lead(subject, library)
        return Kind(lead.block_table(subject), block, None, (), cell_potential(subject), (), _lead_contents(block))
    if nickel.is_string_chemistry(subject):
        contents = (("charge-end", "End of charge"), ("pack", "Strings"))
        return Kind(None, None, _nickel(subject, library), (), cell_potential(subject), (), contents)
    if not subject.rechargeable:
        tests = service_table(subject)
        contents = (("service", "Hours of service"),) if tests else ()
        points = tuple(subject.values_of("discharge-voltage"))
        return Kind(primary_packs(subject), None, None, tests, cell_potential(subject), points, contents)
    return Kind(None, None, None, (), cell_potential(subject), (), ())


def _lead(subject: Subject, library: Library) -> LeadBlock:
    practice = library.practices.get("lead-acid")
    rest, gravity = (lead.charge_series(subject, q) for q in ("open-circuit-voltage", "specific-gravity"))
    return LeadBlock(
        compensated=lead.compensated(subject),
        temperatures=lead.temperature_table(subject),
        gassing=tuple(s for s in subject.stated if s.quantity.id == "gassing-voltage"),
        rest=rest,
        rest_levels=lead.charge_levels(rest),
        gravity=gravity,
        gravity_levels=lead.charge_levels(gravity),
        gravity_rule=_remark(practice, "gravity-plus-0-845"),
        clamps=tuple(r for key in ("compensation-clamp", "compensation-ceiling") if (r := _remark(practice, key))),
        frost=tuple(lead.frost(practice.values)) if practice else (),
        run_times=peukert_table(subject),
        exponent=subject.figure("peukert-exponent"),
    )


def _lead_contents(block: LeadBlock) -> tuple[tuple[str, str], ...]:
    parts = (
        ("by-temperature", "By temperature", block.temperatures),
        ("state-of-charge", "State of charge", block.rest or block.gravity),
        ("freezing", "Freezing", block.frost),
        ("run-time", "Run time", block.run_times),
    )
    return tuple((id, title) for id, title, shown in parts if shown)


def _nickel(subject: Subject, library: Library) -> NickelBlock:
    return NickelBlock(
        termination=nickel.termination(subject),
        clock=nickel.clock_charge(subject, library),
        lines=nickel.string_table(subject),
        rule=_remark(library.practices.get("nickel"), "series-cutoff"),
    )


def _remark(subject: Subject | None, key: str) -> Remark | None:
    remarks: Sequence[Remark] = subject.remarks if subject else ()
    return next((remark for remark in remarks if remark.key == key), None)
