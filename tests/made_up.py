"""A made-up almanac with hostile texts, for tests: no such cell exists and every figure is invented."""

from __future__ import annotations

import hashlib
import json
import shutil
from pathlib import Path
from typing import Any

from generator.build import load
from generator.compute.results import Results, compute
from generator.model.library import Library

GOOD = Path(__file__).parent / "cases" / "good"

# One line with what breaks one format or another: braces, quotes, ampersands, brackets, a script, non-Latin letters.
HOSTILE = "Braces {a} and } lone, \"quotes\" & 'ticks' <script>alert(1)</script> [b]x[/b] [url=http://x.invalid]y[/url] 100 % of $5 #1 a_b ~t ^c \\d |e| `f` *g* **h** & &amp; \u96fb\u6c60 \u0431\u0430\u0442\u0430\u0440\u0435\u044f \u03bb\u03af\u03b8\u03b9\u03bf www.x.invalid a@x.invalid"
LONG = ("A very long title of three hundred characters that goes on and on " * 5)[:300].strip()
BODY = "Doe and Sons, Inc. {R&D} [Cells] and others"

_SOURCES = [
    {"id": "hostile-2030", "type": "article-journal", "kind": "paper", "title": HOSTILE, "year": 2030, "month": 2, "day": 3, "page": "11-19",
     "author": [{"family": "O'Brien-\u00d6zt\u00fcrk {x}", "given": "A. & B."}, {"literal": BODY}], "container-title": "Journal of <i>Invented</i> & Other Cells", "volume": "7", "issue": "2", "doi": "10.1234/invented_(2030)#1", "note": HOSTILE},
    {"id": "long-2029", "type": "report", "kind": "data-sheet", "title": LONG, "author": [{"literal": BODY}], "year": 2029, "url": "https://example.invalid/a_(b)[c]?x=1&y={z}%20#frag"},
    {"id": "standard-2028", "type": "standard", "kind": "standard", "title": "An invented standard", "author": [{"literal": "Invented Committee"}], "year": 2028, "number": "IC 99999-1"},
    {"id": "page-only", "type": "webpage", "kind": "web-page", "title": "A page without author or year", "url": "https://example.invalid/page"},
]

_RECORD: dict[str, Any] = {
    "id": "hostilium",
    "name": "Hostilium <b>oxide</b> & \u96fb",
    "abbreviation": "HST",
    "family": "lithium-ion",
    "rechargeable": True,
    "positive": "invented",
    "negative": "invented",
    "identity": HOSTILE,
    "variants": [{"id": "power-cell", "name": "Power [cells]", "meaning": "Invented."}],
    "values": {
        "nominal-voltage": [
            {"key": "hostile", "typical": 3.2, "unit": "V", "source": "hostile-2030", "locator": HOSTILE[:290], "grade": "read", "condition": {"temperature_c": -20, "note": HOSTILE[:200]}, "note": HOSTILE},
        ],
        "charge-voltage-max": [
            {"key": "long", "typical": 3.6, "unit": "V", "source": "long-2029", "locator": "table {1}, p. 3 & 4", "grade": "read", "condition": {"temperature_c": 23}},
            {"key": "page", "typical": 3.7, "unit": "V", "source": "page-only", "locator": "row 2", "grade": "reported", "reported_by": "standard-2028"},
            {"key": "memory", "typical": 3.5, "unit": "V", "grade": "recalled"},
            {"key": "power", "variant": "power-cell", "typical": 3.55, "unit": "V", "grade": "recalled"},
        ],
        "discharge-cutoff-voltage": [
            {"key": "standard-2028", "typical": 2.5, "unit": "V", "source": "standard-2028", "locator": "clause 1", "grade": "derived", "working": "Half of five."},
        ],
        "charge-temperature": [
            {"key": "long", "min": -10, "max": 45, "unit": "degC", "source": "long-2029", "locator": "table 2", "grade": "read"},
            {"key": "trade", "min": 0, "max": 50, "unit": "degC", "grade": "practice"},
        ],
    },
    "remarks": [{"key": "warning", "topic": "safety", "text": HOSTILE, "source": "hostile-2030", "locator": "p. 1", "grade": "read"}],
}


def record(**changes: Any) -> dict[str, Any]:
    """Return a fresh copy of the made-up record, with keys replaced."""
    return {**json.loads(json.dumps(_RECORD)), **changes}


def digests(folder: Path) -> dict[str, str]:
    """Return the SHA-256 of every file below a folder, by path: two folders are the same when these are."""
    return {p.relative_to(folder).as_posix(): hashlib.sha256(p.read_bytes()).hexdigest() for p in sorted(folder.rglob("*")) if p.is_file()}


def write_data(folder: Path, made: dict[str, Any] | None = None, *, retired: list[dict[str, str]] | None = None, sources: list[dict[str, Any]] | None = None) -> Path:
    """Write a data folder with the made-up record and return it; JSON is YAML, so no text is lost on the way."""
    shutil.copytree(GOOD, folder, dirs_exist_ok=True, ignore=shutil.ignore_patterns("cells"))
    (folder / "records" / "hostilium.yml").write_text(json.dumps(made or record(), ensure_ascii=False), "utf-8")
    listed = [{"id": "moth-2031", "type": "article-journal", "kind": "paper", "title": "An invented paper", "author": [{"family": "Moth", "given": "A."}], "year": 2031}]
    (folder / "sources.yml").write_text(json.dumps({"sources": listed + (_SOURCES if sources is None else sources)}, ensure_ascii=False), "utf-8")
    (folder / "retired.yml").write_text(json.dumps({"retired": retired or []}), "utf-8")
    return folder


def made_up_library(folder: Path, **options: Any) -> Library:
    """Return the library of a made-up data folder."""
    return load(write_data(folder, **options))


def made_up_results(library: Library) -> Results:
    """Return the results of a made-up library; it holds no cell model, so there is nothing slow to compute."""
    return compute(library)
