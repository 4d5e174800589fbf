"""The copy for a disk and the list of what a browser keeps, as pure functions; real browsers try both in tests/browser."""

from __future__ import annotations

import gzip
import hashlib
import io
import json
import zipfile

import pytest

from generator.sink.kept import when_kept, with_worker
from generator.sink.offline import copy_for_disk, for_disk, page_with_size
from generator.sink.plain_scripts import is_module, plain_script, with_plain_scripts

CHOSEN = frozenset({"index.html", "about/index.html", "a/b/index.html", "a/c d/index.html", "assets/x.css", "assets/\u00e4.svg"})


@pytest.mark.parametrize(("address", "here", "wanted"), [
    ("", "", ""), ("./", "about", "../about/index.html"), ("../", "about", "../index.html"), ("..", "about", "../index.html"), (".", "", "index.html"),
    ("about/", "", "about/index.html"), ("about", "", "about/index.html"), ("../../about/", "a/b", "../../about/index.html"),
    ("../../a/b/?x=1", "a/b", "../../a/b/index.html?x=1"), ("../c%20d/", "a/b", "../../a/c%20d/index.html"), ("../../assets/%C3%A4.svg", "a/b", "../../assets/%C3%A4.svg"),
    ("../assets/x.css", "about", "../assets/x.css"), ("../data/v1/values.csv", "about", "https://cell-almanac.org/data/v1/values.csv"),
    ("/404/", "about", "https://cell-almanac.org/404/"), ("?v=10.8", "about", "?v=10.8"),
    ("https://example.org/about/", "about", "https://example.org/about/"), ("mailto:a@x.invalid", "", "mailto:a@x.invalid"), ("//x.invalid/", "", "//x.invalid/"),
])
def test_addresses(address, here, wanted):
    """By RFC 3986, section 5.2: what a browser reaches from the page in that folder."""
    if address:
        assert for_disk(address, here, CHOSEN) == wanted


MODULE = b'''// says hello
import { a, b } from "./other.js";
const HERE = new URL("../", import.meta.url);
export function shown() { return a + b; }
export const N = 3;
export async function later() {}
'''


def test_a_module_becomes_a_plain_script():
    made = plain_script("one.js", MODULE).decode()
    assert 'const { a, b } = onDisk.modules["other.js"];' in made and 'onDisk.modules["one.js"] = { shown, N, later };' in made
    assert "import" not in made and "export" not in made
    assert is_module(MODULE) and not is_module(b"// import it\n(() => {})();")


@pytest.mark.parametrize("line", ['import * as all from "./a.js";', 'import { a as b } from "./a.js";', "export default 1;", "export { a };", 'const a = await import("./a.js");', 'import "./a.js";'])
def test_a_form_of_module_not_known_is_refused(line):
    with pytest.raises(ValueError, match="one.js"):
        plain_script("one.js", f"{line}\n".encode())


def test_what_a_module_imports_is_loaded_before_it():
    modules = {"one.js": b'import { a } from "./two.js";\n', "two.js": b'import { b } from "./three.js";\nexport const a = b;\n', "three.js": b"export const b = 1;\n"}
    html = '<script type="module" src="../assets/one.js"></script>'
    assert with_plain_scripts(html, modules) == "".join(f'<script src="../assets/{n}.js" defer></script>' for n in ("three", "two", "one"))


def small_site() -> dict[str, bytes]:
    return {
        "index.html": b'<head></head><a href="about/">a</a> text href="about/"', "about/index.html": b'<head></head><img src="../assets/x.svg">',
        "assets/x.svg": b"<svg/>", "data/v1/labels.json": b'{"a":1}', "data/v1/values.csv": b"a", "404.html": b"no",
        "data/index.html": b'<head></head><span id="copy-size"></span>', "service-worker.js": b'const VERSION = "";\nconst FILES = { now: {}, later: {}, visited: {} };',
        "assets/offline.js": b'const VERSION = "";', "search/search_index.json": b'{"docs":[{"location":"about/#x"}]}',
    }


def digests(site: dict[str, bytes]) -> dict[str, str]:
    return {name: hashlib.sha256(content).hexdigest() for name, content in site.items()}


def test_the_copy_holds_what_readers_need_and_is_the_same_bytes():
    packed = copy_for_disk(small_site(), "almanac")
    assert packed == copy_for_disk(dict(reversed(small_site().items())), "almanac")
    with zipfile.ZipFile(io.BytesIO(packed)) as copy:
        files = {name.removeprefix("almanac/"): copy.read(name) for name in copy.namelist()}
    assert set(files) == {"index.html", "about/index.html", "data/index.html", "assets/x.svg", "assets/offline.js", "data/v1/labels.json.js", "search/search_index.js", "READ-ME.txt"}
    assert b'<a href="about/index.html">a</a> text href="about/"' in files["index.html"], "a text that looks like a link is left alone"
    assert files["data/v1/labels.json.js"] == b'onDisk({"a":1});\n'
    assert json.loads(files["search/search_index.js"].partition(b"= ")[2])["docs"][0]["location"] == "about/index.html#x"


def test_the_size_of_the_copy_is_stated_in_megabytes():
    [page] = page_with_size(small_site(), b"x" * 7_426_999).values()
    assert b" (7.4 MB)</span>" in page
    with pytest.raises(ValueError, match="once"):
        page_with_size({"data/index.html": b""}, b"")


def test_another_build_is_another_version():
    site = small_site()
    first = with_worker(site, digests(site))
    site["data/v1/values.csv"] = b"b"
    second = with_worker(site, digests(site))
    assert first != second and b'const VERSION = "";' not in first["service-worker.js"] + first["assets/offline.js"]
    with pytest.raises(ValueError, match="once"):
        with_worker({**site, "service-worker.js": b""}, digests(site))


def test_what_a_browser_keeps_when():
    assert {name: when_kept(name) for name in ("index.html", "sources/x/index.html", "assets/a.pdf", "offline/a.zip", "data/v1/labels.json", "data/v1/citations/lfp.json", "data/v1/values.csv", "service-worker.js", "404.html")} == {
        "index.html": "now", "sources/x/index.html": "later", "assets/a.pdf": "visited", "offline/a.zip": None, "data/v1/labels.json": "now",
        "data/v1/citations/lfp.json": "later", "data/v1/values.csv": None, "service-worker.js": None, "404.html": None}


def test_a_first_visit_fetches_no_more_than_the_data_page_says(site):
    """At most the size of the copy, compressed as hosts do; eight megabytes is the most a phone should be asked for."""
    [copy] = (site / "offline").glob("*.zip")
    names = (path.relative_to(site).as_posix() for path in site.rglob("*") if path.is_file())
    fetched = sum(len(gzip.compress((site / name).read_bytes(), 6)) for name in names if when_kept(name) in ("now", "later"))
    assert fetched < min(copy.stat().st_size, 8_000_000)
    assert f"({copy.stat().st_size / 1e6:.1f} MB)" in (site / "data" / "index.html").read_text("utf-8")
