"""The site: built by the site engine in a folder of its own, examined, then put in place of the old one."""

from __future__ import annotations

import ctypes
import os
import signal
import subprocess
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING

from generator.sink.staging import NotWritten, staging_beside, swap_in

if TYPE_CHECKING:
    from generator.model.library import Library

_PARENT_DEATH_SIGNAL = 1  # PR_SET_PDEATHSIG of prctl(2)


def build_site(root: Path, load: Callable[[], Library], out: Path, *, epoch: str) -> None:
    """Build the site of the data in ``root`` into ``out``; the old site stays until the new one is whole.

    ``load`` gives the library; it is called while the site engine, a process of its own, already works. ``epoch`` is
    SOURCE_DATE_EPOCH for the engine, so that two builds give the same bytes. Raises NotWritten, and what ``load`` raises.
    """
    with staging_beside(out, mark="index.html", never=root / "docs") as staged:
        with _engine(root, staged, epoch) as engine:
            from generator.sink.finished import add_offline, missing_anchors  # takes half a second, which the engine works already

            library = load()
            _wait_for(engine)
        missing = missing_anchors(library, staged)
        if missing:
            shown = "\n".join(f"  {name}" for name in missing[:20])
            raise NotWritten(f"{len(missing)} figures have no place in the built site, for example:\n{shown}")
        add_offline(staged, library)
        swap_in(staged, out)


@contextmanager
def _engine(root: Path, staged: Path, epoch: str) -> Iterator[subprocess.Popen[str]]:
    command = [sys.executable, "-m", "mkdocs", "build", "--strict", "--site-dir", str(staged)]
    # A locale of its own: the engine and its extensions sort and read by it.
    environment = {**os.environ, "SOURCE_DATE_EPOCH": epoch, "NO_MKDOCS_2_WARNING": "1", "LC_ALL": "C.UTF-8", "TZ": "UTC", "PYTHONUTF8": "1"}
    pipes = {"stdout": subprocess.DEVNULL, "stderr": subprocess.PIPE, "text": True, "encoding": "utf-8", "errors": "replace"}
    with subprocess.Popen(command, cwd=root, env=environment, preexec_fn=_end_with_us, **pipes) as engine:
        try:
            yield engine
        finally:
            engine.kill()  # does nothing to one that has ended


def _end_with_us() -> None:
    # In the engine's process: a build that is killed leaves nobody writing pages. Elsewhere than on Linux the engine works to its end.
    if sys.platform.startswith("linux"):
        ctypes.CDLL(None).prctl(_PARENT_DEATH_SIGNAL, signal.SIGKILL)


def _wait_for(engine: subprocess.Popen[str]) -> None:
    _, said = engine.communicate()
    if engine.returncode:
        said = said.strip()
        if "Traceback (most recent call last)" in said:  # the last line says what happened; the rest, where in the engine
            said = said.splitlines()[-1]
        raise NotWritten(f"the site engine refused the site:\n{said}")
