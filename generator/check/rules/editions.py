"""Frozen editions stay as they were, and every id they hold stays answerable."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Any

from generator.check.corpus import Corpus
from generator.check.edition import FIELDS, FORMAT, digest
from generator.statement_ids import COLLECTIONS, ROUNDED, statement_ids
from generator.problem import Problem, nearest
from generator.read import Document

NAME = re.compile(r"[0-9]{4}\.(0[1-9]|1[0-2])(\.[1-9][0-9]?)?")
DATE = re.compile(r"[0-9]{4}-(0[1-9]|1[0-2])-(0[1-9]|[12][0-9]|3[01])")
_RESTORE = "An edition is never edited: restore the file as it was published."


def edition_sound(corpus: Corpus) -> Iterator[Problem]:
    """An edition's file is readable, has its own name, the known columns and the digest of its content."""
    for name, document in corpus.tree.editions.items():
        yield from document.problems
        fault = None if document.problems else _fault(name, document.data)
        if fault:
            yield document.problem((), "edition-sound", fault, _RESTORE)


def _fault(name: str, data: Any) -> str | None:
    columns = {f"{part}_fields": list(fields) for part, fields in FIELDS.items()}
    wanted = {"format", "edition", "date", "licence", "sha256", *columns, *FIELDS}
    if not isinstance(data, dict) or set(data) != wanted:
        return f"an edition holds exactly {', '.join(sorted(wanted))}"
    if data["format"] != FORMAT or any(data[key] != fields for key, fields in columns.items()):
        return "the format or its columns are not known"
    if data["edition"] != name or not NAME.fullmatch(name):
        return f"the edition calls itself '{data['edition']}' in the file '{name}'"
    if not isinstance(data["date"], str) or not DATE.fullmatch(data["date"]):
        return "the date is not a day such as 2026-12-01"
    for part, fields in FIELDS.items():
        if not all(isinstance(row, list) and len(row) == len(fields) and isinstance(row[0], str) for row in data[part]):
            return f"a row of {part} does not have {len(fields)} columns beginning with an id"
    return None if data["sha256"] == digest(data) else "the content does not have the digest it had when it was frozen"


def id_answerable(corpus: Corpus) -> Iterator[Problem]:
    """An id of an edition is live or stands in retired.yml."""
    live, retired = live_ids(corpus), _retired(corpus)
    gone: dict[str, str] = {}
    for name, document in corpus.tree.editions.items():
        if document.problems or _fault(name, document.data):
            continue
        for part in FIELDS:
            gone.update((row[0], name) for row in document.data[part] if row[0] not in live and row[0] not in retired)
    target = corpus.tree.documents["retired.yml"]
    for id, name in sorted(gone.items()):
        hint = f"Add it to retired.yml with its reason. {nearest(id, (i for i in live if i.startswith(id.split('.')[0] + '.')))}"
        yield target.problem((), "id-answerable", f"'{id}' stands in edition {name} and nowhere now", hint.strip())


def retired_sound(corpus: Corpus) -> Iterator[Problem]:
    """A retired id is not live, stands once, belongs to a subject that still has a page, and leads to a live id."""
    document, live = corpus.tree.documents["retired.yml"], live_ids(corpus)
    subjects, seen = {*COLLECTIONS, *(s.data["id"] for s in corpus.tree.subjects())}, set()
    for index, item in enumerate(document.data["retired"]):
        path, id, target = ("retired", index), item["id"], item.get("moved_to")
        if id in live:
            yield document.problem((*path, "id"), "retired-sound", f"'{id}' is retired, but it is live", "Remove one of the two.")
        if id in seen:
            yield document.problem((*path, "id"), "retired-sound", f"'{id}' is retired a second time", "Keep one entry.")
        if id.count(".") != 2 or id.split(".")[0] not in subjects:
            hint = "Keep the record, so that its page can say where its figures went."
            yield document.problem((*path, "id"), "retired-sound", f"'{id}' belongs to no subject of the almanac", hint)
        elif not _has_page(id, live):
            yield document.problem((*path, "id"), "retired-sound", f"no label of the voltage of '{id}' is left, so its page is gone", "Keep one label of that voltage.")
        if target is not None and target not in live:
            yield document.problem((*path, "moved_to"), "retired-sound", f"'{id}' moved to '{target}', which is not live", nearest(target, live))
        seen.add(id)


def _has_page(id: str, live: set[str]) -> bool:
    """Whether the page that answers a retired id still exists: that of a printed voltage does while it has a label."""
    group = id.rpartition(".")[0]
    return not id.startswith("label.") or group == f"label.{ROUNDED}" or any(other.startswith(f"{group}.") for other in live)


def _retired(corpus: Corpus) -> set[str]:
    return {item["id"] for item in corpus.tree.documents["retired.yml"].data["retired"]}


def live_ids(corpus: Corpus) -> set[str]:
    """Return the ids of every value, stated figure, remark and statement of the data as they stand."""
    live = set()
    for place in (*corpus.values(), *corpus.remarks()):
        subject, quantity = place.document.data["id"], place.quantity or "remark"
        live.add(f"{subject}.{quantity}.{place.item['key']}")
        if place.quantity:
            live.add(f"{subject}.{quantity}.{place.item.get('variant', 'standard')}")
    return live | {id for id, *_ in statement_ids(corpus.tree)}


EDITION_RULES = (edition_sound, id_answerable, retired_sound)
