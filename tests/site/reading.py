"""What a held-out reader takes from a built page: its links, ids, titles, pictures, tables and prose."""

from __future__ import annotations

from dataclasses import dataclass, field
from html.parser import HTMLParser
from pathlib import Path
from urllib.parse import unquote, urljoin, urlsplit

VOID = frozenset("area base br col embed hr img input link meta source track wbr".split())
QUIET = frozenset({"script", "style", "template", "code", "pre", "textarea"})
QUOTED = frozenset({"tag", "locator", "where", "quoted"})
BLOCKS = frozenset("p li td th dt dd h1 h2 h3 h4 caption figcaption div section article summary option label tr ul ol dl table".split())


@dataclass
class Page:
    """One built page; ``prose`` is the visible text of its article, one string a block.

    Left out of prose: code, and what quotes a publication (source tags, titles, places within it), known by class.
    """

    path: str
    ids: list[str] = field(default_factory=list)
    links: list[tuple[str, str]] = field(default_factory=list)  # (tag.attribute, address)
    attributes: list[tuple[str, str]] = field(default_factory=list)  # (tag, attribute) of every element
    meta: dict[str, str] = field(default_factory=dict)
    title: str = ""
    headings: list[int] = field(default_factory=list)
    pictures: list[str] = field(default_factory=list)  # the text in place of each img and each svg with role img
    tables: list[str] = field(default_factory=list)  # the caption of each table, "" for none
    prose: list[str] = field(default_factory=list)


class _Reader(HTMLParser):
    def __init__(self, page: Page) -> None:
        super().__init__(convert_charrefs=True)
        self.page, self.stack, self.quoted, self.text = page, [], [], []

    def handle_starttag(self, tag: str, attrs: list) -> None:
        page, given = self.page, {name: value or "" for name, value in attrs}
        page.attributes += [(tag, name) for name in given]
        if "id" in given:
            page.ids.append(given["id"])
        page.links += [(f"{tag}.{name}", given[name]) for name in ("href", "src", "action", "poster", "data") if name in given]
        if tag == "meta":
            page.meta[given.get("name") or given.get("property") or given.get("http-equiv", "").lower()] = given.get("content", "")
        if tag in {"h1", "h2", "h3", "h4"}:
            page.headings.append(int(tag[1]))
        if tag == "img":
            page.pictures.append(given.get("alt", "(none)"))
        if tag == "svg" and given.get("role") == "img":
            page.pictures.append("")
        if tag == "table":
            page.tables.append("")
        if tag in BLOCKS:
            self._flush()
        if tag not in VOID:
            self.stack.append(tag)
            self.quoted.append(bool(QUOTED & set(given.get("class", "").split())))

    def handle_startendtag(self, tag: str, attrs: list) -> None:
        self.handle_starttag(tag, attrs)
        if tag not in VOID:
            self.stack.pop()
            self.quoted.pop()

    def handle_endtag(self, tag: str) -> None:
        if tag in BLOCKS:
            self._flush()
        if tag in self.stack:
            while self.stack.pop() != tag:
                self.quoted.pop()
            self.quoted.pop()

    def handle_data(self, data: str) -> None:
        inside = self.stack
        if "svg" in inside and inside[-1] in {"title", "desc"} and self.page.pictures:
            self.page.pictures[-1] += f" {data}"
        elif "title" in inside and "svg" not in inside:
            self.page.title += data
        elif "caption" in inside:
            self.page.tables[-1] += data
        if "article" in inside and not QUIET & set(inside) and not any(self.quoted):
            self.text.append(data)

    def _flush(self) -> None:
        text = " ".join("".join(self.text).split())
        self.text.clear()
        if text:
            self.page.prose.append(text)


def read_page(path: Path, site: Path) -> Page:
    """Return what the reader takes from one file of the site."""
    page = Page(path.relative_to(site).as_posix())
    _Reader(page).feed(path.read_text("utf-8"))
    return page


def file_of(address: str, page: str) -> tuple[str | None, str]:
    """Return (file within the site, anchor) of a link on a page; the file is None for another origin or scheme."""
    given = urlsplit(address)
    if given.scheme or given.netloc:
        return None, ""
    path = unquote(urlsplit(urljoin(f"http://site/{page}", address)).path).lstrip("/")
    if not path or path.endswith("/"):
        path += "index.html"
    return path, unquote(given.fragment)
