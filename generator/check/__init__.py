"""Everything that is wrong with the data, as a list of problems. Nothing is repaired here."""

from __future__ import annotations

from generator.check.corpus import corpus_of
from generator.check.rules import RULES
from generator.check.schema import check_shape
from generator.problem import Problem
from generator.tree import Tree

REQUIRED = ("quantities.yml", "sources.yml", "retired.yml")


def check(tree: Tree) -> list[Problem]:
    """Return the problems of all files, sorted by file and place.

    Rules that compare files run only when every file has the right shape, so that one slip is reported once.
    """
    problems = [
        Problem(f"chemistry/{name}", 1, 1, "file-missing", "the file does not exist", "Every data folder needs it.")
        for name in REQUIRED
        if name not in tree.documents
    ]
    for name, document in tree.documents.items():
        problems += document.problems or check_shape(name, document)
    if not problems:
        corpus = corpus_of(tree)
        problems = [problem for rule in RULES for problem in rule(corpus)]
    return sorted(set(problems))
