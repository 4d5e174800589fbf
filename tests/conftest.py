"""Fixtures every test may use: the real library, the built site, a server for it and a browser."""

from __future__ import annotations

import functools
import os
import shutil
import threading
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path

import pytest

from generator.build import DATA_DIR, ROOT, load
from generator.model.library import Library
from generator.sink.site import build_site
from generator.tree import Tree, read_tree

CHROMIUM_FLAGS = (
    "--headless --no-sandbox --disable-gpu --disable-quic --no-first-run "
    "--disable-background-networking --disable-component-update --disable-sync"
).split()


@pytest.fixture(scope="session")
def tree() -> Tree:
    """The real data, read."""
    return read_tree(DATA_DIR)


@pytest.fixture(scope="session")
def library() -> Library:
    """The real library."""
    return load()


@pytest.fixture(scope="session")
def site(library: Library, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The real site, built once a test run; with ALMANAC_SITE set, the site that was built there before."""
    if prebuilt := os.environ.get("ALMANAC_SITE"):
        assert (Path(prebuilt) / "index.html").is_file(), f"ALMANAC_SITE: there is no site in {prebuilt}"
        return Path(prebuilt)
    out = tmp_path_factory.mktemp("site") / "site"
    build_site(ROOT, lambda: library, out, epoch="1767225600")
    return out


class _QuietHandler(SimpleHTTPRequestHandler):
    def log_message(self, *_: object) -> None:
        pass

    extensions_map = {**SimpleHTTPRequestHandler.extensions_map, ".js": "text/javascript", ".svg": "image/svg+xml"}


class _Server(ThreadingHTTPServer):
    daemon_threads = True

    def handle_error(self, request, client_address) -> None:
        """A browser that closes a page early is not an error of ours."""


@pytest.fixture(scope="session")
def address(site: Path):
    """Address of the served site, ending in '/'."""
    server = _Server(("127.0.0.1", 0), functools.partial(_QuietHandler, directory=str(site)))
    threading.Thread(target=server.serve_forever, daemon=True).start()
    yield f"http://127.0.0.1:{server.server_port}/"
    server.shutdown()
    server.server_close()


@pytest.fixture(scope="session")
def browser():
    """Debian's Chromium, headless; the test fails, not skips, where it is missing: `make test` installs it."""
    from playwright.sync_api import sync_playwright

    names = (os.environ.get("CHROMIUM"), "chromium", "chromium-browser", "google-chrome")
    path = next((found for name in names if name and (found := shutil.which(name))), None)
    assert path, "Chromium is missing; run tests/browser/need_chromium"
    with sync_playwright() as playwright:
        chromium = playwright.chromium.launch(executable_path=path, args=CHROMIUM_FLAGS)
        yield chromium
        chromium.close()


@pytest.fixture
def page(browser, address):
    """A fresh phone-sized page on which any request to another origin, script error or policy violation fails the test."""
    context = browser.new_context(viewport={"width": 360, "height": 740})
    opened = context.new_page()
    complaints: list[str] = []
    opened.on("request", lambda r: complaints.append(f"request to {r.url}") if not r.url.startswith((address, "data:", "blob:")) else None)
    opened.on("pageerror", lambda error: complaints.append(f"script error: {error}"))
    opened.on("console", lambda m: complaints.append(f"console: {m.text}") if m.type == "error" else None)
    yield opened
    context.close()
    assert not complaints, complaints


