"""The plain folder: everything a Markdown engine needs, written in one step or not at all."""

from __future__ import annotations

import os
import shutil
import tempfile
from collections.abc import Mapping
from pathlib import Path


class NotWritten(Exception):
    """The folder could not be written; what stood there before still stands."""


def write_folder(files: Mapping[str, bytes], hand_written: Path, out: Path) -> None:
    """Write the hand-written pages and ``files`` to ``out``, replacing what stood there only when all is written.

    Raises NotWritten when a generated file has the name of a hand-written one or the disk refuses.
    """
    with staging_beside(out) as staged:
        shutil.copytree(hand_written, staged, dirs_exist_ok=True)
        for path, content in files.items():
            target = staged / path
            if target.exists():
                raise NotWritten(f"docs/{path} has the name of a generated file; rename it")
            target.parent.mkdir(parents=True, exist_ok=True)
            target.write_bytes(content)
        swap_in(staged, out)


class staging_beside:  # noqa: N801 - used like a function
    """Context: a fresh folder beside ``out`` on the same disk, removed again if it was not swapped in."""

    def __init__(self, out: Path) -> None:
        self._out = out

    def __enter__(self) -> Path:
        try:
            self._out.parent.mkdir(parents=True, exist_ok=True)
            name = tempfile.mkdtemp(prefix=f".{self._out.name}-", suffix=".part", dir=self._out.parent)
        except OSError as error:
            raise NotWritten(f"cannot write beside {self._out}: {error.strerror}") from error
        self._staged = Path(name)
        self._staged.chmod(0o755)
        return self._staged

    def __exit__(self, kind, error, trace) -> None:
        shutil.rmtree(self._staged, ignore_errors=True)
        if isinstance(error, OSError):
            raise NotWritten(f"cannot write {self._out}: {error.strerror or error}") from error


def swap_in(staged: Path, out: Path) -> None:
    """Put ``staged`` in the place of ``out``; at every moment one of the two whole folders stands there or beside."""
    old = staged.with_suffix(".old")
    if out.exists():
        os.replace(out, old)
    try:
        os.replace(staged, out)
    except OSError:
        if old.exists():
            os.replace(old, out)
        raise
    shutil.rmtree(old, ignore_errors=True)
