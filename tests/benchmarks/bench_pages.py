"""Weight of pages as a browser receives them, and of the drawn figures.

Bars (house plan, section 8): a page at most 130 KB gzip on first visit, an SVG figure at most 6 KB gzip.

Each page is opened in a browser that has seen nothing before, served compressed over a real connection. Counted is what
came before the network was quiet, twice: ``browser`` is the sum of Network.loadingFinished.encodedDataLength of the
Chrome DevTools Protocol, page and workers together; ``host`` is what the server wrote, its headers included. The search
index counts where the page fetches it. What the service worker stores three seconds later, so that the almanac answers
without a connection, is no part of showing a page: it is kept out here and given in a line of its own.
"""

from __future__ import annotations

import gzip
import json
import re
import tempfile
from collections.abc import Iterator
from pathlib import Path

from generator.build import ROOT, load
from generator.sink.site import build_site
from tests.audit.host import Host, hosted
from tests.chromium import FLAGS, chromium

BAR_KB = 130
SVG_BAR_KB = 6
# One page of each template; the heaviest pages of the site are added to these.
PAGES = (
    "", "404.html", "about/", "changes/", "data/", "find/", "limits/", "markings/", "nominal-voltage/", "sizes/", "stand-in/", "chemistries/",
    "chemistries/lfp/", "chemistries/nmc/", "chemistries/alkaline/", "labels/", "labels/12-v/", "curves/", "curves/chen-2020/", "practice/transport/",
    "sources/", "sources/ti-bq2970/", "sources/work/", "building/", "building/bench-card/", "building/bench-card/lfp/", "building/sorting/", "building/worksheet/",
)
HEAVIEST = 6


def weight(path: Path) -> int:
    """Return the size of a file after gzip, in bytes."""
    return len(gzip.compress(path.read_bytes(), 9))


def chosen(site: Path) -> list[str]:
    """Return the addresses to measure: one of each template, and the pages whose own HTML weighs most."""
    heavy = sorted(site.rglob("index.html"), key=weight, reverse=True)[:HEAVIEST]
    return list(dict.fromkeys([*PAGES, *(f"{path.parent.relative_to(site).as_posix()}/" for path in heavy)]))


def first_visit(browser, host: Host, path: str) -> tuple[int, int, int]:
    """Return (bytes by the browser, bytes by the host, requests) of one page, opened by a browser that stored nothing."""
    context = browser.new_context(viewport={"width": 360, "height": 740}, service_workers="block")
    page = context.new_page()
    lengths: list[float] = []
    session = context.new_cdp_session(page)
    session.send("Network.enable")
    session.on("Network.loadingFinished", lambda event: lengths.append(event["encodedDataLength"]))
    host.sent.clear()
    page.goto(host.address + path, wait_until="networkidle")
    page.wait_for_timeout(300)
    result = round(sum(lengths)), sum(host.sent.values()), len(host.sent)
    context.close()
    return result


def stored_later(site: Path) -> tuple[int, int]:
    """Return (files, bytes after gzip) that the service worker stores on its own after a first visit."""
    listed = re.search(r"const FILES = (\{.*?\}\});", (site / "service-worker.js").read_text("utf-8"))
    now = json.loads(listed[1])["now"]
    return len(now), sum(weight(site / name) for name in now)


def measured(site: Path) -> Iterator[tuple[str, int, int, int]]:
    """Yield (address, bytes by the browser, bytes by the host, requests) of each chosen page."""
    from playwright.sync_api import sync_playwright

    path = chromium()
    if path is None:
        raise SystemExit("Page weights need Chromium; run tests/browser/need_chromium.")
    with hosted(site) as host, sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=path, args=FLAGS)
        for address in chosen(site):
            yield address, *first_visit(browser, host, address)
        browser.close()


def report(site: Path) -> None:
    """Print the tables for a built site."""
    print(f"{'page':42} {'browser KB':>10} {'host KB':>8} {'requests':>8}   bar {BAR_KB}")
    rows = sorted(measured(site), key=lambda row: -max(row[1:3]))
    for address, by_browser, by_host, requests in rows:
        over = "  OVER" if max(by_browser, by_host) > BAR_KB * 1024 else ""
        print(f"/{address:41} {by_browser / 1024:10.1f} {by_host / 1024:8.1f} {requests:8}{over}")
    print(f"search index {weight(site / 'search' / 'search_index.json') / 1024:.1f} KB gzip, fetched when a reader turns to the search")
    files, size = stored_later(site)
    print(f"service worker: {files} files, {size / 1024:.0f} KB gzip, stored after the page is shown, not with a reader who asks to save data")
    figures = sorted(((weight(path), path) for path in site.rglob("*.svg")), reverse=True)
    for size, path in figures[:4]:
        print(f"{size / 1024:7.1f} KB  {path.relative_to(site).as_posix()}   (bar {SVG_BAR_KB})")


def run() -> None:
    with tempfile.TemporaryDirectory() as made:
        site = Path(made) / "site"
        build_site(ROOT, load, site, epoch="1767225600")
        report(site)
