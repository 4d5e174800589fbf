"""Makes worksheet.json: 1,000 random packs with their own figures and curves, so that edits of records leave it alone.

Run from the project's root after a change of the arithmetic: python -m tests.vectors.make_worksheet
"""

from __future__ import annotations

import json
import random
from pathlib import Path

from generator.build import CACHE, load
from generator.compute.cell_table import cell_tables
from generator.compute.results import compute
from generator.export.worksheet import cell_data, index_data
from tests.vectors.worksheet_vectors import NAMES, answer

OUT = Path(__file__).with_name("worksheet.json")
CHEMISTRIES = ("lfp", "nmc", "lco", "nimh", "lead-acid-agm", "lto", "alkaline")
COUNT = 1000


def main() -> None:
    library = load()
    results = compute(library, CACHE)
    tables = cell_tables(library, results.curves, results.tables)
    data = index_data(library, tables)
    data["chemistries"] = {id: data["chemistries"][id] for id in CHEMISTRIES}
    used = {known["default_cell"] for known in data["chemistries"].values()}
    for known in data["chemistries"].values():
        known["cells"] = [cell for cell in known["cells"] if cell["id"] in used]
    file = {"data": data, "tables": {id: cell_data(tables[id]) for id in sorted(used)}, "names": NAMES, "packs": []}
    chance = random.Random(20260101)
    for _ in range(COUNT):
        raw = pack(chance)
        file["packs"].append([raw, *answer(raw, file)])
    OUT.write_text(json.dumps(file, separators=(",", ":"), ensure_ascii=False) + "\n", encoding="utf-8")


def pack(chance: random.Random) -> dict[str, str]:
    """One pack as typed; now and then beyond what cells can carry."""
    series, parallel = chance.randint(1, 24), chance.randint(1, 12)
    capacity = round(chance.uniform(0.5, 6.0), 2)
    kind = chance.choice(("a", "w", "ohm", "none"))
    rate = 10 ** chance.uniform(-1.5, 0.6)
    ampere = rate * capacity * parallel
    value = {"a": ampere, "w": ampere * series * 3.0, "ohm": series * 3.0 / ampere, "none": 1.0}[kind]
    raw = {
        "chemistry": chance.choice(CHEMISTRIES),
        "series": str(series),
        "parallel": str(parallel),
        "capacity_ah": str(capacity),
        "load_kind": kind,
        "load": f"{max(value, 0.001):.4f}",
        "duty_percent": str(chance.choice((100, 50, 12.5))),
        "ambient_c": str(chance.choice((25, 25, 22, chance.randint(10, 40), chance.randint(-15, 60)))),
    }
    if chance.random() < 0.3:
        raw["resistance_mohm"] = f"{chance.uniform(5, 60):.1f}"
    if chance.random() < 0.3:
        raw["current_max_a"] = f"{capacity * chance.uniform(0.5, 5):.1f}"
    return raw


if __name__ == "__main__":
    main()
