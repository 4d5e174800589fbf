"""A folder is made beside the one it replaces, then put in its place: whoever stops the program, one whole folder remains.

Two programs may do so at once: each works in a folder of its own and holds a lock on it, so that neither takes the other's
for a leftover; the one that is ready last stays.
"""

from __future__ import annotations

import fcntl
import os
import re
import shutil
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path


class NotWritten(Exception):
    """The folder could not be written; what stood there before still stands."""


@contextmanager
def staging_beside(out: Path, *, mark: str, never: Path) -> Iterator[Path]:
    """Context: a fresh folder beside ``out`` on the same disk, removed again if it was not swapped in.

    What stands at ``out`` is replaced only if it is empty or has the file ``mark``, as every folder of this kind has, and
    neither holds nor lies in ``never``. What a stopped program left is put back or removed first. Raises NotWritten.
    """
    try:
        out = out.resolve()
        out.parent.mkdir(parents=True, exist_ok=True)
        with _locked(out.parent):
            _recover(out)
            _refuse_what_is_not_ours(out, mark, never.resolve())
            staged = Path(tempfile.mkdtemp(prefix=f".{out.name}-", suffix=".part", dir=out.parent))
            held = _lock(staged)
        staged.chmod(0o755)
    except OSError as error:
        raise NotWritten(f"cannot write beside {out}: {error.strerror or error}") from error
    try:
        yield staged
    except OSError as error:
        raise NotWritten(f"cannot write {out}: {error.strerror or error}") from error
    finally:
        shutil.rmtree(staged, ignore_errors=True)
        os.close(held)


def swap_in(staged: Path, out: Path) -> None:
    """Put ``staged`` in the place of ``out``. Stopped between the two steps, the next start puts the old folder back."""
    out = out.resolve()
    old = staged.with_suffix(".old")
    with _locked(out.parent):
        if out.exists():
            os.replace(out, old)
        try:
            os.replace(staged, out)
        except OSError:
            if old.exists():
                os.replace(old, out)
            raise
    shutil.rmtree(old, ignore_errors=True)


def _recover(out: Path) -> None:
    old = _leftovers(out, "old")
    if not out.exists() and old:
        os.replace(max(old, key=lambda path: path.stat().st_ctime_ns), out)
    for path in (*_leftovers(out, "old"), *_leftovers(out, "part")):
        with suppress(BlockingIOError, FileNotFoundError), _locked(path, wait=False):  # else another program is at it
            shutil.rmtree(path, ignore_errors=True)


def _leftovers(out: Path, suffix: str) -> list[Path]:
    name = re.compile(rf"\.{re.escape(out.name)}-[a-z0-9_]+\.{suffix}")
    return [path for path in out.parent.iterdir() if name.fullmatch(path.name) and path.is_dir()]


def _refuse_what_is_not_ours(out: Path, mark: str, never: Path) -> None:
    if out == never or out in never.parents or never in out.parents:
        raise NotWritten(f"{out} holds the project's own files; choose another folder")
    if out.exists() and not out.is_dir():
        raise NotWritten(f"{out} is a file, not a folder")
    if out.exists() and any(out.iterdir()) and not (out / mark).is_file():
        raise NotWritten(f"{out} holds files that were not made here (there is no {mark}); choose another folder, or empty it first")


@contextmanager
def _locked(folder: Path, *, wait: bool = True) -> Iterator[None]:
    held = _lock(folder, wait=wait)
    try:
        yield
    finally:
        os.close(held)


def _lock(folder: Path, *, wait: bool = True) -> int:
    """Return the open descriptor that holds the folder's lock; the system frees it when the program ends, however it ends."""
    held = os.open(folder, os.O_RDONLY)
    try:
        fcntl.flock(held, fcntl.LOCK_EX | (0 if wait else fcntl.LOCK_NB))
    except OSError:
        os.close(held)
        raise
    return held
