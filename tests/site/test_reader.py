"""A held-out reader goes over the built site: links, anchors, pictures, tables, titles, policy, and one way of writing."""

from __future__ import annotations

import re
from pathlib import Path

import html5lib
import pytest

from tests.site.reading import Page, file_of, read_page


@pytest.fixture(scope="module")
def pages(site: Path) -> dict[str, Page]:
    return {path.relative_to(site).as_posix(): read_page(path, site) for path in sorted(site.rglob("*.html"))}


def complain(found: list[str]) -> None:
    assert not found, f"{len(found)} found:\n" + "\n".join(found[:25])


def test_every_link_and_anchor_leads_somewhere(pages, site):
    lost = []
    ids = {path: set(page.ids) for path, page in pages.items()}
    files = {path.relative_to(site).as_posix() for path in site.rglob("*") if path.is_file()}
    for path, page in pages.items():
        for where, address in set(page.links):
            target, anchor = file_of(address, path)
            if target is None or path == "404.html" and address.startswith("/"):
                continue
            if target not in files or (anchor and target in ids and anchor not in ids[target]):
                lost.append(f"{path}: {where} {address}")
    complain(lost)


def test_no_page_is_an_orphan(pages):
    reached, front = {"index.html"}, ["index.html"]
    while front:
        page = pages[front.pop()]
        for where, address in page.links:
            target = file_of(address, page.path)[0]
            if where == "a.href" and target in pages and target not in reached:
                reached.add(target)
                front.append(target)
    complain(sorted(set(pages) - reached - {"404.html"}))


def test_every_page_has_one_title_of_its_own_and_a_description(pages):
    wrong, titles = [], {}
    for path, page in pages.items():
        if not page.title.strip() or len(page.meta.get("description", "")) < 25 or page.headings.count(1) != 1:
            wrong.append(f"{path}: title {page.title!r}, description {page.meta.get('description')!r}, {page.headings.count(1)} h1")
        titles.setdefault(page.title, []).append(path)
    complain(wrong + [f"one title for {same}" for same in titles.values() if len(same) > 1])


def test_headings_never_skip_a_level(pages):
    complain([f"{path}: h{a} then h{b}" for path, page in pages.items() for a, b in zip(page.headings, page.headings[1:], strict=False) if b > a + 1])


def test_every_picture_says_in_words_and_numbers_what_it_shows(pages):
    wrong = []
    for path, page in pages.items():
        for text in page.pictures:
            drawn_by_script = "Choose cells above" in text  # the overlay is empty until a reader chooses
            if not drawn_by_script and (not re.search(r"\d", text) or len(text.split()) < 4):
                wrong.append(f"{path}: {text[:80]!r}")
    assert sum(len(page.pictures) for page in pages.values()) > 50
    complain(wrong)


def test_every_table_has_a_caption(pages):
    complain([f"{path}: table {k + 1}" for path, page in pages.items() for k, caption in enumerate(page.tables) if not caption.strip()])


def test_ids_are_unique(pages):
    complain([f"{path}: {id}" for path, page in pages.items() for id in set(page.ids) if page.ids.count(id) > 1] if any(len(set(p.ids)) != len(p.ids) for p in pages.values()) else [])


def test_the_policy_is_on_every_page_and_nothing_inline_needs_it_loosened(pages):
    wrong = []
    for path, page in pages.items():
        policy = page.meta.get("content-security-policy", "")
        if "default-src 'none'" not in policy or "unsafe" in policy or "*" in policy:
            wrong.append(f"{path}: policy {policy!r}")
        wrong += [f"{path}: {tag} {name}" for tag, name in page.attributes if name == "style" or name.startswith("on")]
    complain(wrong)


def test_nothing_is_loaded_from_elsewhere(pages, site):
    loads = ("script.src", "img.src", "iframe.src", "source.src", "video.src", "object.data", "form.action")
    wrong = [f"{path}: {where} {address}" for path, page in pages.items() for where, address in page.links if where in loads and file_of(address, path)[0] is None]
    for sheet in (site / "assets").glob("*.css"):
        wrong += [f"{sheet.name}: {found}" for found in re.findall(r"(?:url\(|@import)\s*['\"]?(?:https?:)?//[^)\s]+", sheet.read_text("utf-8"))]
    complain(wrong)


def test_the_parser_of_browsers_finds_no_error(pages, site):
    """html5lib follows the parsing algorithm of the HTML standard. Source pages are all of one template: every twelfth."""
    chosen = [path for path in pages if not path.startswith("sources/")] + [path for path in pages if path.startswith("sources/")][::12]
    wrong = []
    for path in chosen:
        parser = html5lib.HTMLParser(namespaceHTMLElements=False)
        parser.parse((site / path).read_text("utf-8"))
        wrong += [f"{path}: {code} at {position}" for position, code, _ in parser.errors]
    complain(wrong)


# One way of writing: British spelling, but sulfur as IUPAC has it (Nomenclature of Inorganic Chemistry 2005); a true minus
# and plus-minus; degrees with their sign; ranges with "to"; dates as ISO 8601; no commas among digits. The signs and the
# spaces are those of the SI Brochure (9th edition, 5.4).
STYLE = {
    "cut-off, not cutoff": r"(?i)\bcutoffs?\b",
    "data sheet, not datasheet": r"(?i)\bdatasheets?\b",
    "British spelling": r"(?i)\b(?:colors?|(?<!cobalt )aluminum|centers?|fibers?|gray|behaviors?|label(?:ed|ing)|model(?:ed|ing)|neighbors?|vapor|catalog|aging|characteri[z]\w+|stabili[z]\w+)\b",
    "sulfur, not sulphur": r"(?i)\bsulph",
    "\u00b1, not +-": r"\+/?-(?= ?\d)",
    "\u2212 before a number, not a hyphen": r"(?<![^\s(\[=])-\d",
    "\u00b0C and \u00b0F, not degC": r"\bdeg ?[CF]\b",
    "ISO dates": r"\b\d{1,2}/\d{1,2}/\d{4}\b|\b(?:January|February|March|April|May|June|July|August|September|October|November|December) \d{1,2}, \d{4}\b",
    "no comma among digits": r"(?<![\d,])\d{1,3}(?:,\d{3})+(?![\d,])",
    "to between the ends of a range": r"\d ?[\u2013\u2014] ?\d|(?<![\w./-])\d+(?:\.\d+)? ?- ?\d+(?:\.\d+)? (?:V|A|Ah|mAh|mm|g|kg|%|\u00b0C|C|cycles|months|years)\b",
}
# Words people type are listed as they type them; frozen editions quote what they said.
_AS_TYPED = ("find/", "changes/", "404.html")


def test_prose_is_written_in_one_way(pages, library):
    titles = {" ".join(source.title.split()) for source in library.sources.values()}
    wrong = []
    for path, page in pages.items():
        if path.startswith(_AS_TYPED):
            continue
        for block in page.prose:
            if block in titles:
                continue
            wrong += [f"{path}: {rule}: ...{block[max(0, m.start() - 30):m.end() + 30]}..." for rule, pattern in STYLE.items() for m in re.finditer(pattern, block)]
    assert sum(len(page.prose) for page in pages.values()) > 20_000  # it did read
    complain(sorted(set(wrong)))


def test_each_rule_of_writing_can_fail():
    bad = ("cutoff", "a datasheet", "color", "sulphuric", "+-5", "at -5", "5 degC", "3/4/2026", "12,500", "5-10 V")
    assert [rule for (rule, pattern), text in zip(STYLE.items(), bad, strict=True) if not re.search(pattern, text)] == []


def test_a_temperature_in_a_caution_stands_in_both_scales(pages):
    """Read on two sides of an ocean: where a sentence forbids, Fahrenheit stands beside Celsius."""
    forbids = re.compile(r"(?i)\b(?:never|do not|must not|no charging)\b[^.;:]*?\d\s\u00b0C")
    found = [(path, block) for path, page in pages.items() for block in page.prose if forbids.search(block)]
    assert len(found) > 20
    complain([f"{path}: {block[:120]}" for path, block in found if "\u00b0F" not in block])
