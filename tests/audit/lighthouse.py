"""Lighthouse on a page: the median of several runs, a phone and a desk, and what cost points."""

from __future__ import annotations

import json
import os
import subprocess
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from statistics import median

CATEGORIES = ("performance", "accessibility", "best-practices", "seo")
MODES = {"mobile": (), "desktop": ("--preset=desktop",)}
_CHROMIUM = "--chrome-flags=--headless --no-sandbox --disable-gpu --disable-quic --no-first-run --disable-background-networking --disable-component-update --disable-sync"


@dataclass(frozen=True)
class Score:
    """One page in one mode: the median of each category, of two timings, and every audit that ever fell short."""

    page: str
    mode: str
    points: dict[str, int]
    paint_ms: float  # largest contentful paint
    blocked_ms: float  # total blocking time
    short: tuple[str, ...]


def one_run(tools: Path, chromium: str, url: str, mode: str, scratch: Path) -> dict:
    """Return Lighthouse's own report of one run. Raises RuntimeError with its words when it ends without one."""
    out = scratch / "report.json"
    out.unlink(missing_ok=True)
    command = ["node", str(tools / "node_modules/lighthouse/cli/index.js"), url, *MODES[mode], "--quiet", "--output=json", f"--output-path={out}", _CHROMIUM]
    done = subprocess.run(command, env={**os.environ, "CHROME_PATH": chromium}, capture_output=True, text=True, timeout=240, check=False)
    if not out.is_file():
        raise RuntimeError(f"Lighthouse gave no report for {url}:\n{done.stderr.strip()[-600:]}")
    report = json.loads(out.read_text("utf-8"))
    if error := report.get("runtimeError", {}).get("message"):
        raise RuntimeError(f"Lighthouse could not judge {url}: {error}")
    return report


def _short(report: dict) -> Iterator[str]:
    for category in CATEGORIES:
        for ref in report["categories"][category]["auditRefs"]:
            audit = report["audits"][ref["id"]]
            if ref["weight"] and audit["score"] is not None and audit["score"] < 1 and (category != "performance" or audit["score"] < 0.9):
                yield f"{category}: {audit['title']} {audit.get('displayValue', '')}".strip()


def score(reports: list[dict], page: str, mode: str) -> Score:
    """Return the medians of several reports of one page in one mode."""
    points = {c: round(100 * median(r["categories"][c]["score"] for r in reports)) for c in CATEGORIES}
    paint, blocked = (median(r["audits"][name]["numericValue"] for r in reports) for name in ("largest-contentful-paint", "total-blocking-time"))
    short = tuple(sorted({line for report in reports for line in _short(report)}))
    return Score(page, mode, points, paint, blocked, short)
