"""A damaged or stale entry is noticed and made again; large kinds of entries do not pile up."""

from __future__ import annotations

from pathlib import Path

import pytest

from generator.build import packed, unpacked
from generator.cache import Cache, key_of


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    return tmp_path / "cache"


def test_made_once(folder):
    made = []
    for _ in range(2):
        assert Cache(folder).get_or_make("k", lambda: made.append(1) or b"result") == b"result"
    assert len(made) == 1


@pytest.mark.parametrize("damage", [b"", b"x", b"0" * 64, b"0" * 64 + b"result", None])
def test_damaged_entries_are_made_again(folder, damage):
    cache = Cache(folder)
    cache.get_or_make("k", lambda: b"result")
    entry = folder / "k"
    entry.write_bytes(damage if damage is not None else entry.read_bytes()[:-1] + b"!")
    assert cache.get_or_make("k", lambda: b"made again") == b"made again"
    assert cache.get_or_make("k", lambda: b"not needed") == b"made again"


def test_a_cache_that_cannot_be_written_is_no_error(tmp_path):
    (tmp_path / "file").write_text("not a folder")
    assert Cache(tmp_path / "file" / "cache").get_or_make("k", lambda: b"result") == b"result"


def test_only_the_newest_of_a_large_kind_stays(folder):
    cache = Cache(folder)
    for key in ("a", "b", "c"):
        cache.get_or_make(key, lambda: b"large", newest_of="files")
    cache.get_or_make("small", lambda: b"small")
    assert sorted(path.name for path in folder.iterdir()) == ["files-c", "small"]


def test_keys_tell_apart_what_joins_alike():
    assert len({key_of("ab", "c"), key_of("a", "bc"), key_of("abc"), key_of("abc", "")}) == 4


def test_packing_is_exact():
    files = {"a/\u00e9.md": b"1\n2", "b.bin": bytes(range(256)), "empty": b""}
    assert unpacked(packed(files)) == files
