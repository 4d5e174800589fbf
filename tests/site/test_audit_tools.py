"""What `make audit` rests on: pinned tools, and a host that sends what the handbook tells hosts to send."""

from __future__ import annotations

import json

from generator.build import ROOT
from tests.audit.host import HEADERS
from tests.audit.lighthouse import CATEGORIES, score

AUDIT = ROOT / "tests" / "audit"


def test_tools_are_pinned_to_their_bytes_and_name_no_host():
    lock = json.loads((AUDIT / "package-lock.json").read_text("utf-8"))
    tools = {name: package for name, package in lock["packages"].items() if name}
    assert len(tools) > 100
    assert all(package["integrity"].startswith("sha512-") and "resolved" not in package for package in tools.values())
    wanted = json.loads((AUDIT / "package.json").read_text("utf-8"))["dependencies"]
    assert wanted == {name: tools[f"node_modules/{name}"]["version"] for name in wanted}  # exact versions, no ranges


def test_the_host_sends_the_headers_the_handbook_asks_for():
    handbook = (ROOT / "DEVELOPERS.md").read_text("utf-8")
    assert HEADERS and all(f"    {name}: {value}\n" in handbook for name, value in HEADERS.items())


def test_a_score_is_the_median_and_names_what_fell_short():
    def report(points: float) -> dict:
        audits = {"largest-contentful-paint": {"numericValue": 1000 * points}, "total-blocking-time": {"numericValue": 0}, "alt": {"score": points, "title": "No text"}}
        return {"categories": {c: {"score": points, "auditRefs": [{"id": "alt", "weight": 1}]} for c in CATEGORIES}, "audits": audits}

    found = score([report(1.0), report(0.5), report(0.98)], "start", "mobile")
    assert set(found.points.values()) == {98} and found.paint_ms == 980
    assert "seo: No text" in found.short
