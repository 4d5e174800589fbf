"""Ten thousand damaged files: each is refused with file, line and column, or accepted; never a traceback, never markup."""

from __future__ import annotations

import random
from pathlib import Path

import pytest

from generator.build import DATA_DIR
from generator.check import check
from generator.check.schema import check_shape
from generator.model.library import library_from
from generator.read import Document, read_bytes
from generator.tree import Tree, read_tree

GOOD = Path(__file__).parents[1] / "cases" / "good"
COUNT = 10_000
JUNK = (
    "<script>alert(1)</script>", "\"><img src=x onerror=alert(1)>", "{{ 7 * 7 }}", "{% raw %}", "](javascript:alert(1))", "`x`",
    "&amp;", "\u202e", "\x00", "\ufeff", "\t", ": ", "- ", "# ", "*a", "&a ", "!!python/object:os.system ", "---\n", "...\n", "%YAML 1.1\n",
    "1e999", ".nan", "-.inf", "0x7f", "1_000", "no", "~", "[", "]", "{", "}", "'", '"', "|\n", ">\n", "\u00e9", "\U0001f50b", "x" * 400, "9" * 60,
)  # fmt: skip


def mutated(text: str, chance: random.Random) -> bytes:
    """Return the text with one to three random damages, as bytes that may not even be UTF-8."""
    raw = bytearray(text.encode("utf-8"))
    for _ in range(chance.randint(1, 3)):
        place = chance.randrange(len(raw) + 1)
        kind = chance.randrange(7)
        if kind == 0:
            del raw[place : place + chance.randint(1, 30)]
        elif kind == 1:
            raw[place:place] = chance.choice(JUNK).encode("utf-8", "surrogatepass")
        elif kind == 2 and raw:
            raw[place % len(raw)] = chance.randrange(256)
        elif kind == 3:
            lines = bytes(raw).split(b"\n")
            line = chance.randrange(len(lines))
            lines[line:line] = [lines[chance.randrange(len(lines))]]
            raw = bytearray(b"\n".join(lines))
        elif kind == 4:
            lines = bytes(raw).split(b"\n")
            chance.shuffle(lines) if chance.random() < 0.1 else lines.pop(chance.randrange(len(lines)))
            raw = bytearray(b"\n".join(lines))
        elif kind == 5:
            words = bytes(raw).split(b" ")
            words[chance.randrange(len(words))] = chance.choice(JUNK).encode("utf-8", "surrogatepass")
            raw = bytearray(b" ".join(words))
        else:
            raw[place:place] = raw[chance.randrange(len(raw) + 1) :][: chance.randint(1, 80)]
    return bytes(raw)


def assert_refused_with_a_place(problems) -> None:
    for problem in problems:
        assert problem.file and problem.line >= 1 and problem.column >= 1 and problem.id and problem.message
        assert "Traceback" not in problem.message


@pytest.fixture(scope="module")
def small() -> Tree:
    return read_tree(GOOD)


def test_ten_thousand_damaged_files(small):
    chance = random.Random(2026)
    names = sorted(small.documents)
    texts = {name: (GOOD / name).read_text("utf-8") for name in names}
    refused = accepted = 0
    for _ in range(COUNT):
        name = chance.choice(names)
        document = read_bytes(mutated(texts[name], chance), f"chemistry/{name}")
        assert isinstance(document, Document)
        problems = document.problems or list(check_shape(name, document))
        tree = Tree({**small.documents, name: document}, small.editions)
        if not problems:  # the other files have the right shape; only then do the rules that compare files run
            problems = check(tree)
        assert_refused_with_a_place(problems)
        if problems:
            refused += 1
        else:
            accepted += 1
            library_from(tree)  # what passed the checks must build
    assert refused > COUNT / 2 and accepted > 0


def test_damaged_real_files():
    """The real files are larger and deeper; each is damaged a few times and checked beside all the others' shapes."""
    chance = random.Random(4711)
    for path in sorted(DATA_DIR.rglob("*.yml")):
        name = path.relative_to(DATA_DIR).as_posix()
        for _ in range(2):
            document = read_bytes(mutated(path.read_text("utf-8"), chance), f"chemistry/{name}")
            assert_refused_with_a_place(document.problems or list(check_shape(name, document)))
