"""Links that report a wrong value or lead to the line of a record, for readers without scripts: one pair a record."""

from __future__ import annotations

from markupsafe import Markup

from generator.address import SITE, edit_address, report_address

_LINKS = Markup('<p class="report" data-search-exclude><a href="{report}" rel="noopener">Report a wrong value</a>; <a href="{edit}" rel="noopener">edit this record</a>.</p>')


def report_links(id: str, name: str, page: str, file: str, edition: str | None, line: int = 1) -> Markup:
    """Return the two links; ``page`` is the page's address from the site's root, ``file`` the record's path in the repository."""
    report = report_address(id=id, label=name, figure="(which one)", edition=edition or "before the first edition", link=f"{SITE}{page}", record=edit_address(file, line))
    return _LINKS.format(report=report, edit=edit_address(file, line))
