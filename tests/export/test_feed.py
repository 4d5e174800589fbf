"""The Atom feed, read by an outside reader."""

from __future__ import annotations

import dataclasses
import json

import feedparser
import pytest

from generator.editions import snapshot
from generator.export.feed import feed
from tests.made_up import made_up_library, made_up_results, record


@pytest.fixture(scope="module")
def with_editions(tmp_path_factory):
    """Two editions of made-up data: the second lowers one figure."""
    first = made_up_library(tmp_path_factory.mktemp("one") / "chemistry")
    changed = json.loads(json.dumps(record()))
    changed["values"]["charge-voltage-max"][1].update(typical=3.55)
    second = made_up_library(tmp_path_factory.mktemp("two") / "chemistry", made=changed)
    editions = (snapshot(first, "2026.12", "2026-12-01"), snapshot(second, "2027.06", "2027-06-15"))
    return dataclasses.replace(second, editions=editions)


def test_feed_is_read_with_its_dates(with_editions):
    found = feedparser.parse(feed(made_up_results(with_editions)))
    assert not found.bozo and found.version == "atom10"
    assert [entry.title for entry in found.entries] == ["Edition 2027.06", "Edition 2026.12"]
    assert [entry.updated for entry in found.entries] == ["2027-06-15T00:00:00Z", "2026-12-01T00:00:00Z"]
    assert found.feed.updated == "2027-06-15T00:00:00Z"
    assert found.entries[0].link == "https://cell-almanac.org/changes/2027.06/"
    assert "2 changed" in found.entries[0].content[0].value
    assert "hostilium.charge-voltage-max.standard: changed, rests on page instead of long" in found.entries[0].content[0].value


def test_feed_without_editions_is_still_a_feed(exports):
    found = feedparser.parse(exports["changes/feed.xml"])
    assert not found.bozo and found.entries == []


def test_feed_does_not_know_the_clock(with_editions):
    results = made_up_results(with_editions)
    assert feed(results) == feed(results)
