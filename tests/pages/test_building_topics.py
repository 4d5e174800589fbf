"""The real library has every topic of the building section."""

from generator.pages.building import TOPICS, topics_of


def test_no_topic_is_missing(library):
    assert topics_of(library) == TOPICS
