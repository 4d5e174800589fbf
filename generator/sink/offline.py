"""A copy of the almanac that opens from a disk: a pure function of a finished site's files."""

from __future__ import annotations

import io
import json
import re
import zipfile
from collections.abc import Mapping
from functools import lru_cache
from pathlib import PurePosixPath
from posixpath import basename, dirname, join, normpath, relpath
from urllib.parse import quote, unquote

from generator.address import SITE
from generator.sink.plain_scripts import figures_script, is_module, plain_script, with_plain_scripts

# Files that scripts of the pages look figures up in; a copy on a disk has them as scripts.
LOOKED_UP = ("data/v1/labels.json", "data/v1/markings.json", "data/v1/worksheet/*.json", "data/v1/curves/*.json", "data/v1/citations/*.json")
ON_DISK = "assets/on-disk.js"

_ADDRESS = re.compile(r'(<[a-zA-Z][^<>]*?\s(?:href|src|action)=")([^"#]+)')
_ELSEWHERE = re.compile(r"[a-zA-Z][a-zA-Z0-9+.-]*:|//|\?")
_POLICY = re.compile(r'(<meta http-equiv="Content-Security-Policy" content=")([^"]*)')
_PUBLISHED = re.compile(r"(^|/)(index\.html|[^/]+\.(css|js|svg|png|pdf|csv))$")
_LEFT_OUT = ("data/v1/", "assets/preview/", "assets/javascripts/lunr/", "offline/", "service-worker.js")
_EARLIEST = (1980, 1, 1, 0, 0, 0)  # the first day a zip file can name; never the clock, so that two builds are the same bytes
_INDEX = "search/search_index.json"
_SIZE_PAGE, _SIZE_PLACE = "data/index.html", b'<span id="copy-size"></span>'
_START = """Cell Almanac, a copy for reading without a connection
=====================================================

Open index.html in a browser. Pages, figures, search, look-ups and citations work from the disk.

Left out, and found at {site}data/ : the tables and files for programs, and earlier
editions. The maker's data sheet for the cell in your hand goes before every figure here.
Data: CC BY 4.0. Code: MIT.
"""


def is_looked_up(name: str) -> bool:
    """Tell whether a script of the pages reads the file."""
    return name.startswith("data/") and any(PurePosixPath(name).match(pattern) for pattern in LOOKED_UP)


def copy_for_disk(site: Mapping[str, bytes], folder: str) -> bytes:
    """Return the zip file of a copy that opens from a disk, all in ``folder``; the same bytes for the same site.

    Links name their index.html, and scripts are plain ones; what is left out is linked at its address on the web.
    """
    files = files_for_disk(site)
    packed = io.BytesIO()
    with zipfile.ZipFile(packed, "w", zipfile.ZIP_DEFLATED, compresslevel=4) as made:
        for name in sorted(files):
            entry = zipfile.ZipInfo(f"{folder}/{name}", _EARLIEST)
            entry.compress_type, entry.create_system, entry.external_attr = zipfile.ZIP_DEFLATED, 3, 0o644 << 16
            made.writestr(entry, files[name])
    return packed.getvalue()


def page_with_size(site: Mapping[str, bytes], copy: bytes) -> dict[str, bytes]:
    """Return the page that offers the copy, by path, now that the copy's size is known. (In the copy itself it is not.)"""
    page = site[_SIZE_PAGE]
    if page.count(_SIZE_PLACE) != 1:
        raise ValueError(f"{_SIZE_PAGE} must have {_SIZE_PLACE.decode()} once")
    return {_SIZE_PAGE: page.replace(_SIZE_PLACE, f'<span id="copy-size"> ({len(copy) / 1e6:.1f} MB)</span>'.encode())}


def files_for_disk(site: Mapping[str, bytes]) -> dict[str, bytes]:
    """Return the files of the copy by path."""
    files = {name: content for name, content in site.items() if _PUBLISHED.search(name) and not name.startswith(_LEFT_OUT)}
    modules = {basename(name): content for name, content in files.items() if name.endswith(".js") and is_module(content)}
    pages, chosen = [name for name in files if name.endswith(".html")], frozenset(files)
    files |= {f"assets/{name}": plain_script(name, content) for name, content in modules.items()}
    files |= {name: _page(site[name], name, chosen, modules) for name in pages}
    files |= {f"{name}.js": figures_script(content) for name, content in site.items() if is_looked_up(name)}
    files["search/search_index.js"] = _index(site[_INDEX])
    files["READ-ME.txt"] = _START.format(site=SITE).encode("ascii")
    return files


def _page(html: bytes, name: str, chosen: frozenset[str], modules: Mapping[str, bytes]) -> bytes:
    here = dirname(name)
    text = _ADDRESS.sub(lambda found: found[1] + for_disk(found[2], here, chosen), html.decode("utf-8"))
    # What 'self' means for a file on disk differs from browser to browser.
    text = _POLICY.sub(lambda found: found[1] + found[2].replace("'self'", "'self' file:"), text, count=1)
    script = f'<script src="{relpath(ON_DISK, here or ".")}"></script>\n  </head>'
    return with_plain_scripts(text, modules).replace("</head>", script, 1).encode("utf-8")


def for_disk(address: str, here: str, chosen: frozenset[str]) -> str:
    """Return an address (without a fragment) that a page in folder ``here`` names, as the copy needs it: a file of the copy, or its place on the web."""
    if _ELSEWHERE.match(address):
        return address
    root = "../" * (here.count("/") + 1) if here else ""
    if address.startswith(root):  # nearly all: what remains is the same on every page of that depth
        return _from_root(address.removeprefix(root), root, chosen)
    path, mark, query = address.partition("?")
    ending = "/" if path.endswith(("/", ".")) else ""
    return _from_root(f"{normpath(join(here, path))}{ending}{mark}{query}", root, chosen)


@lru_cache(maxsize=4096)
def _from_root(address: str, root: str, chosen: frozenset[str]) -> str:
    path, mark, query = address.partition("?")
    target = normpath(unquote(path))
    for name in (normpath(join(target, "index.html")), target):
        if name in chosen:
            return f"{root}{quote(name)}{mark}{query}"
    return f"{SITE}{address.lstrip('/')}"


def _index(index: bytes) -> bytes:
    data = json.loads(index)
    for document in data["docs"]:
        path, hash_mark, anchor = document["location"].partition("#")
        document["location"] = f"{path}index.html{hash_mark}{anchor}"
    return f"var __index = {json.dumps(data, separators=(',', ':'))}".encode("ascii")
