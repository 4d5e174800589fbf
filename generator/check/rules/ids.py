"""Ids are permanent and unique."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import PurePosixPath

from generator.check.corpus import Corpus
from generator.statement_ids import STATEMENT_FILES
from generator.problem import Problem, nearest


def id_is_file_name(corpus: Corpus) -> Iterator[Problem]:
    """A file is named after the id it holds, so that an id leads to its file."""
    for folder in ("records", "practice", "cells", "designations"):
        for document in corpus.tree.folder(folder):
            stem = PurePosixPath(document.name).stem
            if document.data["id"] != stem:
                yield document.problem(("id",), "id-is-file-name", f"the id '{document.data['id']}' is not the file's name '{stem}'", "Rename one of the two.")


def ids_unique(corpus: Corpus) -> Iterator[Problem]:
    """No two subjects, quantities, units or sources share an id, and none has the first part of a statement's id."""
    seen: dict[str, str] = {name: f"chemistry/{file}" for name, file in STATEMENT_FILES.items()}
    for document in corpus.tree.subjects():
        name = document.data["id"]
        if name in seen:
            yield document.problem(("id",), "ids-unique", f"the id '{name}' is already used in {seen[name]}", "Choose another id.")
        seen[name] = document.name
    for file, group, field in (("quantities.yml", "quantities", "id"), ("quantities.yml", "units", "symbol"), ("sources.yml", "sources", "id")):
        document, names = corpus.tree.documents[file], set()
        for index, item in enumerate(document.data[group]):
            if item[field] in names:
                yield document.problem((group, index, field), "ids-unique", f"'{item[field]}' stands here a second time", "Remove or rename one.")
            names.add(item[field])


def keys_unique(corpus: Corpus) -> Iterator[Problem]:
    """A key names one value under its quantity, one remark in its file."""
    seen: set[tuple[str, str | None, str]] = set()
    for place in (*corpus.values(), *corpus.remarks()):
        mark = (place.document.name, place.quantity, place.item["key"])
        if mark in seen:
            yield place.document.problem((*place.path, "key"), "keys-unique", f"the key '{place.item['key']}' is already used here", "Give it a suffix that says what differs.")
        seen.add(mark)


def key_is_not_a_variant(corpus: Corpus) -> Iterator[Problem]:
    """A value's key may not be a variant's id: both would be the same anchor."""
    for place in corpus.values():
        variants = {"standard", *(v["id"] for v in place.document.data.get("variants", ()))}
        if place.item["key"] in variants:
            yield place.document.problem((*place.path, "key"), "key-is-not-a-variant", f"the key '{place.item['key']}' is also the id of a variant", "Name the key after its source.")


def variant_declared(corpus: Corpus) -> Iterator[Problem]:
    """A variant other than standard is declared in the record with its meaning."""
    for place in corpus.values():
        variant = place.item.get("variant", "standard")
        declared = {"standard", *(v["id"] for v in place.document.data.get("variants", ()))}
        if variant not in declared:
            yield place.document.problem((*place.path, "variant"), "variant-declared", f"the variant '{variant}' is not declared in this file", nearest(variant, declared) or "Add it under variants with its meaning.")
