"""Cost of the build at 10, 100, 300 and 1,000 made-up records: time, memory and bytes a record must stay flat.

Time is that of the processor, not of the clock: it depends little on what else the machine does.
The records are copies of one real record under other names, so their size is real and their content means nothing.
"""

from __future__ import annotations

import json
import os
import re
import shutil
import subprocess
import sys
import tempfile
from dataclasses import dataclass
from pathlib import Path

from generator.build import ROOT
from tests.benchmarks.bench_pages import weight

COUNTS = (10, 100, 300, 1000)
MODEL = "nca"


def checkout(folder: Path, count: int) -> None:
    """Make a copy of the project whose records are ``count`` copies of one; cells, labels and editions are left out."""
    for name in (name for name in ("generator", "docs", ".cache") if (ROOT / name).exists()):  # curves and figures of real cells from the cache
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


def built(folder: Path) -> Cost:
    """Build the site of a checkout and return what that cost."""
    environment = {**os.environ, "PYTHONPATH": str(folder), "SOURCE_DATE_EPOCH": "1767225600"}
    command = [sys.executable, "-c", _WRAPPED, sys.executable, "-m", "generator", "build", "--out", str(folder / "site")]
    done = subprocess.run(command, cwd=folder, env=environment, check=True, stdout=subprocess.PIPE, text=True)
    return Cost(*json.loads(done.stdout.splitlines()[-1]))


@dataclass(frozen=True, slots=True)
class Cost:
    """Processor time of all processes [s], user and system together, and the memory of the largest [MB]."""

    cpu_s: float
    memory_mb: float


# A process of its own, so that what others did before does not count.
_WRAPPED = """
import json, resource, subprocess, sys
subprocess.run(sys.argv[1:], check=True, stdout=subprocess.DEVNULL)
used = resource.getrusage(resource.RUSAGE_CHILDREN)
print(json.dumps([used.ru_utime + used.ru_stime, used.ru_maxrss / 1024]))
"""

_HEAD = "records |  anew: CPU  a record   memory |  warm: CPU  a record | record page  start  index of a record  site a record"


def run(counts: tuple[int, ...] = COUNTS) -> None:
    """Print one line a count. ``a record`` is what each record beyond the smallest count adds: flat means linear."""
    print(_HEAD)
    first = None
    for count in counts:
        with tempfile.TemporaryDirectory() as made:
            folder = Path(made) / "checkout"
            checkout(folder, count)
            anew, warm = built(folder), built(folder)
            site = folder / "site"
            weights = [weight(site / path) / 1024 for path in ("chemistries/made-up-0001/index.html", "index.html", "search/search_index.json")]
            whole = sum(path.stat().st_size for path in site.rglob("*") if path.is_file()) / 1024
        now = (count, anew.cpu_s, warm.cpu_s, weights[2], whole)
        first = first or now
        added = [(mine - least) / (count - first[0]) if count > first[0] else float("nan") for mine, least in zip(now[1:], first[1:], strict=True)]
        print(
            f"{count:7d} | {anew.cpu_s:8.1f} s {added[0] * 1000:6.0f} ms {anew.memory_mb:6.0f} MB | {warm.cpu_s:8.1f} s {added[1] * 1000:6.0f} ms | "
            f"{weights[0]:8.1f} KB {weights[1]:5.1f} KB {added[2]:8.2f} KB gzip {added[3]:11.0f} KB",
            flush=True,
        )
