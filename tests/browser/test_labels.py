"""The voltage and marking fields in a real browser: the same answers as Python, and nothing typed becomes markup."""

from __future__ import annotations

import json
import random
from pathlib import Path

import pytest

from generator.build import ROOT
from generator.compute.label_lookup import answer_label, answer_rest
from generator.compute.label_results import label_results
from generator.compute.marking import Reader
from generator.export.labels import markings_data

pytestmark = pytest.mark.browser

ORIGIN = "http://almanac.test/"
VECTORS = json.loads((Path(__file__).parents[1] / "vectors" / "markings.json").read_text("utf-8"))["vectors"]


@pytest.fixture(scope="module")
def lookup(library):
    return json.loads(json.dumps(label_results(library).lookup))


@pytest.fixture(scope="module")
def stage(browser, library, lookup):
    """A page with the two scripts and their data, served from memory: no site build is needed."""
    files = {
        "": ("text/html", "<!doctype html><title>stage</title>"),
        "labels.js": ("text/javascript", (ROOT / "docs/assets/labels.js").read_text("utf-8")),
        "markings.js": ("text/javascript", (ROOT / "docs/assets/markings.js").read_text("utf-8")),
        "labels.json": ("application/json", json.dumps(lookup)),
        "markings.json": ("application/json", json.dumps(markings_data(library))),
    }
    context = browser.new_context()
    opened = context.new_page()

    def serve(route):
        kind, body = files[route.request.url.removeprefix(ORIGIN)]
        route.fulfill(content_type=kind, body=body)

    opened.route(f"{ORIGIN}**", serve)
    opened.goto(ORIGIN)
    yield opened
    context.close()


READ_MARKINGS = """async (texts) => {
  const { readMarking } = await import("/markings.js");
  const data = await (await fetch("/markings.json")).json();
  return texts.map((text) => readMarking(text, data));
}"""
READ_LABELS = """async (texts) => {
  const { answerLabel, answerRest } = await import("/labels.js");
  const data = await (await fetch("/labels.json")).json();
  return texts.map((text) => [answerLabel(text, data), answerRest(text, data)]);
}"""

_PIECES = ("INR", "IMR", "ICR", "IFpR", "IFP", "NCR", "LR", "CR", "HR", "KRMT", "HF", "R", "LIR", "18650", "19/66", "21700", "2032", "6", "03", "44", "33/62", "18/07/49", "103450", "t73448", "-25R", "-2", "3", "4LR25-2", "AA", "9V", "3.7V", "2500mAh", " ", "/", "-", ",", "HH", "X", "a", "\u00df", "\u0130", "\u2044", "\u2013", "\u00a0", "\u0661", "\U0001f50b", "<b>", "&amp;", "{}", "$&", "\\", "'", "\u2028", "\x00", "__proto__", "constructor")


def random_texts(count: int, pieces=_PIECES, longest: int = 7) -> list[str]:
    """Return texts made of pieces of markings, hostile characters and any characters at all; always the same ones."""
    rng = random.Random(20260101)
    made = []
    for _ in range(count):
        parts = [rng.choice(pieces) if rng.random() < 0.85 else chr(rng.choice((rng.randrange(32, 127), rng.randrange(160, 0xD7FF)))) for _ in range(rng.randrange(1, longest))]
        made.append("".join(parts) * rng.choice((1, 1, 1, 1, 30)))
    return made


def test_marking_vectors_in_the_browser(stage):
    answers = stage.evaluate(READ_MARKINGS, [v["marking"] for v in VECTORS])
    for vector, answer in zip(VECTORS, answers, strict=True):
        found = answer["readings"][0]
        assert found["chemistries"] == vector["chemistries"], vector["marking"]
        assert (found["series"], found["parallel"]) == (vector.get("series"), vector.get("parallel"))
        assert vector.get("size") in (None, found["size"])


def slips(count: int) -> list[str]:
    """Return real markings with slips of the finger: a character lost, doubled, replaced or put in; always the same ones."""
    rng, made = random.Random(20260102), []
    for _ in range(count):
        text = list(rng.choice(VECTORS)["marking"])
        for _ in range(rng.randrange(0, 3)):
            place = rng.randrange(len(text))
            text[place] = rng.choice(("", text[place] * 2, rng.choice("0123456789ABCIRNFHLPSX/- "), text[place].swapcase()))
        made.append("".join(text))
    return made


def test_both_readers_agree_on_ten_thousand_texts(stage, library):
    reader, texts = Reader(library.designations), random_texts(6000) + slips(4000)
    answers = stage.evaluate(READ_MARKINGS, texts)
    for text, answer in zip(texts, answers, strict=True):
        assert answer == json.loads(json.dumps(reader.read(text).as_dict())), text
    assert sum(bool(answer["readings"]) for answer in answers) > 1000  # the texts do reach the patterns


def test_both_lookups_agree(stage, lookup):
    pieces = ("1", "2", "3", "7", "10", "12", "36", "8", ".", ",", "V", " v", "volt", "-", "e", "0", "\u00a0", "\u0661", "x", "99999")
    texts = random_texts(3000, pieces, 4) + [f"{n / 20:g}" for n in range(0, 2100)]
    answers = stage.evaluate(READ_LABELS, texts)
    for text, (label, rest) in zip(texts, answers, strict=True):
        assert label == answer_label(text, lookup), text
        assert rest == answer_rest(text, lookup), text
    assert sum(bool(label["explanations"]) for label, _ in answers) > 1000


def test_ask_a_printed_voltage(page, address):
    page.goto(f"{address}labels/?v=10.8")
    answer = page.locator("#label-answer")
    answer.get_by_text("3 cells in series (3S)").first.wait_for()
    assert "12.60" in answer.inner_text() and page.input_value("#label-v") == "10.8"
    assert page.evaluate("document.documentElement.scrollWidth <= innerWidth")
    answer.get_by_role("link", name="The page of 10.8 V").click()
    page.wait_for_url("**/labels/10.8-v/")
    assert page.locator("h1").inner_text() == "10.8 V"


def test_ask_a_measured_voltage(page, address):
    page.goto(f"{address}labels/")
    page.get_by_label("measured, after hours at rest").check()
    page.fill("#label-v", "11.4")
    page.get_by_role("button", name="What is it?").click()
    page.locator("#label-answer .caution").wait_for()
    text = page.locator("#label-answer").inner_text()
    assert "3 \u00d7 NMC" in text and "proves nothing about capacity" in text
    assert "kind=rest" in page.url


def ask(page, field, button, text):
    """Ask, and return the answer's part of the page once it is about this text and no longer about the one before."""
    answer = page.locator("#label-answer, #marking-answer")
    answer.evaluate("e => e.replaceChildren()")
    page.fill(field, text)
    page.get_by_role("button", name=button).click()
    answer.locator(".message").first.wait_for()
    return answer


def test_bad_voltages_get_a_sentence(page, address):
    page.goto(f"{address}labels/")
    for typed in ("0", "-5", "1e9", "twelve", "<img src=x onerror=alert(1)>", "9" * 24):
        answer = ask(page, "#label-v", "What is it?", typed)
        assert answer.locator(".message").inner_text().endswith(".") and answer.locator("img").count() == 0, typed


def test_ask_a_marking(page, address):
    page.goto(f"{address}markings/?m=INR18650-25R")
    page.locator("#marking-answer .answer").wait_for()
    text = page.locator("#marking-answer").inner_text()
    assert "positive electrode based on nickel" in text and "only the data sheet" in text
    assert page.locator("#marking-answer").get_by_role("link", name="NMC", exact=True).get_attribute("href") == "../chemistries/nmc/"


def test_hostile_markings_stay_text(page, address):
    page.goto(f"{address}markings/")
    for typed in ("x" * 500, "<script>alert(1)</script>", "\"><svg onload=alert(1)>", "   "):
        answer = ask(page, "#marking-m", "Read it", typed)
        assert answer.locator("svg, script").count() == 0, typed


def test_without_scripts_everything_is_listed(without_scripts, address):
    opened = without_scripts
    opened.goto(f"{address}labels/?v=10.8")
    assert opened.locator("table a", has_text="10.8").count() == 1
    opened.goto(f"{address}markings/?m=INR18650")
    assert opened.locator("caption", has_text="Positive electrode").is_visible()
    opened.goto(f"{address}sizes/")
    assert opened.locator("svg.sizes").count() == 3
