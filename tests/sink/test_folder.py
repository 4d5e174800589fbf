"""The folder sink writes all or nothing."""

from __future__ import annotations

from pathlib import Path

import pytest

from generator.sink.folder import NotWritten, write_folder


@pytest.fixture
def docs(tmp_path: Path) -> Path:
    folder = tmp_path / "docs"
    (folder / "about").mkdir(parents=True)
    (folder / "about" / "index.md").write_text("# About\n")
    return folder


def tree_of(folder: Path) -> dict[str, bytes]:
    return {p.relative_to(folder).as_posix(): p.read_bytes() for p in sorted(folder.rglob("*")) if p.is_file()}


def test_writes_generated_and_hand_written(docs, tmp_path):
    write_folder({"x/index.md": b"# X\n"}, docs, tmp_path / "out")
    assert tree_of(tmp_path / "out") == {"about/index.md": b"# About\n", "x/index.md": b"# X\n"}


def test_replaces_what_stood_there(docs, tmp_path):
    out = tmp_path / "out"
    write_folder({"index.md": b"1", "old.md": b"1"}, docs, out)
    write_folder({"index.md": b"1", "new.md": b"2"}, docs, out)
    assert sorted(tree_of(out)) == ["about/index.md", "index.md", "new.md"]


def test_what_was_not_made_here_is_left_alone(docs, tmp_path):
    """A slip of the keyboard must not cost someone a folder."""
    out = tmp_path / "out"
    out.mkdir()
    (out / "letters.txt").write_text("mine")
    for place, words in ((out, "not made here"), (docs, "own files"), (tmp_path, "own files"), (docs / "new", "own files")):
        with pytest.raises(NotWritten, match=words):
            write_folder({"index.md": b""}, docs, place)
    assert tree_of(out) == {"letters.txt": b"mine"} and sorted(tree_of(docs)) == ["about/index.md"]


def test_a_name_clash_is_refused_and_nothing_is_lost(docs, tmp_path):
    out = tmp_path / "out"
    write_folder({"index.md": b"1"}, docs, out)
    before = tree_of(out)
    with pytest.raises(NotWritten, match="about/index.md has the name of a generated file"):
        write_folder({"y.md": b"2", "about/index.md": b"clash"}, docs, out)
    assert tree_of(out) == before


def test_a_failure_half_way_leaves_the_old_folder_and_no_litter(docs, tmp_path):
    out = tmp_path / "out"
    write_folder({"index.md": b"1"}, docs, out)
    before = tree_of(out)
    with pytest.raises(NotWritten, match="cannot write"):
        write_folder({"a.md": b"2", "x" * 300 + ".md": b"no file system takes this name"}, docs, out)
    assert tree_of(out) == before
    assert [p.name for p in tmp_path.iterdir() if p.name.startswith(".")] == []


def test_a_place_that_cannot_be_written_is_named(docs, tmp_path):
    (tmp_path / "file").write_text("not a folder")
    with pytest.raises(NotWritten, match="cannot write"):
        write_folder({}, docs, tmp_path / "file" / "out")
