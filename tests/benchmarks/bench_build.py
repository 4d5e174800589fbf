"""Check, cold build, warm build, and a plain build of the same written folder by the site engine alone.

Bars (house plan, section 8): check under 2 s; cold at most 15 s on two cores; warm at most 1.3 times the plain build.
"""

from __future__ import annotations

import os
import resource
import shutil
import subprocess
import sys
import tempfile
import time
from pathlib import Path

from generator.build import ROOT

REPEATS = 3


def seconds(command: list[str], cwd: Path, **environment: str) -> tuple[float, float]:
    """Return wall and user CPU seconds of one command; raises when it fails."""
    before = resource.getrusage(resource.RUSAGE_CHILDREN).ru_utime
    started = time.perf_counter()
    subprocess.run(command, cwd=cwd, check=True, capture_output=True, env={**os.environ, "SOURCE_DATE_EPOCH": "1767225600", **environment})
    return time.perf_counter() - started, resource.getrusage(resource.RUSAGE_CHILDREN).ru_utime - before


def best(command: list[str], cwd: Path, repeats: int = REPEATS) -> tuple[float, float]:
    """Return the fastest of several runs: the others only add what else the machine was doing."""
    return min(seconds(command, cwd) for _ in range(repeats))


def coldest(command: list[str], cwd: Path, repeats: int = REPEATS) -> tuple[float, float]:
    """Return the fastest of several runs, each without anything kept from before."""

    def cold() -> tuple[float, float]:
        shutil.rmtree(ROOT / ".cache", ignore_errors=True)
        return seconds(command, cwd)

    return min(cold() for _ in range(repeats))


def plain_folder(folder: Path) -> None:
    """Write the site source to ``folder``/docs with a configuration that has no plugin of ours."""
    python = [sys.executable, "-m", "generator"]
    subprocess.run([*python, "write", str(folder / "docs")], cwd=ROOT, check=True, capture_output=True)
    lines = [line for line in (ROOT / "mkdocs.yml").read_text("utf-8").splitlines() if line.strip() != "- cell-almanac" and not line.startswith("watch:")]
    text = "\n".join(lines).replace("generator/theme", str(ROOT / "generator" / "theme"))
    (folder / "mkdocs.yml").write_text(text, "utf-8")


def run() -> None:
    python = [sys.executable, "-m", "generator"]
    with tempfile.TemporaryDirectory() as made:
        folder = Path(made)
        rows = [("check, nothing kept", *coldest([*python, "check"], ROOT)), ("check", *best([*python, "check"], ROOT))]
        rows.append(("build, cold cache", *coldest([*python, "build", "--out", str(folder / "cold")], ROOT)))
        rows.append(("build, warm cache", *best([*python, "build", "--out", str(folder / "warm")], ROOT)))
        plain_folder(folder)
        rows.append(("plain build of the written folder", *best([sys.executable, "-m", "mkdocs", "build", "-d", str(folder / "plain")], folder)))
    for name, wall, user in rows:
        print(f"{name:36s} {wall:7.2f} s wall {user:7.2f} s user")
    print(f"{'warm / plain':36s} {rows[3][1] / rows[4][1]:7.2f}   (bar 1.3)")
