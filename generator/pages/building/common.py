"""What every building page needs: its path, and figures of practice files with their sources."""

from __future__ import annotations

from generator.compute.results import Results
from generator.model.library import Library
from generator.model.subject import Remark, Stated, Subject, Value
from generator.pages.environment import render, to_root


def topic_page(template: str, topic, library: Library, results: Results, **context: object) -> str:
    """Return a topic's page; the template gets the library, the way to the root, the topic and the context."""
    path = f"building/{topic.SLUG}/index.md"
    return render(f"building/{template}", library=library, root=to_root(path), topic=topic, building=results.building, **context)


def subject(library: Library, id: str) -> Subject | None:
    """Return a practice file or chemistry, or None where the data has none of that id."""
    return library.practices.get(id) or library.chemistries.get(id)


def values(library: Library, id: str, *quantities: str) -> tuple[Value, ...]:
    """Return the values of some quantities of a subject, in the order of the quantities."""
    found = subject(library, id)
    return tuple(value for quantity in quantities for value in found.values_of(quantity)) if found else ()


def stated(library: Library, id: str, quantity: str) -> Stated | None:
    """Return the stated figure of a quantity, or None."""
    found = subject(library, id)
    return found.figure(quantity) if found else None


def remarks(library: Library, id: str, *keys: str) -> tuple[Remark, ...]:
    """Return the remarks of a subject by key, in the order asked for; unknown keys are left out."""
    found = subject(library, id)
    by_key = {remark.key: remark for remark in found.remarks} if found else {}
    return tuple(by_key[key] for key in keys if key in by_key)
