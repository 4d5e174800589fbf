"""Data files for machines, below ``data/v1/``. Their shape is stable within a version; values may change."""

from __future__ import annotations

from collections.abc import Mapping

from generator.cite.cited import Citer
from generator.compute.results import Results
from generator.export.bibliography import bibliography
from generator.export.citations import STATEMENT_NAMES, statement_citations, subject_citations
from generator.export.curves import curve_files
from generator.export.data_page import data_page
from generator.export.editions import editions
from generator.export.feed import feed
from generator.export.labels import scripts_data
from generator.export.package import package
from generator.export.schemas import json_text, published
from generator.export.subjects import VERSION, edition_name, index_data, subject_data
from generator.export.table import Table, csv_text
from generator.export.tables import all_tables
from generator.export.worksheet import worksheet_files
from generator.model.library import Library

FOLDER = f"data/{VERSION}/"


def export_all(library: Library, results: Results) -> Mapping[str, str | bytes]:
    """Return every export by its path in the site.

    That each keeps its published schema is held by the tests: checking 20 MB takes as long as writing it.
    """
    for_scripts = {**scripts_data(library, results), **curve_files(library, results), **worksheet_files(library, results)}
    return {**data_files(library, results), **{f"{FOLDER}{path}": text for path, text in for_scripts.items()}}


def data_files(library: Library, results: Results) -> Mapping[str, str]:
    """Return what is published for others to use: records, tables, bibliography, editions, citations, feed."""
    tables = all_tables(library, results)
    files = {
        **_tables(tables, edition_name(library) or "0"),
        **_subjects(library, results),
        **bibliography(library),
        **editions(library),
        "index.json": json_text(index_data(library, tables)),
        **{f"schema/{name}": json_text(schema) for name, schema in published().items()},
    }
    return {**{f"{FOLDER}{path}": text for path, text in files.items()}, "changes/feed.xml": feed(results)}


def page_of_data(library: Library, results: Results) -> Mapping[str, str]:
    """Return the page that describes the exports, by its path."""
    return data_page(library, all_tables(library, results), list(published()))


def _tables(tables: tuple[Table, ...], version: str) -> dict[str, str]:
    texts = {table.path: csv_text(table) for table in tables}
    return {**texts, "datapackage.json": json_text(package(tables, texts, version))}


def _subjects(library: Library, results: Results) -> dict[str, str]:
    files, citer = {}, Citer(library)
    for subject in library.subjects():
        folder = subject.page.split("/")[0]
        files[f"{folder}/{subject.id}.json"] = json_text(subject_data(subject, library, results))
        files[f"citations/{subject.id}.json"] = json_text(subject_citations(subject, citer), compact=True)
    for collection in STATEMENT_NAMES:
        files[f"citations/{collection}.json"] = json_text(statement_citations(collection, citer), compact=True)
    return files
