"""Where the project's folders are."""

from __future__ import annotations

from pathlib import Path

from generator.cache import Cache

ROOT = Path(__file__).resolve().parents[1]
DATA_DIR = ROOT / "chemistry"
CACHE = Cache(ROOT / ".cache")
