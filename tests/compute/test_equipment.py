"""Equipment windows."""

from __future__ import annotations

import pytest

from generator.compute.equipment import Window, candidates, verdict


@pytest.mark.parametrize(("empty", "full", "want"), [(10.5, 14.4, "fits"), (10.0, 14.6, "low"), (12.0, 16.8, "high"), (9.0, 16.8, "high")])
def test_verdict(empty, full, want):
    """A 12 V device of 10.5 to 15 V: lead-acid fits; 4S LFP ends below it; 4S lithium-ion is above it when full."""
    assert verdict(Window(10.5, 12.0, 15.0), empty, full) == want


def test_candidates_are_the_nearest_counts(library):
    found = {c.chemistry: c.row.series for c in candidates(Window(10.5, 12.0, 15.0), library.chemistries.values())}
    assert found["lfp"] == 4 and found["nmc"] == 3 and found["lead-acid-agm"] == 6
    assert "alkaline" not in found and "nimh" not in found
