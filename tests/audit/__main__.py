"""``make audit``: Lighthouse on five pages, a phone and a desk, median of three; the HTML checker on all pages.

Bars (house plan, section 8): 100 / 100 / 100 / 100 and no HTML error. Exit 0 when all hold, 1 when one does not, 2 when
something could not be run. Performance needs a quiet machine; a run on a busy one says less than it seems.
"""

from __future__ import annotations

import argparse
import os
import shutil
import sys
import tempfile
from pathlib import Path

from tests.audit.host import hosted
from tests.audit.html_checker import html_errors
from tests.audit.lighthouse import CATEGORIES, MODES, Score, one_run, score
from tests.chromium import chromium

PAGES = {"start": "", "chemistry": "chemistries/lfp/", "label": "labels/10.8-v/", "limits": "limits/", "worksheet": "building/worksheet/"}
RUNS = 3


def audit_html(tools: Path, site: Path) -> int:
    """Print what the HTML checker says; return an exit code."""
    if not shutil.which("java"):
        print("Not run: the HTML checker, because Java (17 or newer) is missing; on Debian: apt-get install default-jre-headless.")
        return 2
    pages, errors = html_errors(tools, site)
    print(f"HTML checker: {len(errors)} errors in {pages} pages (bar 0)")
    for line in errors[:30]:
        print(f"  {line}")
    return 1 if errors else 0


def audit_pages(tools: Path, site: Path, names: list[str], runs: int) -> int:
    """Print Lighthouse's table; return an exit code."""
    path = chromium()
    if path is None:
        print("Not run: Lighthouse, because Chromium is missing; run tests/browser/need_chromium.")
        return 2
    print(f"Lighthouse, median of {runs} (bar 100 in all four); 1-minute load before: {os.getloadavg()[0]:.1f} on {os.cpu_count()} cores")
    print(f"{'page':10} {'mode':8} {'perf':>5} {'a11y':>5} {'best':>5} {'seo':>5} {'paint ms':>9} {'blocked ms':>11}", flush=True)
    found = []
    with hosted(site) as host, tempfile.TemporaryDirectory() as scratch:
        for name in names:
            for mode in MODES:
                reports = [one_run(tools, path, host.address + PAGES[name], mode, Path(scratch)) for _ in range(runs)]
                found.append(score(reports, name, mode))
                print(_row(found[-1]), flush=True)
    for result in found:
        for line in result.short:
            print(f"  {result.page}, {result.mode}: {line}")
    return 0 if all(set(result.points.values()) == {100} for result in found) else 1


def _row(result: Score) -> str:
    points = " ".join(f"{result.points[category]:5}" for category in CATEGORIES)
    return f"{result.page:10} {result.mode:8} {points} {result.paint_ms:9.0f} {result.blocked_ms:11.0f}"


def main() -> int:
    """Run what can be run, and return the exit code that says how it went."""
    parser = argparse.ArgumentParser(prog="make audit", description=__doc__)
    parser.add_argument("--site", type=Path, default=Path("site"))
    parser.add_argument("--tools", type=Path, default=Path("build/audit"))
    parser.add_argument("--runs", type=int, default=RUNS)
    parser.add_argument("--only", choices=("html", *PAGES), action="append", help="only this part; may be given more than once")
    given = parser.parse_args()
    if not (given.site / "index.html").is_file():
        print(f"There is no built site in {given.site}; run make site first.")
        return 2
    only = given.only or ["html", *PAGES]
    codes = [audit_html(given.tools, given.site)] if "html" in only else []
    if names := [name for name in PAGES if name in only]:
        codes.append(audit_pages(given.tools, given.site, names, given.runs))
    return 2 if 2 in codes else max(codes)


if __name__ == "__main__":
    sys.exit(main())
