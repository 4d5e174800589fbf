"""Everything that is wrong with the data, as a list of problems. Nothing is repaired here."""

from __future__ import annotations

from collections.abc import Iterable
from importlib.metadata import version

from generator.cache import NO_CACHE, Cache, key_of
from generator.check.corpus import corpus_of
from generator.check.rules import RULES
from generator.check.schema import check_shape, schemas_digest
from generator.problem import Problem
from generator.read import Document
from generator.tree import Tree

_CHECKER = ("jsonschema", version("jsonschema"))
REQUIRED = ("quantities.yml", "sources.yml", "retired.yml")


def check(tree: Tree, cache: Cache = NO_CACHE) -> list[Problem]:
    """Return the problems of all files, sorted by file and place.

    Rules that compare files run only when every file has the right shape, so that one slip is reported once.
    ``cache`` remembers which files had the right shape, byte for byte under the same schema.
    """
    problems = [
        Problem(f"chemistry/{name}", 1, 1, "file-missing", "the file does not exist", "Every data folder needs it.")
        for name in REQUIRED
        if name not in tree.documents
    ]
    for name, document in tree.documents.items():
        problems += document.problems or _shape(name, document, cache)
    if not problems:
        corpus = corpus_of(tree)
        problems = [problem for rule in RULES for problem in rule(corpus)]
    return sorted(set(problems))


class _Faulty(Exception):
    pass


def _shape(name: str, document: Document, cache: Cache) -> Iterable[Problem]:
    def right() -> bytes:
        if check_shape(name, document):
            raise _Faulty
        return b"right"

    try:
        cache.get_or_make(key_of("shape", name, document.digest, schemas_digest(), *_CHECKER), right)
    except _Faulty:
        return check_shape(name, document)
    return ()
