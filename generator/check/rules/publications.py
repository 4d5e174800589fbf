"""The bibliography and the values agree."""

from __future__ import annotations

from collections.abc import Iterator

from generator.check.corpus import Corpus
from generator.problem import Problem, nearest

_FIELDS = ("source", "reported_by")


def source_exists(corpus: Corpus) -> Iterator[Problem]:
    """Every source a value names stands in sources.yml."""
    for document in corpus.tree.documents.values():
        for path, source in cited(document.data):
            if source not in corpus.sources:
                hint = nearest(source, corpus.sources) or "Add it to sources.yml."
                yield document.problem(path, "source-exists", f"the source '{source}' is not in sources.yml", hint)


def source_used(corpus: Corpus) -> Iterator[Problem]:
    """Every publication in sources.yml carries at least one value: the list is evidence, not reading matter."""
    used = {source for document in corpus.tree.documents.values() for _, source in cited(document.data)}
    document = corpus.tree.documents["sources.yml"]
    for index, item in enumerate(document.data["sources"]):
        if item["id"] not in used:
            yield document.problem(("sources", index, "id"), "source-used", f"nothing rests on the source '{item['id']}'", "Remove it, or add the value that does.")


def author_named(corpus: Corpus) -> Iterator[Problem]:
    """An author is a person with a family name or a body, not both and not neither."""
    document = corpus.tree.documents["sources.yml"]
    for index, item in enumerate(document.data["sources"]):
        for position, author in enumerate(item.get("author", ())):
            if ("literal" in author) == ("family" in author) or ("given" in author and "family" not in author):
                path = ("sources", index, "author", position)
                yield document.problem(path, "author-named", "an author has either a family name (with given) or a literal", "A person: family and given. A body: literal.")


def cited(data: object, path: tuple[str | int, ...] = ()) -> Iterator[tuple[tuple[str | int, ...], str]]:
    """Yield (path, source id) for every citation anywhere in a document's data."""
    if isinstance(data, dict):
        for key, child in data.items():
            if key in _FIELDS and isinstance(child, str):
                yield (*path, key), child
            else:
                yield from cited(child, (*path, key))
    elif isinstance(data, list):
        for index, child in enumerate(data):
            yield from cited(child, (*path, index))
