"""JSON-LD in the pages, expanded by an outside processor against schema.org's published names."""

from __future__ import annotations

import json
import re

import html5lib
import pytest
from pyld import jsonld

from generator.export import page_of_data
from generator.pages.environment import environment
from generator.pages.linked_data import library_data, subject_data
from tests.made_up import HOSTILE, made_up_library, made_up_results

SCHEMA = "https://schema.org/"
# Terms of schema.org used here, each looked up in its vocabulary (release 28); the context of the tests knows no others,
# so that a misspelt term is dropped by the processor and found below.
TERMS = (
    "Dataset PropertyValue DataDownload Organization name description url isPartOf hasPart alternateName variableMeasured distribution "
    "license isAccessibleForFree creator version datePublished propertyID minValue maxValue value unitCode unitText encodingFormat contentUrl"
).split()


@pytest.fixture(scope="module")
def made_up(tmp_path_factory):
    return made_up_library(tmp_path_factory.mktemp("linked") / "chemistry")


def load_context(address, options=None):
    """The only document that may be asked for is schema.org's context, and it is answered here: tests use no network."""
    assert address == "https://schema.org"
    context = {term: f"{SCHEMA}{term}" for term in TERMS}
    return {"contextUrl": None, "documentUrl": address, "contentType": "application/ld+json", "document": {"@context": context}}


def expanded(data):
    return jsonld.expand(data, {"documentLoader": load_context})


def keys_of(data):
    if isinstance(data, dict):
        return {key for key in data if not key.startswith("@")} | {k for child in data.values() for k in keys_of(child)}
    return {k for child in data for k in keys_of(child)} if isinstance(data, list) else set()


@pytest.mark.parametrize("which", ["subject", "library"])
def test_every_term_is_schema_orgs(made_up, which):
    data = subject_data(made_up.chemistries["hostilium"], made_up) if which == "subject" else library_data(made_up, ["values.csv"])
    (found,) = expanded(data)
    assert found["@type"] == [f"{SCHEMA}Dataset"]
    # Expansion drops what the context does not know; nothing of ours may be dropped.
    assert {key.removeprefix(SCHEMA) for key in keys_of(found)} == keys_of(data)


def test_figures_carry_ucum_codes(made_up):
    (found,) = expanded(subject_data(made_up.chemistries["hostilium"], made_up))
    by_id = {item["@id"].split("#")[1]: item for item in found[f"{SCHEMA}variableMeasured"]}
    charge = by_id["charge-voltage-max.standard"]
    assert (charge[f"{SCHEMA}value"], charge[f"{SCHEMA}unitCode"]) == ([{"@value": 3.6}], [{"@value": "V"}])
    window = by_id["charge-temperature.standard"]
    assert (window[f"{SCHEMA}minValue"], window[f"{SCHEMA}maxValue"], window[f"{SCHEMA}unitCode"]) == ([{"@value": 0}], [{"@value": 45}], [{"@value": "Cel"}])


def test_no_text_closes_the_script(made_up):
    template = environment().from_string('<script type="application/ld+json">{{ linked_data(subject, library) | json }}</script>')
    html = template.render(subject=made_up.chemistries["hostilium"], library=made_up)
    scripts = list(html5lib.parse(html, namespaceHTMLElements=False).iter("script"))
    assert len(scripts) == 1
    assert json.loads(scripts[0].text)["description"] == HOSTILE


def test_the_data_page_describes_the_whole(made_up):
    page = page_of_data(made_up, made_up_results(made_up))["data/index.md"]
    (text,) = re.findall(r'<script type="application/ld\+json">(.*?)</script>', page, re.DOTALL)
    (found,) = expanded(json.loads(text))
    links = {item[f"{SCHEMA}contentUrl"][0]["@value"] for item in found[f"{SCHEMA}distribution"]}
    assert "https://cell-almanac.org/data/v1/values.csv" in links
    assert found[f"{SCHEMA}license"] == [{"@value": "https://creativecommons.org/licenses/by/4.0/"}]
