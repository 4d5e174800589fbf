"""Without a connection: the copy on a disk, and the site once it was visited; a newer build never mixes with an older one.

The service worker's rules are those of the W3C's Service Workers draft; what is checked is what Chromium does with it.
"""

from __future__ import annotations

import hashlib
import re
import shutil
import zipfile
from pathlib import Path

import pytest

from generator.build import ROOT
from generator.sink.kept import with_worker
from tests.audit.host import hosted
from tests.browser.conftest import watched

pytestmark = pytest.mark.browser
_LINK = re.compile(r'<[a-zA-Z][^<>]*?\s(?:href|src|action)="([^"]+)"')


# The copy on a disk


@pytest.fixture(scope="module")
def copy(site, tmp_path_factory) -> Path:
    """The unzipped copy, in a folder whose name no address may hold as it is."""
    [packed] = (site / "offline").glob("*.zip")
    folder = tmp_path_factory.mktemp("a disk, \u00e4\u00f6 #1 50%")
    with zipfile.ZipFile(packed) as made:
        made.extractall(folder)
    assert [path.name for path in folder.iterdir()] == [packed.stem]
    return folder / packed.stem


@pytest.fixture
def disk(contexts, copy):
    """A page for files; anything it asks of a network, and any error, fails the test."""
    page, complaints = watched(contexts(service_workers="allow").new_page(), copy.parent.as_uri())
    yield page
    page.close()
    assert complaints == []


def test_every_address_in_the_copy_is_a_file_or_on_the_web(copy):
    files = {path.relative_to(copy).as_posix() for path in copy.rglob("*") if path.is_file()}
    pages = [name for name in files if name.endswith(".html")]
    assert len(pages) > 500
    lost = []
    for name in pages:
        for address in set(_LINK.findall((copy / name).read_text("utf-8"))):
            if address.startswith(("#", "?", "https://", "http://", "mailto:", "data:")):
                continue
            target = (copy / name).parent / address.split("#")[0].split("?")[0]
            if not target.is_file():
                lost.append(f"{name}: {address}")
    assert lost == []


def test_pages_styles_figures_and_links(disk, copy):
    disk.goto((copy / "index.html").as_uri())
    assert disk.evaluate("[...document.styleSheets].length") >= 3
    disk.locator('article a[href="chemistries/lfp/index.html"]').first.click()
    disk.wait_for_url("**/chemistries/lfp/index.html")
    assert disk.title().startswith("Lithium iron phosphate")
    disk.goto((copy / "curves" / "chen-2020" / "index.html").as_uri())
    picture = disk.locator("article img").first
    picture.scroll_into_view_if_needed()
    assert picture.evaluate("async (image) => { await image.decode(); return image.naturalWidth; }") > 100


def test_search(disk, copy):
    disk.set_viewport_size({"width": 1350, "height": 900})
    disk.goto((copy / "about" / "index.html").as_uri())
    disk.locator(".md-search__input").click()
    disk.keyboard.type("10.8v")
    first = disk.locator("a.md-search-result__link").first
    first.wait_for()
    assert "labels/10.8-v/index.html" in first.get_attribute("href")
    first.click()
    disk.wait_for_url("**/labels/10.8-v/index.html**")


def test_fields_answer_and_lead_on(disk, copy):
    disk.goto((copy / "labels" / "index.html").as_uri())
    disk.locator("#label-form [name=v]").fill("10.8")
    disk.locator("#label-form [name=v]").press("Enter")
    link = disk.locator("#label-answer a").first
    link.click()
    disk.wait_for_url("**/index.html*")
    assert disk.locator("article h1").count() == 1
    disk.goto((copy / "markings" / "index.html").as_uri())
    disk.locator("#marking-form [name=m]").fill("INR18650")
    disk.locator("#marking-form [name=m]").press("Enter")
    disk.locator("#marking-answer", has_text="18650").wait_for()


def test_worksheet_curves_and_citations(disk, copy):
    """The same figures as from a server: tests/browser/test_worksheet.py has their origin."""
    disk.goto((copy / "building" / "worksheet" / "index.html").as_uri() + "?chemistry=nmc&series=10&parallel=4&capacity_ah=2.5&load_kind=a&load=5&ambient_c=25")
    disk.locator("#worksheet-name", has_text="10S4P").wait_for()
    assert disk.locator("[data-n=full_v]").inner_text() == "42.00"
    disk.goto((copy / "curves" / "index.html").as_uri())
    disk.locator("#lay-output li").first.wait_for()
    disk.goto((copy / "chemistries" / "lfp" / "index.html").as_uri())
    disk.locator("a.tag[data-id]:visible").first.click()
    disk.locator("dialog.cite[open] h2").wait_for()


# The site that was visited


@pytest.fixture
def visitor(browser):
    """A page in a browser that keeps nothing yet, and the list of what it should not have done."""
    context = browser.new_context(viewport={"width": 1350, "height": 900})
    yield context.new_page()
    context.close()


READY = "navigator.serviceWorker.controller !== null || new Promise((done) => navigator.serviceWorker.addEventListener('controllerchange', () => done(true)))"


def keep(page) -> None:
    """Let the time go by after which a page has itself kept, and wait until the worker answers."""
    page.clock.run_for(3500)
    page.evaluate("navigator.serviceWorker.ready.then(() => true)")


def cut(host) -> None:
    """Let the server answer nothing more, also on connections that are still open."""
    host.site = None


def test_after_one_visit_it_answers_without_a_server(visitor, site):
    with hosted(site) as host:
        address = host.address
        page, complaints = watched(visitor, address)
        page.clock.install()
        page.goto(address)
        before = sum(host.sent.values())
        keep(page)
        now = sum(host.sent.values()) - before
        cut(host)
    assert 1e6 < now < 8e6, "what a first visit fetches behind the reader's back"
    page.goto(f"{address}chemistries/nimh/")
    assert page.title().startswith("Nickel-metal hydride")
    page.goto(f"{address}labels/?v=10.8&kind=nominal")
    page.locator("#label-answer a").first.wait_for()
    page.goto(f"{address}about/?q=10.8v")
    first = page.locator("a.md-search-result__link").first
    first.wait_for(state="attached")
    assert "/labels/10.8-v/" in first.get_attribute("href")
    assert complaints == []
    page.goto(f"{address}no-such-page/")
    assert page.locator("h1").inner_text() == "Not on this device"


# Two made-up builds

WORDS = ("one", "two")


def made_up_site(word: str) -> dict[str, bytes]:
    """Return a small site in which every file says which build it is of; ``s/x/`` is fetched later, a PDF on demand."""
    page = (
        "<!doctype html><html lang=en><meta charset=utf-8><title>{0}</title><link rel=stylesheet href='/assets/a.css'>"
        "<article><h1>{0}</h1></article><script src='/assets/a.js'></script><script src='/assets/offline.js'></script>"
    ).format(word).encode()
    site = {f"{path}index.html": page for path in ("", "other/", "sources/x/")}
    site |= {"assets/a.js": f"window.word = '{word}';".encode(), "assets/a.css": f"h1::after {{ content: '{word}' }}".encode(), "assets/b.pdf": word.encode()}
    site["search/search_index.json"] = b'{"docs":[]}'
    for name in ("service-worker.js", "assets/offline.js"):
        site[name] = (ROOT / "docs" / name).read_bytes()
    digests = {name: hashlib.sha256(content).hexdigest() for name, content in site.items()}
    return {**site, **with_worker(site, digests), "404.html": b"<!doctype html><title>404</title>"}


@pytest.fixture
def builds(tmp_path) -> dict[str, Path]:
    """Two made-up builds on disk, by the word that all their files say."""
    for word in WORDS:
        for name, content in made_up_site(word).items():
            (tmp_path / word / name).parent.mkdir(parents=True, exist_ok=True)
            (tmp_path / word / name).write_bytes(content)
    return {word: tmp_path / word for word in WORDS}


SAYS = """() => [document.title, document.querySelector("h1").textContent, window.word,
  getComputedStyle(document.querySelector("h1"), "::after").content.replaceAll('"', "")]"""


def test_a_newer_build_takes_the_whole_place_of_the_older(visitor, builds):
    page = visitor
    page.clock.install()
    with hosted(builds["one"]) as host:
        page.goto(host.address)
        keep(page)
        page.goto(f"{host.address}other/")
        assert page.evaluate(SAYS) == ["one"] * 4
        host.site = builds["two"]
        page.goto(f"{host.address}sources/x/")  # was it kept, it says one in all parts; was it not, two
        assert set(page.evaluate(SAYS)) in ({"one"}, {"two"})
        page.goto(f"{host.address}other/")
        assert page.evaluate(SAYS) == ["one"] * 4, "still whole: nothing was taken from the newer build"
        page.clock.run_for(3500)  # the page looks for a newer worker
        page.get_by_text("A newer almanac has arrived").wait_for()
        get = "name => fetch(name).then((answer) => answer.text(), () => 'nothing')"
        assert page.evaluate(get, "/assets/b.pdf") == "nothing", "a page of the older build gets nothing of the newer"
        assert "one" in page.evaluate(get, "/assets/a.js"), "but what the older one kept"
        page.get_by_text("Load this page again").click()
        page.wait_for_function("document.title === 'two'")
        assert page.evaluate(SAYS) == ["two"] * 4
        page.goto(f"{host.address}sources/x/")
        assert page.evaluate(SAYS) == ["two"] * 4
        page.clock.run_for(3500)
        page.wait_for_function("caches.keys().then((names) => names.length === 2)")  # one build, and the list of pages
        cut(host)
        page.goto(f"{host.address}other/")
        assert page.evaluate(SAYS) == ["two"] * 4, "and without the server"


def test_a_newer_build_that_breaks_off_changes_nothing(visitor, builds):
    """One file of the newer build cannot be had: its worker is not installed and the older build goes on answering."""
    page = visitor
    page.clock.install()
    (builds["two"] / "assets" / "a.css").write_bytes(b"cut off")
    with hosted(builds["one"]) as host:
        page.goto(host.address)
        keep(page)
        page.goto(f"{host.address}other/")
        host.site = builds["two"]
        failed = "navigator.serviceWorker.ready.then((r) => r.update()).then((r) => new Promise((done) => {const w = r.installing; if (!w) done('none'); else w.addEventListener('statechange', () => done(w.state)); }))"
        assert page.evaluate(failed) == "redundant"
        page.goto(host.address)
        assert page.evaluate(SAYS) == ["one"] * 4


def test_a_site_without_a_worker_removes_what_was_kept(visitor, builds):
    page = visitor
    page.clock.install()
    for name in ("service-worker.js", "assets/offline.js"):  # as an author's preview serves them: not filled in
        shutil.copy(ROOT / "docs" / name, builds["two"] / name)
    with hosted(builds["one"]) as host:
        page.goto(host.address)
        keep(page)
        page.goto(f"{host.address}other/")
        host.site = builds["two"]
        page.evaluate("navigator.serviceWorker.ready.then((r) => r.update()).then(() => true)")
        page.wait_for_function("document.title === 'two'")
        assert page.evaluate("caches.keys()") == []
        assert page.evaluate("navigator.serviceWorker.getRegistrations().then((all) => all.length)") == 0


def test_who_counts_bytes_is_left_alone(visitor, builds):
    visitor.add_init_script("Object.defineProperty(navigator, 'connection', {value: {saveData: true}})")
    visitor.clock.install()
    with hosted(builds["one"]) as host:
        visitor.goto(host.address)
        visitor.clock.run_for(10000)
        visitor.wait_for_timeout(200)
        assert "/service-worker.js" not in host.sent
