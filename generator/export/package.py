"""datapackage.json: the tables described for machines (Frictionless Data Package, version 1)."""

from __future__ import annotations

import hashlib
from collections.abc import Mapping, Sequence
from typing import Any

from generator.address import LICENCE, LICENCE_ADDRESS, SITE, TITLE
from generator.export.table import Table, resource


def package(tables: Sequence[Table], texts: Mapping[str, str], version: str) -> dict[str, Any]:
    """Return the descriptor of the tables, whose CSV texts are given by path; ``version`` is the edition."""
    resources = []
    for table in tables:
        raw = texts[table.path].encode("utf-8")
        resources.append(resource(table, len(raw), hashlib.sha256(raw).hexdigest()))
    return {
        "profile": "tabular-data-package",
        "name": "cell-almanac",
        "title": TITLE,
        "description": "Parameters of battery-cell chemistries, each value with its source and grade.",
        "homepage": SITE,
        "version": version,
        "licenses": [{"name": LICENCE, "title": "Creative Commons Attribution 4.0", "path": LICENCE_ADDRESS}],
        "resources": resources,
    }
