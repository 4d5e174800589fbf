"""From a source tag to a copied citation, in a real browser: two taps, by keyboard, without a clipboard, without scripts."""

from __future__ import annotations

import pytest

from generator.cite.styles import STYLES, cite

pytestmark = pytest.mark.browser

PAGE = "chemistries/lfp/"
FIGURE = "lfp.charge-voltage-max.standard"


@pytest.fixture
def at_lfp(page, address):
    page.context.grant_permissions(["clipboard-read", "clipboard-write"], origin=address.rstrip("/"))
    page.goto(address + PAGE)
    return page


def tag(page, id=FIGURE):
    return page.locator(f'a.tag[data-id="{id}"]:visible').first


def copied(page) -> str:
    return page.evaluate("navigator.clipboard.readText()")


def test_two_taps_copy_a_citation(at_lfp, library):
    tag(at_lfp).click()
    at_lfp.get_by_role("button", name="Plain text").click()
    at_lfp.get_by_role("status").get_by_text("Copied as Plain text.").wait_for()
    assert copied(at_lfp) == cite(library, FIGURE, "plain")
    assert copied(at_lfp).endswith("https://cell-almanac.org/chemistries/lfp/#charge-voltage-max.standard")


def test_the_dialog_says_who_where_and_how_well_known(at_lfp, library):
    stated = library.chemistries["lfp"].figure("charge-voltage-max")
    value = next(v for v in library.values() if v.id == stated.value_ids[0])
    tag(at_lfp).click()
    shown = at_lfp.locator("dialog[open]").inner_text()
    assert f"{stated.typical:.2f} V" in shown.replace("\u00a0", " ").replace("\u202f", " ")
    assert library.sources[value.source].title in shown and value.locator in shown and "Grade: " in shown
    assert stated.quantity.caution in shown


def test_every_style_is_the_command_lines(at_lfp, library):
    """The script only joins: for a stated figure, a value and a remark each style equals what Python words."""
    subject = library.chemistries["lfp"]
    ids = [FIGURE, "lfp.charge-temperature.standard", subject.values[3].id, subject.remarks[0].id]
    for id in ids:
        at_lfp.evaluate("id => document.querySelector(`a.tag[data-id='${id}']`).click()", id)
        at_lfp.locator("dialog[open]").wait_for()
        for style in STYLES.values():
            at_lfp.get_by_role("button", name=style.name, exact=True).click()
            at_lfp.get_by_role("status").get_by_text(f"Copied as {style.name}.").wait_for()
            assert copied(at_lfp) == cite(library, id, style.id), (id, style.id)
        at_lfp.keyboard.press("Escape")


def test_by_keyboard_alone(at_lfp, library):
    tag(at_lfp).focus()
    at_lfp.keyboard.press("Enter")
    at_lfp.locator("dialog[open]").wait_for()
    # A screen reader is put on the heading, which names the dialog.
    assert at_lfp.evaluate("document.activeElement.id") == "cite-heading"
    heading = at_lfp.locator("#cite-heading").inner_text()
    assert "maximum charge voltage" in heading
    assert at_lfp.get_by_role("dialog", name=heading).count() == 1
    reached = set()
    for _ in range(40):
        at_lfp.keyboard.press("Tab")
        assert at_lfp.evaluate("!document.activeElement || document.activeElement === document.body || !!document.activeElement.closest('dialog')")
        reached.add(at_lfp.evaluate("document.activeElement.textContent"))
    assert {style.name for style in STYLES.values()} | {"Close"} <= reached
    at_lfp.get_by_role("button", name="Link").focus()
    at_lfp.keyboard.press("Enter")
    at_lfp.get_by_role("status").get_by_text("Copied as Link.").wait_for()
    assert copied(at_lfp) == cite(library, FIGURE, "link")
    at_lfp.keyboard.press("Escape")
    assert at_lfp.locator("dialog[open]").count() == 0
    assert at_lfp.evaluate("document.activeElement.dataset.id") == FIGURE


def test_result_is_announced(at_lfp):
    tag(at_lfp).click()
    assert at_lfp.get_by_role("status").count() >= 1
    assert at_lfp.locator("dialog [role=group]").get_attribute("aria-label") == "Copy this citation as"


def test_other_values_are_a_tap_away(at_lfp):
    tag(at_lfp).click()
    before = at_lfp.locator("#cite-heading").inner_text(), at_lfp.locator(".cite-figure").inner_text()
    at_lfp.get_by_text("Other values").click()
    other = at_lfp.locator(".cite-other").first
    figure = other.inner_text().split(",")[0]
    other.click()
    assert at_lfp.locator(".cite-figure").inner_text() == figure
    assert (at_lfp.locator("#cite-heading").inner_text(), figure) != (before[0], "")


def test_without_a_clipboard_the_text_is_shown_selected(browser, address, library):
    context = browser.new_context(viewport={"width": 360, "height": 740})
    page = context.new_page()
    page.add_init_script("Object.defineProperty(navigator, 'clipboard', {value: undefined})")
    page.goto(address + PAGE)
    tag(page).click()
    page.get_by_role("button", name="BBCode").click()
    page.locator("textarea:focus").wait_for()
    selected = page.evaluate("(t => t.value.slice(t.selectionStart, t.selectionEnd))(document.activeElement)")
    assert selected == cite(library, FIGURE, "bbcode")
    assert "selected below" in page.get_by_role("status").inner_text() or "selected" in page.get_by_role("status").inner_text()
    context.close()


def test_without_scripts_a_tag_leads_to_the_evidence(browser, address):
    context = browser.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto(address + PAGE)
    page.locator(f'a.tag[data-id="{FIGURE}"]').first.click()
    assert page.url.endswith("#charge-voltage-max.standard")
    context.close()


def test_without_the_data_a_tag_is_still_a_link(browser, address):
    context = browser.new_context()
    page = context.new_page()
    page.route("**/data/v1/citations/*.json", lambda route: route.abort())
    page.goto(address + PAGE)
    tag(page).click()
    page.wait_for_url("**#charge-voltage-max.standard")
    assert page.locator("dialog[open]").count() == 0
    context.close()


def test_a_modified_click_is_the_browsers_own(at_lfp):
    with at_lfp.context.expect_page() as opened:
        tag(at_lfp).click(modifiers=["ControlOrMeta"])
    assert opened.value.url.endswith("#charge-voltage-max.standard")
    assert at_lfp.locator("dialog[open]").count() == 0


def test_the_source_page_is_one_tap_further(at_lfp):
    tag(at_lfp).click()
    link = at_lfp.locator("dialog a[href*='/sources/']").first
    link.click()
    at_lfp.wait_for_url("**/sources/*/")
    assert at_lfp.locator("a.tag[data-id='lfp.charge-voltage-max.aapp-26650'], a.tag[data-id^='lfp.charge-voltage-max.']").count() >= 1


@pytest.mark.parametrize("width", [360, 1350])
def test_the_dialog_fits(at_lfp, width):
    at_lfp.set_viewport_size({"width": width, "height": 640})
    tag(at_lfp).click()
    box = at_lfp.locator("dialog[open]").bounding_box()
    assert box["x"] >= 0 and box["x"] + box["width"] <= width and box["y"] >= 0 and box["y"] + box["height"] <= 640.5
    buttons = at_lfp.locator(".cite-styles button")
    assert buttons.count() == len(STYLES)
    for n in range(buttons.count()):
        inside = buttons.nth(n).bounding_box()
        assert inside["height"] >= 24 and inside["y"] + inside["height"] <= 640  # in view without scrolling; WCAG 2.2, 2.5.8


@pytest.mark.parametrize("path", ["sources/", "sources/work/", "data/", "changes/"])
def test_pages_of_sources_data_and_changes_fit_a_phone(page, address, path):
    page.goto(address + path)
    assert page.evaluate("document.documentElement.scrollWidth") <= 360
    assert page.locator("h1").count() == 1


def test_a_link_to_a_chemistry_shows_its_picture(page, address):
    page.goto(address + PAGE)
    meta = {m.get_attribute("property"): m.get_attribute("content") for m in page.locator("meta[property]").all()}
    assert meta["og:image"] == "https://cell-almanac.org/assets/preview/lfp.png"
    assert meta["og:title"] and meta["og:description"] and meta["og:url"] == "https://cell-almanac.org/chemistries/lfp/"
    answer = page.request.get(address + "assets/preview/lfp.png")
    assert answer.ok and answer.headers["content-type"] == "image/png"


def test_a_figure_leads_to_a_report_and_to_its_line(at_lfp, library):
    """The script's address, taken apart as a forge would, is the one Python makes."""
    from urllib.parse import parse_qs, urlsplit

    from generator.address import edit_address, report_address
    from generator.cite.cited import Citer

    citer = Citer(library)
    item = citer.find(FIGURE)
    cited, record = citer.cited(item), edit_address(*citer.place(item))
    wanted = report_address(id=FIGURE, label=cited.label, figure=cited.figure, edition=cited.edition_words, link=cited.link, record=record)
    tag(at_lfp).click()
    found = at_lfp.locator("dialog[open]").get_by_role("link", name="Report a wrong value").get_attribute("href")
    assert parse_qs(urlsplit(found).query) == parse_qs(urlsplit(wanted).query) and found.split("?")[0] == wanted.split("?")[0]
    assert at_lfp.locator("dialog").get_by_role("link", name="Edit this record").get_attribute("href") == record


def test_a_size_and_a_label_are_cited_like_a_figure(at_lfp, address, library):
    for page, id in (("sizes/", "size.18650.qcvn"), ("labels/10.8-v/", "label.10-8-v.10v8-lithium-ion-3s-laptop")):
        at_lfp.goto(address + page)
        at_lfp.evaluate("id => document.querySelector(`a.tag[data-id='${id}']`).click()", id)
        at_lfp.locator("dialog[open]").wait_for()
        at_lfp.get_by_role("button", name="Plain text").click()
        at_lfp.get_by_role("status").get_by_text("Copied as Plain text.").wait_for()
        assert copied(at_lfp) == cite(library, id, "plain")


def test_a_link_to_a_label_shows_its_picture(page, address):
    page.goto(address + "labels/10.8-v/")
    meta = {m.get_attribute("property"): m.get_attribute("content") for m in page.locator("meta[property]").all()}
    assert meta["og:image"] == "https://cell-almanac.org/assets/preview/label-10.8-v.png" and "full 12.6 V" in meta["og:image:alt"]
    assert (meta["og:image:width"], meta["og:image:height"]) == ("1200", "630")
    answer = page.request.get(address + "assets/preview/label-10.8-v.png")
    assert answer.ok and answer.body().startswith(b"\x89PNG") and len(answer.body()) <= 40 * 1024
