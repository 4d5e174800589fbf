"""Writes building.json: what the generator computes for the building pages, for the page's scripts to be held against.

Run: python -m tests.vectors.regenerate_building
"""

from __future__ import annotations

import json
import random
from dataclasses import asdict
from pathlib import Path

from generator.compute.interval import Interval, around
from generator.compute.match import TooFewCells, match_cells
from generator.compute.measurements import read_measurements
from generator.compute.resistor_marking import NotAMarking, read_marking
from generator.compute.string import OpenCircuit, StringCell, Window, usable
from generator.compute.taps import CellVoltages, ImpossibleReadings, read_taps
from generator.compute.thermistor import Divider, threshold_temperature_c
from generator.compute.trip import switch_path_mohm, trip_current_a
from generator.compute.worth import worth

FILE = Path(__file__).with_name("building.json")
# Invented windows and an invented open-circuit curve: the vectors must not change with the records.
WINDOWS = (CellVoltages("a", "A", 2.5, 4.2, 2.1), CellVoltages("b", "B", 2.0, 3.65, 1.9), CellVoltages("c", "C", 1.0, 1.45, None))
CURVE = OpenCircuit(tuple(k / 20 for k in range(21)), tuple(2.5 + 1.7 * (k / 20) ** 0.5 for k in range(21)))
MARKINGS = ("R005", "5l00", "R010F", "0M50", "4K7", "47K3J", "103", "1002", "01C", "68X", "12R", "96Z", "97A", "000", "R", "", "A B", "123456789", "4700", "22R0K", "1L5", "M22")


def vectors() -> dict:
    """Return every vector; the same in every run."""
    rng = random.Random(20260101)
    return {
        "markings": [{"text": text, "readings": _or_error(lambda t=text: [asdict(r) for r in read_marking(t)], NotAMarking)} for text in MARKINGS],
        "trips": [_trip(rng) for _ in range(40)],
        "thermistors": [_thermistor(rng) for _ in range(60)],
        "taps": [_taps(rng) for _ in range(80)] + [_read_taps(r) for r in ([], [0.0], [-3.0, -7.0], [1e9], [3.7] * 70)],
        "windows": [asdict(window) for window in WINDOWS],
        "strings": [_string(rng) for _ in range(60)],
        "curve": asdict(CURVE),
        "worth": [_worth(rng) for _ in range(30)],
        "matches": [_match(rng, size) for size in _SIZES] + [_match_text(*case) for case in _TEXTS],
        "tables": [{"text": text, "problems": [[p.line, p.column, p.id, p.message] for p in read_measurements(_lines(text))[1]]} for text in _BAD],
    }


def _or_error(make, *errors):
    try:
        return make()
    except errors as error:
        return {"error": str(error)}


def _trip(rng: random.Random) -> dict:
    mv, mohm, side = around(rng.uniform(20, 400), rng.uniform(0, 30)), around(rng.uniform(0.5, 60), rng.uniform(0, 5)), rng.randint(1, 6)
    path = switch_path_mohm(mohm, side, 0.5, 1.5)
    return {"mv": asdict(mv), "mohm": asdict(mohm), "side": side, "amps": asdict(trip_current_a(mv, mohm)), "path": asdict(path)}


def _thermistor(rng: random.Random) -> dict:
    share, low = rng.uniform(0.05, 0.95), rng.random() < 0.5
    divider = Divider(around(rng.uniform(1e3, 1e5), 1), around(rng.uniform(1e3, 1e5), rng.uniform(0, 5)), around(rng.uniform(2500, 5000), rng.uniform(0, 3)), low)
    acts = threshold_temperature_c(Interval(share, share, share), divider)
    return {"share": share, "low": low, "fixed": asdict(divider.fixed_ohm), "r25": asdict(divider.r25_ohm), "b": asdict(divider.b_k), "acts": asdict(acts)}


def _taps(rng: random.Random) -> dict:
    volts, readings = rng.choice((1.2, 2.2, 3.3, 3.7, 4.1, 4.3, 7.4)), []
    for _ in range(rng.randint(1, 8)):
        step = volts + rng.choice((0, 0, 0, 0.04, -0.2, 0.3, -volts, volts, -2 * volts)) + rng.uniform(-0.01, 0.01)
        readings.append(round((readings[-1] if readings else 0.0) + step, 3))
    return _read_taps(([0.0] if rng.random() < 0.3 else []) + readings)


def _read_taps(readings: list[float]) -> dict:
    return {"readings": readings, "answer": _or_error(lambda: asdict(read_taps(readings, WINDOWS)), ImpossibleReadings)}


def _string(rng: random.Random) -> dict:
    cells = [StringCell(q := rng.uniform(1, 5), q * rng.uniform(0.3, 0.7), rng.uniform(0, 2), rng.uniform(5, 200)) for _ in range(rng.randint(1, 10))]
    window, hours = Window(2.6, 4.1, rng.uniform(0.1, 5)), rng.uniform(0, 10_000)
    return {"cells": [asdict(c) for c in cells], "window": asdict(window), "hours": hours, "usable": asdict(usable(cells, CURVE, window, hours))}


def _worth(rng: random.Random) -> dict:
    cells = rng.randint(1, 40)
    case = {"price": rng.uniform(0, 50), "cells": cells, "rejects": rng.randint(0, cells - 1), "mean_ah": rng.uniform(1, 3), "nominal_v": 3.6}
    case |= {"usable_share": rng.uniform(0.5, 1), "new_price": rng.uniform(1, 10), "new_ah": rng.uniform(1, 5)}
    return {"case": case, "worth": asdict(worth(**case))}


_SIZES = ((12, 3, 4, 0), (14, 3, 4, 0), (15, 5, 3, 1), (24, 4, 6, 0), (39, 13, 3, 0), (45, 10, 4, 1), (90, 20, 4, 0), (30, 10, 2, 0), (9, 4, 2, 0), (7, 7, 1, 0), (8, 1, 6, 0), (300, 50, 5, 2), (60, 3, 16, 0), (40, 10, 4, 0))


def _match(rng: random.Random, size: tuple[int, int, int, int]) -> dict:
    """A table of invented cells, some with every column and a few bad ones."""
    count, series, parallel, decimals = size
    full = count % 3 == 0
    lines = ["cell,capacity_mah" + (",resistance_mohm,voltage_v,self_discharge_mv_per_day" if full else "")]
    for k in range(count):
        line = f"c{k},{round(rng.gauss(2400, rng.choice((30, 150))), decimals or None)}"
        if full:
            line += f",{rng.gauss(30, 3):.1f},{rng.choice((3.71, 3.72, 3.6)):.2f},{abs(rng.gauss(0.4, 0.3)):.1f}"
        lines.append(line)
    return _match_text("\n".join(lines), series, parallel, 2.1)


def _match_text(text: str, series: int, parallel: int, floor: float | None) -> dict:
    cells, problems = read_measurements(_lines(text))
    assert not problems, problems
    return {"text": text, "series": series, "parallel": parallel, "floor": floor, "match": _or_error(lambda: asdict(match_cells(cells, series, parallel, floor)), TooFewCells, ValueError)}


def _lines(text: str) -> list[str]:
    """Lines as a file gives them: the last line end opens no new line."""
    return text.removesuffix("\n").split("\n") if text else []


_HEAD = "cell,capacity_mah,resistance_mohm,voltage_v,self_discharge_mv_per_day\n"
_TEXTS = (
    (_HEAD + "a,2500,30,1.2,0\nb,2400,31,3.7,0\nc,2450,29,3.7,0\nd,2440,90,3.7,0\ne,2430,30,3.7,9\nf,2420,30,3.7,0\ng,2410,,,", 2, 2, 2.1),
    (_HEAD + "a,2500,30,1.2,0\nb,2400,31,3.7,0", 2, 2, 2.1),
    ('cell;capacity_mah\n"A;1";2500\n"B ""x""";2400\n# left out\n\nC;2600', 3, 1, None),
    ("capacity_mah\tcell\n2500.25\ta\n2400.125\tb\n", 1, 2, None),
    ("cell,capacity_mah\na,2500\nb,900\nc,2500\nd,2500\ne,2500\nf,2500", 2, 3, None),
    ("cell,capacity_mah\na,2500", 0, 3, None),
)
_BAD = (
    "",
    "cell,capacity_mah\n",
    "cell,capacity_mah\na,2500\nb,2.5\nc,2400",
    "cell,capacity_mah\na,280000\nb,280\nc,281000",
    "cell,capacity_mah,resistance_mohm\na,2500,30\nb,2500,0.031\nc,2400,29",
    "cell,capacity_mah\na,2500\na,2400",
    "cell,capacity_mah\na,2500\nb,full",
    "cell,capacity_mah\na,2500,3\nb",
    "cell,capacity_mah\n,2500",
    "cell,capacity_mah\na,",
    "a,2500\nb,2400",
    "cell,capacity_mah,cell\na,2500,b",
    "cell,voltage_v\na,3.7",
    "cell,capacity_mah,voltage_v\na,2500,3700",
    "cell,capacity_mah\na,25\x0000",
    "cell;capacity_mah\na;2500,5",
    "cell,capacity_mah\na,nan\nb,inf\nc,1e400\nd,0x10\ne,1_000",
    "cell,capacity_mah\n" + "x" * 2500,
    "cell,capacity_mah\n" + "\n".join(f"c{k},?" for k in range(40)),
)


if __name__ == "__main__":
    FILE.write_text(json.dumps(vectors(), indent=None, separators=(",", ":"), sort_keys=True) + "\n", "utf-8")
    print(f"{FILE} written")
