"""The almanac without a connection: a copy to unzip, and what a browser keeps. Pure functions of a finished site's files."""

from __future__ import annotations

import io
import json
import re
import zipfile
from collections.abc import Mapping
from pathlib import PurePosixPath
from posixpath import dirname, join, normpath, relpath
from urllib.parse import SplitResult, unquote, urlsplit, urlunsplit

from generator.address import SITE

# Files that scripts of the pages look figures up in.
LOOKED_UP = ("data/v1/labels.json", "data/v1/markings.json", "data/v1/worksheet/*.json", "data/v1/curves/*.json")

_TAG = re.compile(r"<[a-zA-Z][^<>]*>")
_ADDRESS = re.compile(r'(\s(?:href|src|action)=")([^"]*)(")')
_POLICY = re.compile(r'(<meta http-equiv="Content-Security-Policy" content=")([^"]*)(")')
_PUBLISHED = re.compile(r"(^|/)(index\.html|[^/]+\.(css|js|svg|png|pdf|csv))$")
_LEFT_OUT = ("data/v1/", "assets/preview/", "assets/javascripts/lunr/", "offline/", "service-worker.js")
_EARLIEST = (1980, 1, 1, 0, 0, 0)  # the first day a zip file can name; never the clock, so that two builds are the same bytes
_INDEX = "search/search_index.json"
_START = """Cell Almanac, a copy for reading without a connection
=====================================================

Open index.html in a browser. Pages, figures and search work from the disk.

A browser lets no page on a disk look figures up in a file. For the label field, the marking reader, the worksheet
and the reading of curves, serve this folder, for example with

    python3 -m http.server --bind 127.0.0.1 8000

and open http://127.0.0.1:8000/ instead. Left out of this copy, and found at {site}data/ :
the data files, earlier editions, and ready-made citations of single figures. Data: CC BY 4.0. Code: MIT.
"""


def is_looked_up(name: str) -> bool:
    """Tell whether a script of the pages reads the file."""
    return any(PurePosixPath(name).match(pattern) for pattern in LOOKED_UP)


def copy_for_disk(site: Mapping[str, bytes], folder: str) -> bytes:
    """Return the zip file of a copy that opens from a disk, search included, all in ``folder``; the same bytes for the same site.

    Links name their index.html; what is left out (data files, previews) is linked at its address on the web.
    """
    chosen = {name for name in site if is_looked_up(name) or _PUBLISHED.search(name) and not name.startswith(_LEFT_OUT)}
    files = {name: _page(site[name], name, chosen) if name.endswith(".html") else site[name] for name in chosen}
    files["search/search_index.js"] = _index(site[_INDEX])
    files["READ-ME.txt"] = _START.format(site=SITE).encode("ascii")
    packed = io.BytesIO()
    with zipfile.ZipFile(packed, "w", zipfile.ZIP_DEFLATED, compresslevel=6) as made:
        for name in sorted(files):
            entry = zipfile.ZipInfo(f"{folder}/{name}", _EARLIEST)
            entry.compress_type, entry.create_system, entry.external_attr = zipfile.ZIP_DEFLATED, 3, 0o644 << 16
            made.writestr(entry, files[name])
    return packed.getvalue()


def _page(html: bytes, name: str, chosen: set[str]) -> bytes:
    here = dirname(name)

    def address(found: re.Match[str]) -> str:
        return f"{found[1]}{for_disk(found[2], here, chosen)}{found[3]}"

    text = _TAG.sub(lambda tag: _ADDRESS.sub(address, tag.group()), html.decode("utf-8"))
    # What 'self' means for a file on disk differs from browser to browser.
    text = _POLICY.sub(lambda found: found[1] + found[2].replace("'self'", "'self' file:") + found[3], text, count=1)
    script = relpath("assets/file-search.js", here or ".")
    return text.replace("</head>", f'<script src="{script}"></script>\n  </head>', 1).encode("utf-8")


def for_disk(address: str, here: str, chosen: set[str]) -> str:
    """Return an address that a page in folder ``here`` names, as the copy needs it: a file of the copy, or its place on the web."""
    parts = urlsplit(address)
    if parts.scheme or parts.netloc or not parts.path:
        return address
    target = normpath(join(here, unquote(parts.path)))
    page = normpath(join(target, "index.html"))
    if page in chosen:
        return urlunsplit(parts._replace(path=relpath(page, here or ".")))
    if target in chosen:
        return address
    ending = "/" if parts.path.endswith("/") else ""
    return SITE + urlunsplit(SplitResult("", "", f"{target}{ending}", parts.query, parts.fragment))


def _index(index: bytes) -> bytes:
    data = json.loads(index)
    for document in data["docs"]:
        path, hash_mark, anchor = document["location"].partition("#")
        document["location"] = f"{path}index.html{hash_mark}{anchor}"
    return f"var __index = {json.dumps(data, separators=(',', ':'))}".encode("ascii")
