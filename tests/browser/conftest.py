"""What makes many pages quick to open: one warm browser context for all, and a server that answers from memory.

A context of its own costs a test half a second, nearly all of it spent fetching and compiling again what every page
shares. The service worker is off: it has tests of its own (test_offline.py), and elsewhere it would fetch the whole
almanac behind a test's back three seconds after a page was opened.
"""

from __future__ import annotations

import pytest

from tests.audit.host import hosted
from tests.chromium import FLAGS, chromium

PHONE = {"width": 360, "height": 740}
DESK = {"width": 1350, "height": 900}


@pytest.fixture(scope="session")
def address(site):
    """Address of the served site, ending in '/'; compressed and kept alive, with the headers a host is asked to send."""
    with hosted(site) as host:
        yield host.address


@pytest.fixture(scope="session")
def browser():
    """Debian's Chromium; the test fails, not skips, where it is missing: `make test` installs it."""
    from playwright.sync_api import sync_playwright

    path = chromium()
    assert path, "Chromium is missing; run tests/browser/need_chromium"
    with sync_playwright() as playwright:
        started = playwright.chromium.launch(executable_path=path, args=FLAGS)
        yield started
        started.close()


@pytest.fixture(scope="session")
def contexts(browser):
    """Give the browser context that has these options, made once; every page of it shares what is stored and cached."""
    made = {}

    def context(**options):
        key = repr(sorted(options.items()))
        if key not in made:
            made[key] = browser.new_context(**{"viewport": PHONE, "service_workers": "block", **options})
        return made[key]

    yield context
    for opened in made.values():
        opened.close()


@pytest.fixture
def opened(contexts, address):
    """Open a fresh page in the context with these options; it is closed, and what it stored is forgotten, after the test."""
    pages = []

    def open_page(**options):
        pages.append(contexts(**options).new_page())
        return pages[-1]

    yield open_page
    for page in pages:
        forget(page, address)
        page.close()


def forget(page, address) -> None:
    """Empty what the page's origin stored, so that the next test starts as a first visit does."""
    if page.url.startswith(address):
        page.context.clear_permissions()
        session = page.context.new_cdp_session(page)
        session.send("Storage.clearDataForOrigin", {"origin": address.rstrip("/"), "storageTypes": "local_storage,indexeddb,cache_storage"})
        session.detach()


def watched(page, allowed: str):
    """Return the page and the list of what it should not have done: requests elsewhere, script errors, policy violations."""
    complaints: list[str] = []
    page.on("request", lambda r: complaints.append(f"request to {r.url}") if not r.url.startswith((allowed, "data:", "blob:", "about:")) else None)
    page.on("pageerror", lambda error: complaints.append(f"script error: {error}"))
    page.on("console", lambda m: complaints.append(f"console: {m.text}") if m.type == "error" else None)
    return page, complaints


@pytest.fixture
def page(opened, address):
    """A phone-sized page on which any request to another origin, script error or policy violation fails the test."""
    page, complaints = watched(opened(), address)
    yield page
    assert not complaints, complaints


@pytest.fixture
def without_scripts(opened):
    """A phone-sized page on which no script runs."""
    return opened(java_script_enabled=False)
