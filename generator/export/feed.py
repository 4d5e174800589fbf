"""An Atom feed of the editions (RFC 4287). Its dates come from the edition files, never from the clock."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from xml.sax.saxutils import escape, quoteattr

from generator.address import LICENCE, SITE, TITLE
from generator.compute.results import Results
from generator.editions import NOW, Step

# Where no edition is frozen yet the feed still needs a date: the day Unix began says plainly that there is none.
_NO_DATE = "1970-01-01"


def feed(results: Results) -> str:
    """Return the feed: one entry an edition, newest first, with what it changed."""
    steps = [step for step in results.history if step.after.name != NOW]
    updated = steps[0].after.date if steps else _NO_DATE
    entries = "".join(_entry(step) for step in steps)
    return (
        '<?xml version="1.0" encoding="utf-8"?>\n<feed xmlns="http://www.w3.org/2005/Atom" xml:lang="en">\n'
        f"<title>{escape(TITLE)}: changes</title>\n<id>{SITE}changes/</id>\n<updated>{updated}T00:00:00Z</updated>\n"
        f'<link rel="self" type="application/atom+xml" href={quoteattr(f"{SITE}changes/feed.xml")}/>\n'
        f"<link rel=\"alternate\" type=\"text/html\" href={quoteattr(f'{SITE}changes/')}/>\n"
        f"<author><name>{escape(TITLE)} contributors</name></author>\n<rights>{escape(LICENCE)}</rights>\n{entries}</feed>\n"
    )


def _entry(step: Step) -> str:
    name, date = step.after.name, step.after.date
    address = f"{SITE}changes/{name}/"
    return (
        f"<entry>\n<title>Edition {escape(name)}</title>\n<id>{address}</id>\n"
        f"<updated>{date}T00:00:00Z</updated>\n<published>{date}T00:00:00Z</published>\n"
        f'<link rel="alternate" type="text/html" href={quoteattr(address)}/>\n'
        f'<content type="text">{escape(" ".join(_sentences(step)))}</content>\n</entry>\n'
    )


def _sentences(step: Step) -> Iterator[str]:
    after = step.after
    yield f"{len(after.stated)} stated figures, {len(after.values)} values, {len(after.remarks)} remarks."
    if step.before is None:
        yield "The first edition."
        return
    counts = Counter(change.kind for change in step.changes)
    shown = ", ".join(f"{counts[kind]} {kind}" for kind in ("added", "changed", "retired") if counts[kind])
    yield f"Since {step.before.name}: {shown or 'no change'}."
    for change in step.changes:
        if change.part == "stated" and change.kind != "added":
            yield f"{change.id}: {change.kind}{f', {change.why}' if change.why else ''}."
