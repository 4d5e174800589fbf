"""A citation of an earlier edition: what the figure was then, beside what it is now."""

from __future__ import annotations

from collections.abc import Iterator

from generator.address import SITE
from generator.cite.cited import Cited, Citer, Origin, UnknownId, full_id, plain
from generator.model.edition import PARTS, Edition, Row
from generator.model.library import Library
from generator.model.subject import Condition
from generator.pages import format as fmt
from generator.pages.changes import row_words
from generator.problem import nearest


class UnknownEdition(Exception):
    """No edition has this name."""

    def __init__(self, name: str, library: Library) -> None:
        known = [edition.name for edition in library.editions]
        hint = nearest(name, known) or (f"There {'is' if len(known) == 1 else 'are'}: {', '.join(known)}." if known else "None is frozen yet.")
        super().__init__(f"no edition is called '{name}'. {hint}")


def edition_named(library: Library, name: str) -> Edition:
    """Return an edition by its name; raises UnknownEdition."""
    for edition in library.editions:
        if edition.name == name:
            return edition
    raise UnknownEdition(name, library)


def cited_then(citer: Citer, id: str, edition: Edition) -> Cited:
    """Return what a citation of ``id`` says as it stood in ``edition``, whether or not it is still live.

    Raises UnknownId when the edition has no such id.
    """
    full = full_id(id)
    part = next((part for part in PARTS if full in edition.part(part)), None)
    if part is None:
        hint = nearest(full, (known for each in PARTS for known in edition.part(each)))
        raise UnknownId(id, f"Edition {edition.name} does not hold it. {hint}".strip())
    row = edition.part(part)[full]
    now = citer.items.get(full)
    if now is not None and citer.row_now(full) == row:
        link = citer.cited(now).link  # the same then and now: one address answers for both
    else:
        link = f"{SITE}changes/{edition.name}/#{full}"
    condition = plain(fmt.condition(Condition(**row["condition"]))) if row.get("condition") else ""
    return Cited(
        id=full,
        label=citer.cited(now).label if now is not None else full,
        figure=plain(figure_of(part, row, citer)),
        condition=condition,
        standing=f"Grade: {fmt.grade_words(row['grade'])}",
        origins=tuple(_origins(part, row, edition, citer)),
        edition=edition,
        edition_words=f"edition {edition.name}",
        link=link,
    )


def changed_since(citer: Citer, id: str) -> tuple[Edition, str] | None:
    """Return (newest edition, what it says of a live id in words) where that is not what stands now; else None."""
    newest = citer.library.editions[-1] if citer.library.editions else None
    part = next((part for part in PARTS if newest is not None and id in newest.part(part)), None)
    if part is None or newest.part(part)[id] == citer.row_now(id):
        return None
    return newest, plain(row_words(part, newest.part(part)[id], _decimals(citer, id)))


def now_words(citer: Citer, id: str) -> str:
    """Return what stands now in the place of an id of an earlier edition, with the address that answers."""
    full = full_id(id)
    item = citer.items.get(full)
    if item is None:
        return citer.hint(full)
    cited = citer.cited(item)
    return f"{cited.figure} ({item.grade}), {cited.link}"


def figure_of(part: str, row: Row, citer: Citer) -> str:
    """Return the figure of an edition's row without its grade."""
    return row_words(part, row, _decimals(citer, row["id"])).removesuffix(f" ({row['grade']})")


def _decimals(citer: Citer, id: str) -> int | None:
    quantity = citer.library.quantities.get(id.split(".")[1])
    return quantity.decimals if quantity else None


def _origins(part: str, row: Row, edition: Edition, citer: Citer) -> Iterator[Origin]:
    sources = citer.library.sources
    rows = [edition.values[id] for id in row["value_ids"]] if part == "stated" else [row]
    for each in rows:
        condition = plain(fmt.condition(Condition(**each["condition"]))) if part == "stated" else ""
        yield Origin(sources.get(each["source"] or ""), each["locator"], condition, each["grade"], sources.get(each["reported_by"] or ""))
