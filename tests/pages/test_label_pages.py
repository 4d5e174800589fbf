"""Pages of labels, markings and sizes: text of the data never becomes markup, and each page holds what it must."""

from __future__ import annotations

from dataclasses import replace
from types import SimpleNamespace

import pytest

from generator.compute.label_results import label_results
from generator.pages import find, labels, markings, sizes

HOSTILE = '<script>alert(1)</script> **b** ](javascript:x) {{ 7 * 7 }} "q" --- # h'


@pytest.fixture(scope="module")
def results(library):
    return SimpleNamespace(labels=label_results(library))


def hostile(evidence):
    return replace(evidence, note=HOSTILE, locator=HOSTILE)


@pytest.fixture(scope="module")
def poisoned(library):
    """The real library with hostile text wherever labels, designations and sizes hold text of their own."""
    groups = {g.id: replace(g, name=HOSTILE, words=(HOSTILE,)) for g in library.labels.groups}
    entries = tuple(replace(e, group=groups[e.group.id], evidence=hostile(e.evidence)) for e in library.labels.entries)
    products = {id: HOSTILE for id in library.labels.products}
    own_labels = replace(library.labels, groups=tuple(groups.values()), entries=entries, products=products, rounded=tuple(replace(r, text=HOSTILE) for r in library.labels.rounded))
    designations = {
        id: replace(d, name=HOSTILE, identity=HOSTILE, patterns=tuple(replace(p, meaning=HOSTILE, note=HOSTILE) for p in d.patterns), examples=tuple(replace(e, marking=HOSTILE, says=HOSTILE) for e in d.examples), remarks=tuple(replace(r, text=HOSTILE) for r in d.remarks))
        for id, d in library.designations.items()
    }
    own_sizes = {id: replace(s, name=HOSTILE, also_called=(HOSTILE,), because=HOSTILE, caution=HOSTILE) for id, s in library.sizes.items()}
    return replace(library, labels=own_labels, designations=designations, sizes=own_sizes)


def test_hostile_text_stays_text(poisoned):
    results = SimpleNamespace(labels=label_results(poisoned))
    for module in (labels, markings, sizes, find):
        for path, text in module.pages(poisoned, results).items():
            body = text.split("---\n", 2)[2]
            assert "<script>alert" not in body, path
            headings = [line for line in body.splitlines() if line.startswith("#")]
            assert not any("**b**" in line or "](javascript" in line for line in headings), path


def test_every_recorded_label_has_a_page(library, results):
    made = labels.pages(library, results)
    assert {f"labels/{labels.slug(entry.volts)}/index.md" for entry in library.labels.entries} <= set(made)
    assert "\n# 10.8 V { #label }" in made["labels/10.8-v/index.md"]


def test_a_label_page_errs_to_the_safe_side(library, results):
    """Three cells of unknown 4.2 V chemistry: 12.60 V at most, and the highest cut-off of the kinds, 9.00 V for LCO and LMO."""
    page = labels.pages(library, results)["labels/10.8-v/index.md"]
    assert "charge to at most 12.60&nbsp;V, stop the discharge at 9.00&nbsp;V" in page


def test_every_entry_stands_under_who_says_so(library, results):
    made = labels.pages(library, results)
    for entry in library.labels.entries:
        assert made[f"labels/{labels.slug(entry.volts)}/index.md"].count(f'id="{entry.id}"') == 1


def test_markings_page_links_only_records_that_exist(library, results):
    page = markings.pages(library, results)["markings/index.md"]
    assert "chemistries/lco/" in page and "INR18650" in page


@pytest.mark.parametrize("span, shown", [((None, None), ""), ((44, 44), "44"), ((40, 50), "40 to 50"), ((None, 23.8), "at most 23.8"), ((3, None), "at least 3")])
def test_spans_in_words(span, shown):
    assert sizes.span(span) == shown


def test_a_library_without_labels_still_has_its_pages(library):
    empty = replace(library, labels=type(library.labels)(), sizes={}, designations={})
    results = SimpleNamespace(labels=label_results(empty))
    made = {path for module in (labels, markings, sizes, find) for path in module.pages(empty, results)}
    assert made == {"labels/index.md", "markings/index.md", "sizes/index.md", "find/index.md"}
