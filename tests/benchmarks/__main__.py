"""``python -m tests.benchmarks [NAME ...]``: run the benchmarks side by side in one run and print their tables."""

from __future__ import annotations

import importlib
import pkgutil
import sys
import time

from tests import benchmarks


def main(names: list[str]) -> None:
    """Run every module ``bench_*`` that has ``run()``, or only those named (without the prefix)."""
    found = sorted(module.name for module in pkgutil.iter_modules(benchmarks.__path__) if module.name.startswith("bench_"))
    for name in found:
        if names and name.removeprefix("bench_") not in names:
            continue
        print(f"\n== {name.removeprefix('bench_')}", flush=True)
        started = time.perf_counter()
        importlib.import_module(f"tests.benchmarks.{name}").run()
        print(f"   ({time.perf_counter() - started:.1f} s for this table)", flush=True)


if __name__ == "__main__":
    main(sys.argv[1:])
