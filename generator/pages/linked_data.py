"""Pages described for machines in schema.org's terms, as JSON-LD in the page."""

from __future__ import annotations

from typing import Any

from generator.address import LICENCE_ADDRESS, SITE, TITLE, permalink
from generator.model.library import Library
from generator.model.subject import Stated, Subject
from generator.pages import format as fmt

CONTEXT = "https://schema.org"


def subject_data(subject: Subject, library: Library) -> dict[str, Any]:
    """Return the description of a subject as a Dataset with one PropertyValue a stated figure."""
    return {
        "@context": CONTEXT,
        "@type": "Dataset",
        "@id": permalink(subject),
        "name": f"{subject.name}: parameters with their sources",
        "description": _long_enough(subject.identity),
        "url": permalink(subject),
        "isPartOf": {"@id": f"{SITE}data/"},
        "alternateName": list(subject.also_called),
        "variableMeasured": [_property(stated, subject) for stated in subject.stated],
        "distribution": [_download(f"{subject.page.rstrip('/')}.json", "application/json")],
        **_terms(library),
    }


def library_data(library: Library, tables: list[str]) -> dict[str, Any]:
    """Return the description of the whole almanac as a Dataset; ``tables`` are paths of CSV files."""
    downloads = [_download(path, "text/csv") for path in tables]
    return {
        "@context": CONTEXT,
        "@type": "Dataset",
        "@id": f"{SITE}data/",
        "name": TITLE,
        "description": "Parameters of battery-cell chemistries: voltages, limits, life, energy and safety, each value with its source and grade.",
        "url": f"{SITE}data/",
        "hasPart": [{"@id": permalink(subject)} for subject in library.subjects()],
        "distribution": [*downloads, _download("index.json", "application/json")],
        **_terms(library),
    }


def _terms(library: Library) -> dict[str, Any]:
    newest = library.editions[-1] if library.editions else None
    edition = {"version": newest.name, "datePublished": newest.date} if newest else {}
    return {"license": LICENCE_ADDRESS, "isAccessibleForFree": True, "creator": {"@type": "Organization", "name": f"{TITLE} contributors", "url": SITE}, **edition}


def _property(stated: Stated, subject: Subject) -> dict[str, Any]:
    figures = {"minValue": stated.min, "value": stated.typical, "maxValue": stated.max}
    return {
        "@type": "PropertyValue",
        "@id": permalink(subject, stated),
        "propertyID": f"{stated.quantity.id}.{stated.variant}",
        "name": stated.quantity.name,
        **{name: figure for name, figure in figures.items() if figure is not None},
        "unitCode": stated.unit.ucum,
        "unitText": stated.unit.symbol,
        "description": f"Grade: {fmt.GRADE_WORDS[stated.grade]}",
    }


def _download(path: str, kind: str) -> dict[str, str]:
    return {"@type": "DataDownload", "encodingFormat": kind, "contentUrl": f"{SITE}data/v1/{path}"}


def _long_enough(text: str) -> str:
    # Search engines take a Dataset's description only from 50 characters on.
    return text if len(text) >= 50 else f"{text} Parameters of the chemistry, each with its source and grade."
