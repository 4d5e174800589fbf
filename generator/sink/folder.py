"""The plain folder: everything a Markdown engine needs, written in one step or not at all."""

from __future__ import annotations

import shutil
from collections.abc import Mapping
from pathlib import Path

from generator.sink.staging import NotWritten, staging_beside, swap_in

__all__ = ["NotWritten", "write_folder"]


def write_folder(files: Mapping[str, bytes], hand_written: Path, out: Path) -> None:
    """Write the hand-written pages and ``files`` to ``out``, replacing what stood there only when all is written.

    Raises NotWritten when a generated file has the name of a hand-written one, when ``out`` holds something else than
    such a folder, or when the disk refuses.
    """
    with staging_beside(out, mark="index.md", never=hand_written) as staged:
        shutil.copytree(hand_written, staged, dirs_exist_ok=True)
        for path, content in files.items():
            target = staged / path
            if target.exists():
                raise NotWritten(f"docs/{path} has the name of a generated file; rename it")
            target.parent.mkdir(parents=True, exist_ok=True)
            target.write_bytes(content)
        swap_in(staged, out)
