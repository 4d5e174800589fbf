"""Where the almanac stands on the web, and how its parts are addressed for good."""

from __future__ import annotations

from generator.model.subject import Remark, Stated, Subject, Value

SITE = "https://cell-almanac.org/"
TITLE = "Cell Almanac"
LICENCE = "CC-BY-4.0"
LICENCE_ADDRESS = "https://creativecommons.org/licenses/by/4.0/"


def anchor(item: Value | Stated | Remark) -> str:
    """Return the anchor of an item on its subject's page."""
    return f"remark.{item.key}" if isinstance(item, Remark) else item.anchor


def permalink(subject: Subject, item: Value | Stated | Remark | None = None) -> str:
    """Return the permanent address of a subject's page, or of one item on it."""
    page = f"{SITE}{subject.page}"
    return page if item is None else f"{page}#{anchor(item)}"


def offline_copy(edition: str | None) -> str:
    """Return the path of the copy that is read without a connection; None is the time before the first edition."""
    return f"offline/cell-almanac-{edition or 'draft'}.zip"
