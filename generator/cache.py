"""Results kept by the hash of what they were made from. A damaged or stale entry is never used: it is made again."""

from __future__ import annotations

import hashlib
import os
import tempfile
from collections.abc import Callable, Iterable
from functools import cache as once
from importlib.metadata import version
from pathlib import Path

_HASH_LENGTH = 64
_CODE = (".py", ".j2", ".html")


class Cache:
    """A folder of entries, each headed by the hash of its own content. With ``folder`` None nothing is kept."""

    def __init__(self, folder: Path | None) -> None:
        self._folder = folder

    def get_or_make(self, key: str, make: Callable[[], bytes], *, newest_of: str | None = None) -> bytes:
        """Return the entry of ``key``, or make and keep it. A key comes from ``key_of``, so stale entries have another.

        With ``newest_of``, a name for a large kind of entry, only the newest entry of that name is kept.
        """
        found = self.get(key, newest_of=newest_of)
        if found is not None:
            return found
        made = make()
        self.keep(key, made, newest_of=newest_of)
        return made

    def get(self, key: str, *, newest_of: str | None = None) -> bytes | None:
        """Return the entry of ``key``, None when there is none or it is damaged."""
        return self._read(_name(key, newest_of))

    def keep(self, key: str, content: bytes, *, newest_of: str | None = None) -> None:
        """Keep an entry for ``get``."""
        self._write(_name(key, newest_of), content)
        if newest_of:
            self._drop_others(newest_of, _name(key, newest_of))

    def _drop_others(self, group: str, name: str) -> None:
        if self._folder is not None and self._folder.is_dir():
            for path in self._folder.glob(f"{group}-*"):
                if path.name != name:
                    path.unlink(missing_ok=True)

    def _read(self, key: str) -> bytes | None:
        if self._folder is None:
            return None
        try:
            raw = (self._folder / key).read_bytes()
        except OSError:
            return None
        digest, content = raw[:_HASH_LENGTH], raw[_HASH_LENGTH:]
        return content if digest == _digest(content) else None

    def _write(self, key: str, content: bytes) -> None:
        if self._folder is None:
            return
        name = None
        try:
            self._folder.mkdir(parents=True, exist_ok=True)
            handle, name = tempfile.mkstemp(prefix=".part-", dir=self._folder)
            with os.fdopen(handle, "wb") as file:
                file.write(_digest(content) + content)
            os.replace(name, self._folder / key)
        except OSError:  # a cache that cannot be written costs time, not correctness
            if name:
                Path(name).unlink(missing_ok=True)


NO_CACHE = Cache(None)


def _name(key: str, newest_of: str | None) -> str:
    return f"{newest_of}-{key}" if newest_of else key


def _digest(content: bytes) -> bytes:
    return hashlib.sha256(content).hexdigest().encode("ascii")


def key_of(*parts: bytes | str) -> str:
    """Return the key for a result made from ``parts``: every input, the code's digest and library versions among them."""
    whole = hashlib.sha256()
    for part in parts:
        raw = part.encode("utf-8") if isinstance(part, str) else part
        whole.update(len(raw).to_bytes(8, "big") + raw)
    return whole.hexdigest()


@once
def code_digest(places: Iterable[Path]) -> str:
    """Return the hash of all code and templates in ``places``, a tuple of files and folders: what other code made is stale."""
    parts = []
    for place in places:
        for path in sorted(place.rglob("*")) if place.is_dir() else (place,):
            if path.suffix in _CODE:
                parts += [path.name, path.read_bytes()]
    return key_of(*parts)


@once
def version_of(package: str) -> str:
    """Return the version of an installed package, part of the key of what it made."""
    return version(package)
