"""Marking grammars are sound: expressions that two languages read alike and that take linear time, parts and tables that exist."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from typing import Any

from generator.check.corpus import Corpus
from generator.check.rules.evidence import evidence_problems
from generator.problem import Problem, nearest
from generator.read import Document

# The whole language a pattern may use. Digits and letters are spelt out, because \d and \w differ between Python and
# JavaScript; '*' and '+' are left out and a group may be optional but not repeated, so that no input takes long.
_TOKEN = re.compile(
    r"(?P<open>\((?:\?:|\?!)?)|(?P<close>\))|(?P<class>\[\^?[A-Za-z0-9 ./,-]+\])|(?P<bound>\{[0-9]{1,2}(?:,[0-9]{1,2})?\})"
    r"|(?P<maybe>\?)|(?P<bar>\|)|(?P<anchor>[\^$])|(?P<plain>[A-Z0-9 /,-])"
)


def unreadable(expression: str) -> str | None:
    """Return why an expression is not in the common, linear-time language; None when it is."""
    place, before = 0, ""
    while place < len(expression):
        found = _TOKEN.match(expression, place)
        if found is None:
            return f"'{expression[place]}' at position {place + 1} is not in the language both readers share"
        kind = found.lastgroup
        if kind == "bound" and before not in ("class", "plain"):
            return f"{found.group()} repeats a group: that can take very long"
        if kind == "maybe" and before not in ("class", "plain", "close"):
            return f"'?' at position {place + 1} follows nothing it can make optional"
        if kind == "bound" and re.fullmatch(r"\{([0-9]+),([0-9]+)\}", found.group()):
            low, high = map(int, found.group()[1:-1].split(","))
            if low > high:
                return f"{found.group()} counts backwards"
        place, before = found.end(), kind or ""
    try:
        re.compile(expression)
    except re.error as error:
        return f"not a regular expression: {error}"
    return None


def designations_evidenced(corpus: Corpus) -> Iterator[Problem]:
    """Every row, name, example and remark says where it comes from."""
    for document in corpus.tree.folder("designations"):
        yield from evidence_problems(document, "designations-evidenced")


def patterns_readable(corpus: Corpus) -> Iterator[Problem]:
    """Every expression is in the language that Python and JavaScript share, without repetition of groups."""
    for document, index, pattern in _patterns(corpus):
        why = unreadable(pattern["pattern"])
        if why:
            yield document.problem(("patterns", index, "pattern"), "patterns-readable", why, "Use letters, digits, classes, groups, '?' and {m,n} only.")


def parts_fit(corpus: Corpus) -> Iterator[Problem]:
    """A pattern has one part a group, and positions point at parts."""
    for document, index, pattern in _patterns(corpus):
        if unreadable(pattern["pattern"]):
            continue
        groups = re.compile(pattern["pattern"]).groups
        if groups != len(pattern["parts"]):
            yield document.problem(("patterns", index, "parts"), "parts-fit", f"the expression has {groups} groups but {len(pattern['parts'])} parts", "Give one part a group, in order.", at_key=True)
        for field in ("chemistry_parts", "size_parts"):
            for place, position in enumerate(pattern.get(field, ())):
                if position > groups:
                    yield document.problem(("patterns", index, field, place), "parts-fit", f"there is no group {position}", f"The expression has {groups}.")
            if bool(pattern.get(field)) != bool(pattern.get(field.replace("parts", "table"))):
                yield document.problem(("patterns", index), "parts-fit", f"{field} and its table belong together", "Give both or neither.")


def part_says_something(corpus: Corpus) -> Iterator[Problem]:
    """Letters and codes have a table or a meaning; counts, numbers and printed figures have a meaning."""
    for document, index, pattern in _patterns(corpus):
        for place, part in enumerate(pattern["parts"]):
            speaks = "meaning" in part or "table" in part or part["role"] == "maker"
            if not speaks or (part["role"] in ("series", "parallel", "number", "printed") and "{}" not in part.get("meaning", "")):
                yield document.problem(("patterns", index, "parts", place), "part-says-something", f"the part '{part['name']}' does not say what it means", "Add meaning with {} for the number, or a table.")


def tables_exist(corpus: Corpus) -> Iterator[Problem]:
    """Tables that patterns name exist, and no code stands twice in one."""
    known = {f"{d.data['id']}/{t['id']}" for d in corpus.tree.folder("designations") for t in d.data["tables"]}
    for document, index, pattern in _patterns(corpus):
        named = [(("patterns", index, field), pattern[field]) for field in ("chemistry_table", "size_table") if field in pattern]
        named += [(("patterns", index, "parts", place, "table"), part["table"]) for place, part in enumerate(pattern["parts"]) if "table" in part]
        for path, name in named:
            full = name if "/" in name else f"{document.data['id']}/{name}"
            if full not in known:
                yield document.problem(path, "tables-exist", f"there is no table '{name}'", nearest(full, known))
    for document in corpus.tree.folder("designations"):
        for index, table in enumerate(document.data["tables"]):
            yield from _codes_unique(document, ("tables", index, "rows"), table["rows"], "code")
        yield from _codes_unique(document, ("names",), document.data["names"], "name")


def _codes_unique(document: Document, path: tuple, rows: list[Mapping[str, Any]], field: str) -> Iterator[Problem]:
    seen = set()
    for index, row in enumerate(rows):
        if row[field] in seen:
            yield document.problem((*path, index, field), "tables-exist", f"'{row[field]}' stands here a second time", "Keep one of the two.")
        seen.add(row[field])


def designation_sizes_exist(corpus: Corpus) -> Iterator[Problem]:
    """A size that a row or name leads to stands in sizes.yml."""
    sizes = {size["id"] for size in corpus.tree.documents["sizes.yml"].data["sizes"]} if "sizes.yml" in corpus.tree.documents else set()
    for document in corpus.tree.folder("designations"):
        rows = [(("tables", t, "rows", r), row) for t, table in enumerate(document.data["tables"]) for r, row in enumerate(table["rows"])]
        rows += [(("names", index), name) for index, name in enumerate(document.data["names"])]
        for path, row in rows:
            if "size" in row and row["size"] not in sizes:
                yield document.problem((*path, "size"), "designation-sizes-exist", f"the size '{row['size']}' is not in sizes.yml", nearest(row["size"], sizes))


def _patterns(corpus: Corpus) -> Iterator[tuple[Document, int, Mapping[str, Any]]]:
    for document in corpus.tree.folder("designations"):
        for index, pattern in enumerate(document.data["patterns"]):
            yield document, index, pattern


DESIGNATION_RULES = (
    designations_evidenced,
    patterns_readable,
    parts_fit,
    part_says_something,
    tables_exist,
    designation_sizes_exist,
)
