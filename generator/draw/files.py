"""Plotted figures as files: both palettes, kept by the hash of what they show and how."""

from __future__ import annotations

import json
from dataclasses import asdict
from pathlib import Path

from generator.cache import Cache, code_digest, key_of, version_of
from generator.draw import style
from generator.draw.curve_parts import Figure
from generator.draw.plot import figure_of

_HERE = Path(__file__).parent
_CODE = (_HERE / "plot.py", _HERE / "spread.py", _HERE / "style.py")


def plotted(figure: Figure, cache: Cache) -> dict[str, str]:
    """Return the light and the dark SVG of a figure by path; drawn only when its data, the style or the library changed."""
    key = key_of("plot", json.dumps(asdict(figure.plot)), style.style_parts(), code_digest(_CODE), version_of("matplotlib"))
    kept = cache.get_or_make(key, lambda: json.dumps(style.svg_pair(figure_of(figure.plot))).encode("utf-8"))
    light, dark = json.loads(kept)
    return {figure.light: light, figure.dark: dark}
