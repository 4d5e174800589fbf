"""Cost of the build at 10, 100, 300 and 1,000 made-up records: time, memory and bytes a record must stay flat.

The records are copies of one real record under other names, so their size is real and their content means nothing.
"""

from __future__ import annotations

import os
import re
import shutil
import subprocess
import sys
import tempfile
import time
from pathlib import Path

from generator.build import ROOT
from tests.benchmarks.bench_pages import weight

COUNTS = (10, 100, 300, 1000)
MODEL = "nca"


def checkout(folder: Path, count: int) -> None:
    """Make a copy of the project whose records are ``count`` copies of one; cells, labels and editions are left out."""
    for name in ("generator", "docs"):
        shutil.copytree(ROOT / name, folder / name, ignore=shutil.ignore_patterns("__pycache__"))
    shutil.copy(ROOT / "mkdocs.yml", folder)
    data = folder / "chemistry"
    shutil.copytree(ROOT / "chemistry", data)
    for path in (data / "editions").glob("*.json"):
        path.unlink()
    text = (ROOT / "chemistry" / "records" / f"{MODEL}.yml").read_text("utf-8")
    for number in range(count):
        made = re.sub(r"^id: .*$", f"id: made-up-{number:04d}", text, count=1, flags=re.M)
        made = re.sub(r"^name: .*$", f"name: Made-up chemistry {number}", made, count=1, flags=re.M)
        (data / "records" / f"made-up-{number:04d}.yml").write_text(made, "utf-8")


def measured(folder: Path) -> tuple[float, float, Path]:
    """Return seconds and peak memory [MB] of one build with a warm cache, and the site."""
    environment = {**os.environ, "PYTHONPATH": str(folder), "SOURCE_DATE_EPOCH": "1767225600"}
    command = [sys.executable, "-m", "generator", "build", "--out", str(folder / "site")]
    subprocess.run(command, cwd=folder, env=environment, check=True, capture_output=True)
    started = time.perf_counter()
    done = subprocess.run([sys.executable, "-c", _WRAPPED, *command], cwd=folder, env=environment, check=True, capture_output=True, text=True)
    return time.perf_counter() - started, int(done.stdout.split()[-1]) / 1024, folder / "site"


_WRAPPED = """
import resource, subprocess, sys
subprocess.run(sys.argv[1:], check=True, capture_output=True)
print(resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss)
"""


def run() -> None:
    print("records    time   per record   peak memory   one page gzip   search index gzip   site")
    base = None
    for count in COUNTS:
        with tempfile.TemporaryDirectory() as made:
            folder = Path(made) / "checkout"
            checkout(folder, count)
            seconds, memory, site = measured(folder)
            page = weight(site / "chemistries" / "made-up-0001" / "index.html") / 1024
            index = weight(site / "search" / "search_index.json") / 1024
            whole = sum(p.stat().st_size for p in site.rglob("*") if p.is_file()) / 1e6
            base = base or seconds
            rate = (seconds - base) / (count - COUNTS[0]) if count > COUNTS[0] else float("nan")
            print(f"{count:7d} {seconds:7.1f} s {rate * 1000:9.1f} ms {memory:10.0f} MB {page:13.1f} KB {index:16.1f} KB {whole:9.1f} MB", flush=True)
