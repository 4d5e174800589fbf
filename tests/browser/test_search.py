"""The site's own search finds what people type: the right page among the first three."""

from __future__ import annotations

import re

import pytest

from tests.browser.conftest import DESK

pytestmark = pytest.mark.browser

# What is typed, and the pages any of which is right. An anchor on find/ is right only when that section answers.
QUERIES = [
    ("10.8v", {"labels/10.8-v/"}),
    ("10.8 V", {"labels/10.8-v/"}),
    ("11.1", {"labels/11.1-v/"}),
    ("12.6V", {"labels/12.6-v/"}),
    ("12v", {"labels/12-v/"}),
    ("3.6 or 3.7", {"nominal-voltage/", "find/#three-six"}),
    ("LiFePO4", {"chemistries/lfp/"}),
    ("lifepo4", {"chemistries/lfp/"}),
    ("24v lifepo4", {"labels/24-v/"}),
    ("INR18650", {"markings/", "sizes/", "chemistries/nmc/"}),
    ("IMR", {"markings/", "chemistries/lmo/", "chemistries/lmo-nmc/"}),
    ("AA", {"sizes/"}),
    ("LR6", {"sizes/", "markings/", "chemistries/alkaline/"}),
    ("CR2032", {"sizes/", "chemistries/lithium-manganese-dioxide/"}),
    ("18650 max charge", {"find/#size-18650"}),
    ("storage voltage", {"find/#storage-voltage"}),
    ("bms cutoff", {"find/#overdischarge-detection-voltage"}),
    ("12v pack 3 cells", {"labels/12-v/"}),
    ("20v max", {"labels/20-v/", "find/#max"}),
    ("nimh cutoff", {"chemistries/nimh/", "find/#nimh-discharge-cutoff-voltage"}),
    ("float voltage", {"chemistries/lead-acid-agm/", "find/#float-voltage"}),
    ("charge temperature", {"limits/", "find/#charge-temperature"}),
    ("can I charge at 0 degrees", {"find/#charge-cold"}),
    ("fully charged voltage", {"find/#charge-voltage-max"}),
    ("delta peak", {"find/#negative-delta-v"}),
]


RESULTS = """items => items.slice(0, 3).map(item => [...item.querySelectorAll("a.md-search-result__link")].map(a => {
  const url = new URL(a.href);
  return url.origin + url.pathname + url.hash;
}))"""


@pytest.fixture(scope="module")
def desk(contexts, address):
    """A desk-sized page whose search has its index; making the index ready takes a second, so all queries share it."""
    page = contexts(viewport=DESK).new_page()
    page.goto(f"{address}about/?q=almanac")
    page.locator(".md-search-result__item a").first.wait_for(state="attached")
    yield page
    page.close()


def ask(page, query: str) -> None:
    """Put a query into the field; the theme reads it when a key is let go."""
    page.locator("input.md-search__input").fill(query)
    page.keyboard.press("End")


def first_three(page, address: str) -> list[str]:
    """Return the addresses (page, then sections) of the first three results."""
    page.locator(".md-search-result__item a").first.wait_for(state="attached")
    found = page.eval_on_selector_all(".md-search-result__item", RESULTS)
    return [link.removeprefix(address) for links in found for link in links]


@pytest.mark.parametrize("query, right", QUERIES, ids=[q for q, _ in QUERIES])
def test_search_finds_the_right_page(desk, address, query, right):
    ask(desk, "")
    desk.locator(".md-search-result__item").first.wait_for(state="detached")  # the last query's answers are gone
    ask(desk, query)
    shown = first_three(desk, address)
    assert right & set(shown), shown


def test_a_link_with_a_query_answers_it(page, address):
    page.set_viewport_size(DESK)
    page.goto(f"{address}about/?q=12v+pack+3+cells")
    assert "labels/12-v/" in first_three(page, address)


def test_no_page_starts_the_theme_s_script_by_itself(site):
    """It would lay out every page anew at load; it stands on each as an address for search-on-demand.js."""
    pages = sorted(site.rglob("*.html"))
    assert len(pages) > 800
    for path in pages:
        text = path.read_text("utf-8")
        assert re.search(r'<script[^>]* src="[^"]*javascripts/bundle', text) is None, path
        (address,) = re.findall(r'<script type="text/plain" id="theme-script" data-address="([^"]+)">', text)
        found = site / address.removeprefix("/") if address.startswith("/") else path.parent / address
        assert found.resolve().is_file(), path
