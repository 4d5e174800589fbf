"""What an author sees while editing: the whole site once, then at each edit only what that edit touches.

Editing a record or practice file makes that subject's page again within about a second; overviews that repeat its
figures follow when the server is started anew. Any other change makes everything again.
"""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

from generator.build import CACHE, DATA_DIR, Begun, generate, load
from generator.compute.results import Results, compute, with_packs
from generator.pages import render_subjects

_ONE_SUBJECT = ("records/", "practice/")


class AuthorView:
    """Remembers the files of the last build and the data they were made from."""

    def __init__(self) -> None:
        self._data: dict[str, bytes] = {}
        self._results: Results | None = None
        self.files: Mapping[str, bytes] = {}

    def refresh(self) -> Begun:
        """Return all files after the newest edit, pictures among them; raises Refused when the data is not sound."""
        library, data = load(), _data_files(DATA_DIR)
        changed = {name for name in data.keys() | self._data.keys() if data.get(name) != self._data.get(name)}
        if self._results and changed and self._touches_only_subjects(changed, data):
            ids = {Path(name).stem for name in changed}
            pages = render_subjects(library, with_packs(self._results, library), ids)
            self.files = {**self.files, **{path: text.encode("utf-8") for path, text in pages.items()}}
        elif changed:
            self._results = compute(library, CACHE)
            self.files = generate()
        self._data = data
        return Begun(self.files, dict)

    def _touches_only_subjects(self, changed: set[str], data: Mapping[str, bytes]) -> bool:
        return all(name.startswith(_ONE_SUBJECT) and name in data and name in self._data for name in changed)


def _data_files(folder: Path) -> dict[str, bytes]:
    return {path.relative_to(folder).as_posix(): path.read_bytes() for path in sorted(folder.rglob("*")) if path.is_file()}
