"""The format of an edition's file: its columns, its digest and how its content is written."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping
from typing import Any

FORMAT = 1
# The columns of each part. A new format number is needed before they change.
FIELDS: Mapping[str, tuple[str, ...]] = {
    "stated": ("id", "min", "typical", "max", "unit", "rule", "because", "value_ids", "grade", "unchecked"),
    "values": ("id", "variant", "min", "typical", "max", "unit", "applies_to", "condition", "source", "locator", "grade", "reported_by"),
    "remarks": ("id", "text", "condition", "source", "locator", "grade", "reported_by"),
}


def digest(data: Mapping[str, Any]) -> str:
    """Return the SHA-256 of an edition's content, its own digest left out, keys sorted and without white space."""
    content = {name: data[name] for name in data if name != "sha256"}
    return hashlib.sha256(compact(content, sort=True).encode("utf-8")).hexdigest()


def compact(content: Any, *, sort: bool = False) -> str:
    """Return JSON without white space; NaN is refused."""
    return json.dumps(content, ensure_ascii=False, separators=(",", ":"), sort_keys=sort, allow_nan=False)
