"""The bibliography for reference managers: BibTeX, CSL-JSON and RIS."""

from __future__ import annotations

from collections.abc import Mapping

from generator.cite import csl
from generator.cite.styles import STYLES, source_text
from generator.export.schemas import json_text
from generator.model.library import Library


def bibliography(library: Library) -> Mapping[str, str]:
    """Return sources.bib, sources.json and sources.ris, sorted by id."""
    sources = [library.sources[id] for id in sorted(library.sources)]
    files = {"sources.json": json_text([csl.source_item(source) for source in sources])}
    for name, style in (("sources.bib", "bibtex"), ("sources.ris", "ris")):
        joined = STYLES[style].between.join(source_text(source, style) for source in sources)
        files[name] = f"{joined}\n"
    return files
