"""The whole bibliography, read by outside readers."""

from __future__ import annotations

import json

import bibtexparser
import rispy


def test_every_publication_is_in_every_format(exports, made_up):
    wanted = sorted(made_up.sources)
    library = bibtexparser.parse_string(exports["data/v1/sources.bib"])
    assert not library.failed_blocks and [entry.key for entry in library.entries] == wanted
    assert [record["id"] for record in rispy.loads(exports["data/v1/sources.ris"])] == wanted
    assert [item["id"] for item in json.loads(exports["data/v1/sources.json"])] == wanted


def test_the_real_bibliography_is_read_by_all(library):
    """The live data: every publication parses in BibTeX and RIS, with the fields it has."""
    from generator.export.bibliography import bibliography

    files = bibliography(library)
    parsed = bibtexparser.parse_string(files["sources.bib"])
    assert not parsed.failed_blocks and [entry.key for entry in parsed.entries] == sorted(library.sources)
    for record in rispy.loads(files["sources.ris"]):
        source = library.sources[record["id"]]
        assert record["title"] == source.title and record.get("doi") == source.doi
