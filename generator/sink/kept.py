"""What a browser keeps for times without a connection: the list of one build's files, written into the service worker."""

from __future__ import annotations

import hashlib
import json
import re
from collections.abc import Mapping
from urllib.parse import quote

from generator.sink.offline import is_looked_up

_DIGITS = 12  # of SHA-256: enough to tell builds apart; it is no protection against an attacker
_NEVER = re.compile(r"\.map$|^assets/(preview|javascripts/lunr)/|^offline/|^(service-worker\.js|404\.html)$|^assets/on-disk\.js$")
_LATER = re.compile(r"^sources/[^/]+/index\.html$|^data/v1/citations/")
_NOW = re.compile(r"\.(html|css|js|svg)$|^search/search_index\.json$")
_VISITED = re.compile(r"^assets/.*\.(pdf|csv|png)$")

WORKER, STARTER = "service-worker.js", "assets/offline.js"
_VERSION = 'const VERSION = "";'
_FILES = "const FILES = { now: {}, later: {}, visited: {} };"


def when_kept(name: str) -> str | None:
    """Return when a browser keeps the file: ``now``, ``later``, ``visited`` (when a reader opens it), or None for never."""
    if _NEVER.search(name):
        return None
    if _LATER.search(name):
        return "later"
    if is_looked_up(name) or _NOW.search(name):
        return "now"
    return "visited" if _VISITED.search(name) else None


def with_worker(site: Mapping[str, bytes], digests: Mapping[str, str]) -> dict[str, bytes]:
    """Return the service worker and the script that starts it, by path, filled in for this build.

    ``digests``: the SHA-256 of every file of ``site``. The version is made from all of them; another build has another
    version and another list.
    """
    digests = dict(sorted(digests.items()))
    version = hashlib.sha256(json.dumps(digests).encode("ascii")).hexdigest()[:_DIGITS]
    starter = _filled(site, STARTER, {_VERSION: f'const VERSION = "{version}";'})
    digests[STARTER] = hashlib.sha256(starter).hexdigest()
    files: dict[str, dict[str, str]] = {"now": {}, "later": {}, "visited": {}}
    for name, digest in digests.items():
        if when := when_kept(name):
            files[when][quote(name)] = digest[:_DIGITS]
    listed = f"const FILES = {json.dumps(files, separators=(',', ':'))};"
    return {STARTER: starter, WORKER: _filled(site, WORKER, {_VERSION: f'const VERSION = "{version}";', _FILES: listed})}


def _filled(site: Mapping[str, bytes], name: str, values: Mapping[str, str]) -> bytes:
    text = site[name].decode("utf-8")
    for place, value in values.items():
        if text.count(place) != 1:
            raise ValueError(f"docs/{name} must have the line {place!r} once")
        text = text.replace(place, value)
    return text.encode("utf-8")
