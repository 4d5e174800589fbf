"""Where the almanac stands on the web, and how its parts are addressed for good."""

from __future__ import annotations

from urllib.parse import quote, urlencode

from generator.model.statement import Statement
from generator.model.subject import Remark, Stated, Subject, Value

# Placeholders of the almanac's own until it has a home: both are changed here, SITE in mkdocs.yml as well.
SITE = "https://cell-almanac.org/"
REPOSITORY = "https://code.cell-almanac.org/cell-almanac/"
# Where a line of a file is shown, with the way to edit it, and where a new issue is begun with title and body: the paths of GitHub.
LINE, NEW_ISSUE = "blob/main/{file}#L{line}", "issues/new"
# What a report begins with; the page's script fills in the same lines.
REPORT_TITLE = "Wrong value: {id}"
REPORT_BODY = """Figure: {label}: {figure}
Id: {id}
Edition: {edition}
Address: {link}
Record: {record}

What is wrong with it:

Which source says so, and where in it:
"""
TITLE = "Cell Almanac"
LICENCE = "CC-BY-4.0"
LICENCE_ADDRESS = "https://creativecommons.org/licenses/by/4.0/"


def permalink(subject: Subject | Statement, item: Value | Stated | Remark | None = None) -> str:
    """Return the permanent address of a subject's page, of one item on it, or of a statement outside subjects."""
    if isinstance(subject, Statement):
        return f"{SITE}{subject.address}"
    page = f"{SITE}{subject.page}"
    return page if item is None else f"{page}#{item.anchor}"


def edit_address(file: str, line: int = 1) -> str:
    """Return where a line of a data file is shown and edited; ``file`` is its path in the repository."""
    return f"{REPOSITORY}{LINE.format(file=quote(file), line=line)}"


def report_address(**fields: str) -> str:
    """Return the address that begins a report of a wrong value; ``fields`` are those of REPORT_BODY."""
    filled = {"title": REPORT_TITLE.format(**fields), "body": REPORT_BODY.format(**fields)}
    return f"{REPOSITORY}{NEW_ISSUE}?{urlencode(filled, quote_via=quote)}"


def label_slug(volts: float) -> str:
    """Return the address part of a printed voltage: 10.8-v."""
    return f"{volts:g}-v"


def picture(subject: Subject) -> str:
    """Return the path of the picture that a link to a subject's page shows elsewhere."""
    return f"assets/preview/{subject.id}.png"


def label_picture(volts: float) -> str:
    """Return the path of the picture that a link to a printed voltage's page shows elsewhere."""
    return f"assets/preview/label-{label_slug(volts)}.png"


def offline_copy(edition: str | None) -> str:
    """Return the path of the copy that is read without a connection; None is the time before the first edition."""
    return f"offline/cell-almanac-{edition or 'draft'}.zip"
