"""Printed voltages and sizes hang together: names exist, keys are unique, figures make sense."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from generator.check.corpus import Corpus
from generator.check.rules.evidence import chemistries_named, evidence_problems
from generator.problem import Problem, nearest
from generator.read import Document

# No cell of this almanac is sold under less or more than this: outside it is a slip of the pen. Volt per cell.
PER_CELL_V = (1.0, 4.6)
_SPANS = tuple((f"{name}_min_{unit}", f"{name}_max_{unit}") for name, unit in (("diameter", "mm"), ("length", "mm"), ("width", "mm"), ("thickness", "mm"), ("mass", "g"), ("capacity", "ah")))
_OUTLINE = {"cylinder": ("diameter_max_mm", "length_max_mm"), "coin": ("diameter_max_mm", "length_max_mm"), "block": ("width_max_mm", "thickness_max_mm", "length_max_mm")}


def _documents(corpus: Corpus, *names: str) -> Iterator[Document]:
    for name in names:
        if name in corpus.tree.documents:
            yield corpus.tree.documents[name]


def labels_evidenced(corpus: Corpus) -> Iterator[Problem]:
    """Every label and size says where it comes from."""
    for document in _documents(corpus, "labels.yml", "sizes.yml"):
        yield from evidence_problems(document, "labels-evidenced")


def label_ids_unique(corpus: Corpus) -> Iterator[Problem]:
    """Ids of labels, groups, products and sizes stand once each; so do the keys of a size."""
    for document in _documents(corpus, "labels.yml"):
        for group in ("products", "groups", "rounded_full", "labels"):
            yield from _twice(document, (group,), document.data[group], "id")
    for document in _documents(corpus, "sizes.yml"):
        yield from _twice(document, ("sizes",), document.data["sizes"], "id")
        for index, size in enumerate(document.data["sizes"]):
            yield from _twice(document, ("sizes", index, "figures"), size["figures"], "key")


def _twice(document: Document, path: tuple, items: Iterable[dict], field: str) -> Iterator[Problem]:
    seen = set()
    for index, item in enumerate(items):
        if item[field] in seen:
            yield document.problem((*path, index, field), "label-ids-unique", f"'{item[field]}' stands here a second time", "Remove or rename one.")
        seen.add(item[field])


def label_names_known(corpus: Corpus) -> Iterator[Problem]:
    """A label names a group and products that the file declares."""
    for document in _documents(corpus, "labels.yml"):
        groups = {group["id"] for group in document.data["groups"]}
        products = {product["id"] for product in document.data["products"]}
        for kind in ("labels", "rounded_full"):
            for index, item in enumerate(document.data[kind]):
                if item["group"] not in groups:
                    yield document.problem((kind, index, "group"), "label-names-known", f"the group '{item['group']}' is not declared", nearest(item["group"], groups) or "Add it under groups.")
                for place, product in enumerate(item.get("products", ())):
                    if product not in products:
                        yield document.problem((kind, index, "products", place), "label-names-known", f"the product class '{product}' is not declared", nearest(product, products) or "Add it under products.")


def label_chemistries_known(corpus: Corpus) -> Iterator[Problem]:
    """A chemistry that labels, sizes or designations name has a record or stands in the list of labels.yml."""
    known = {document.data["id"] for document in corpus.tree.folder("records")}
    for document in _documents(corpus, "labels.yml"):
        known |= set(document.data["chemistries"])
    for document in (*_documents(corpus, "labels.yml", "sizes.yml"), *corpus.tree.folder("designations")):
        for path, id in chemistries_named(document.data):
            if id not in known:
                yield document.problem(path, "label-chemistries-known", f"the chemistry '{id}' is not known", nearest(id, known) or "Add it under chemistries in labels.yml.")


def label_per_cell_plausible(corpus: Corpus) -> Iterator[Problem]:
    """A label divided by its cells lies where cell voltages lie."""
    low, high = PER_CELL_V
    for document in _documents(corpus, "labels.yml"):
        for index, item in enumerate(document.data["labels"]):
            per_cell = item["volts"] / item["series"]
            if not low <= per_cell <= high:
                message = f"{item['volts']} V for {item['series']} cells is {per_cell:.2f} V a cell"
                yield document.problem(("labels", index, "series"), "label-per-cell-plausible", message, f"Expected {low} to {high} V a cell; check the count.")


def size_spans_ordered(corpus: Corpus) -> Iterator[Problem]:
    """The smallest of a figure is not above its largest."""
    for document in _documents(corpus, "sizes.yml"):
        for index, size in enumerate(document.data["sizes"]):
            for place, figure in enumerate(size["figures"]):
                for low, high in _SPANS:
                    if low in figure and high in figure and figure[low] > figure[high]:
                        yield document.problem(("sizes", index, "figures", place, high), "size-spans-ordered", f"{high} {figure[high]} is below {low} {figure[low]}", "Check which is which.")


def size_outline_given(corpus: Corpus) -> Iterator[Problem]:
    """The figure a size is drawn by exists and gives the whole outline."""
    for document in _documents(corpus, "sizes.yml"):
        for index, size in enumerate(document.data["sizes"]):
            keys = {figure["key"]: figure for figure in size["figures"]}
            if size["stated"] not in keys:
                yield document.problem(("sizes", index, "stated"), "size-outline-given", f"no figure has the key '{size['stated']}'", nearest(size["stated"], keys) or f"Known: {', '.join(keys)}.")
                continue
            missing = [name for name in _OUTLINE[size["shape"]] if name not in keys[size["stated"]]]
            if missing:
                yield document.problem(("sizes", index, "stated"), "size-outline-given", f"the figure '{size['stated']}' lacks {', '.join(missing)}", "Name a figure with the whole outline.")


LABEL_RULES = (
    labels_evidenced,
    label_ids_unique,
    label_names_known,
    label_chemistries_known,
    label_per_cell_plausible,
    size_spans_ordered,
    size_outline_given,
)
