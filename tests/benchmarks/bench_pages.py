"""Weight of pages and figures as a browser receives them (gzip), and what the search index costs.

Bars (house plan, section 8): a page at most 130 KB gzip on first visit, an SVG figure at most 6 KB gzip.
"""

from __future__ import annotations

import gzip
import re
import tempfile
from pathlib import Path

from generator.build import ROOT, load
from generator.sink.site import build_site

_LOADED = re.compile(r'<(?:script|link|img)[^>]+(?:src|href)="([^"#]+)"[^>]*>')
_LATER = ('rel="alternate"', 'rel="canonical"', 'rel="next"', 'rel="prev"', 'rel="edit"')


def weight(path: Path) -> int:
    """Return the size of a file after gzip, in bytes."""
    return len(gzip.compress(path.read_bytes(), 9))


def first_visit(page: Path, site: Path) -> int:
    """Return the bytes of a page with every style, script and eager picture it names, and the search index and its worker."""
    html = page.read_text("utf-8")
    total = weight(page)
    for found in _LOADED.finditer(html):
        if any(mark in found.group() for mark in _LATER) or 'loading="lazy"' in found.group():
            continue
        target = (page.parent / found[1].split("?")[0]).resolve()
        if target.is_file() and target.is_relative_to(site.resolve()):
            total += weight(target)
    search = [site / "search" / "search_index.json", *site.glob("assets/javascripts/workers/search*.js")]
    return total + sum(weight(path) for path in search)


def run() -> None:
    with tempfile.TemporaryDirectory() as made:
        site = Path(made) / "site"
        build_site(ROOT, load, site, epoch="1767225600")
        pages = sorted(((first_visit(page, site), page) for page in site.rglob("index.html")), reverse=True)
        figures = sorted(((weight(path), path) for path in site.rglob("*.svg")), reverse=True)
        print(f"{len(pages)} pages, {len(figures)} SVG files, search index {weight(site / 'search' / 'search_index.json') / 1024:.1f} KB gzip")
        for size, path in pages[:8]:
            print(f"{size / 1024:7.1f} KB  {path.parent.relative_to(site).as_posix()}/   (bar 130)")
        for size, path in figures[:4]:
            print(f"{size / 1024:7.1f} KB  {path.relative_to(site).as_posix()}   (bar 6)")
