"""Everything the page's voltage field can be asked, answered beforehand, so that its script only looks up.

``lookup_data`` is exported; ``answer_label`` and ``answer_rest`` are what the script does with it, step by step alike.
Voltages are whole millivolts and all arithmetic is on whole numbers, so that both languages agree to the last digit.
"""

from __future__ import annotations

import math
import re
from collections.abc import Mapping
from typing import Any

import numpy as np

from generator.compute.label import Explanation, Reading, label_voltages, read_label
from generator.compute.label_candidates import candidates
from generator.compute.label_words import empty_text, full_text
from generator.compute.measured import OpenCircuit, charge_span
from generator.model.library import Library

MIN_MV, MAX_MV, GRID_MV = 1000, 100_000, 100
STEP_MV = 10  # of the open-circuit tables, per cell
SHOWN = 8  # explanations kept for a voltage
MESSAGES = {
    "empty": "Type a voltage in figures, for example 10.8.",
    "not-a-voltage": "That is not a voltage in figures: type digits with one point, for example 10.8.",
    "out-of-range": "Only voltages from 1 to 100 V are read here.",
    "unexplained": "No usual pack is sold under that voltage. It may be a measured voltage: choose that above.",
    "outside": "No usual pack with a known curve rests at that voltage: it is below empty or above full for all of them.",
    "read-as": "Read as ",
    "health": "A resting voltage shows charge at best, and only after hours of rest. It proves nothing about capacity, resistance, damage or balance: a worn-out or damaged pack can rest at the same voltage.",
    "label": "A label proves nothing by itself: count the cells, read the charger, open the data sheet.",
}
_VOLTS = re.compile(r"([0-9]{1,4})(?:[.,]([0-9]{1,3}))?(?:V|VOLT|VOLTS|VDC)?")


def read_volts(text: str) -> tuple[int | None, str | None]:
    """Return (millivolts, None), or (None, key of MESSAGES) for anything that is not a voltage of 1 to 100 V."""
    capitals = "".join(chr(ord(c) - 32) if "a" <= c <= "z" else c for c in text[:200])
    bare = "".join(c for c in capitals if c not in " \t\n\r\u00a0\u202f")
    if not bare:
        return None, "empty"
    match = _VOLTS.fullmatch(bare)
    if match is None:
        return None, "not-a-voltage"
    millivolts = int(match[1]) * 1000 + int((match[2] or "").ljust(3, "0"))
    return (millivolts, None) if MIN_MV <= millivolts <= MAX_MV else (None, "out-of-range")


def answer_label(text: str, data: Mapping[str, Any]) -> dict[str, Any]:
    """Return {message, volts, explanations}: what a printed voltage can be; indices into data's explanations."""
    millivolts, message = read_volts(text)
    if millivolts is None:
        return {"message": message, "volts": None, "explanations": []}
    key = str(millivolts)
    if key not in data["labels"]:
        key = str((millivolts + GRID_MV // 2) // GRID_MV * GRID_MV)
    found = data["labels"].get(key, [])
    return {"message": None if found else "unexplained", "volts": key, "explanations": found}


def answer_rest(text: str, data: Mapping[str, Any]) -> dict[str, Any]:
    """Return {message, volts, packs}: the state of charge that a resting voltage means for each usual pack.

    A pack is [index of the chemistry, cells in series, lowest percent, highest percent].
    """
    millivolts, message = read_volts(text)
    if millivolts is None:
        return {"message": message, "volts": None, "packs": []}
    packs = []
    for index, chemistry in enumerate(data["rest"]):
        for series in chemistry["series"]:
            step, start = series * STEP_MV, series * chemistry["start_mv"]
            place = (2 * (millivolts - start) + step) // (2 * step)
            if 0 <= place < len(chemistry["low"]):
                packs.append([index, series, chemistry["low"][place], chemistry["high"][place]])
    return {"message": None if packs else "outside", "volts": str(millivolts), "packs": packs}


def lookup_data(library: Library, curves: Mapping[str, tuple[OpenCircuit, ...]]) -> dict[str, Any]:
    """Return the data behind the voltage field: plain, ready for JSON."""
    known, explanations, labels = candidates(library), _Numbered(library), {}
    low, high = np.array([c.low_v for c in known]), np.array([c.high_v for c in known])
    recorded = {round(v * 1000) for v in label_voltages(library.labels)}
    for millivolts in sorted(mv for mv in recorded | set(range(MIN_MV, MAX_MV + 1, GRID_MV)) if MIN_MV <= mv <= MAX_MV):
        volts = millivolts / 1000
        near = known if millivolts in recorded else [known[i] for i in np.flatnonzero((low <= volts) & (volts <= high))]
        found = _worth_showing(read_label(volts, library, near))
        if found:
            labels[str(millivolts)] = [explanations.number(e) for e in found]
    pages = [f"{v:g}" for v in label_voltages(library.labels)]
    return {"messages": MESSAGES, "pages": pages, "labels": labels, "explanations": explanations.items, "rest": _rest(library, curves)}


def _worth_showing(found: tuple[Explanation, ...]) -> list[Explanation]:
    likely = [e for e in found if e.evidence or e.usual]
    return (likely or list(found[:3]))[:SHOWN]


class _Numbered:
    """Explanations as plain items, each distinct one once."""

    def __init__(self, library: Library) -> None:
        self.items: list[dict[str, Any]] = []
        self._library = library
        self._places: dict[tuple, int] = {}

    def number(self, explanation: Explanation) -> int:
        key = (explanation.group.id, explanation.series, explanation.reading, explanation.reason)
        if key not in self._places:
            self._places[key] = len(self.items)
            self.items.append(self._item(explanation))
        return self._places[key]

    def _item(self, explanation: Explanation) -> dict[str, Any]:
        names = self._library.labels.products or {}
        packs = [self._pack(r) for r in explanation.readings]
        return {
            "series": explanation.series,
            "group": explanation.group.name,
            "reading": explanation.reading,
            "reason": explanation.reason,
            "recorded": bool(explanation.evidence),
            "products": [names[p] for p in explanation.products],
            "packs": packs,
        }

    def _pack(self, reading: Reading) -> dict[str, Any]:
        subject = self._library.chemistries[reading.chemistry]
        volts = {name: _text(name, getattr(reading.row, f"{name}_v")) for name in ("empty", "nominal", "storage", "full")}
        return {"chemistry": subject.id, "name": subject.abbreviation, "rechargeable": subject.rechargeable, **volts}


def _text(name: str, volts: float | None) -> str | None:
    if volts is None:
        return None
    return {"full": full_text, "empty": empty_text}.get(name, "{:.2f}".format)(volts)


def _rest(library: Library, curves: Mapping[str, tuple[OpenCircuit, ...]]) -> list[dict[str, Any]]:
    found = []
    for id, own in curves.items():
        subject = library.chemistries.get(id)
        if subject is None:
            continue
        start = math.ceil(min(c.volts[0] for c in own) * 1000 / STEP_MV) * STEP_MV
        end = math.floor(max(c.volts[-1] for c in own) * 1000 / STEP_MV) * STEP_MV
        spans = [charge_span(mv / 1000, own) or (0.0, 100.0) for mv in range(start, end + 1, STEP_MV)]
        low, high = [math.floor(span[0]) for span in spans], [math.ceil(span[1]) for span in spans]
        series = [n for n in subject.series_usual if n * start <= MAX_MV]
        cells = [c.cell for c in own]
        found.append({"chemistry": id, "name": subject.abbreviation, "series": series, "start_mv": start, "low": low, "high": high, "cells": cells})
    return found
