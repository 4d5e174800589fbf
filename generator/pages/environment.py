"""The Jinja environment: HTML is escaped by default, Markdown text by a filter of its own."""

from __future__ import annotations

import json
from collections.abc import Iterable
from functools import cache
from pathlib import Path

import jinja2
from markupsafe import Markup, escape

from generator.pages import format as fmt
from generator import statement_ids
from generator.pages import linked_data, reporting, retired, sections, sentences, tags

TEMPLATES = Path(__file__).parent / "templates"


def markdown_text(text: object) -> Markup:
    """Return plain text as Markdown that shows exactly that text: every character with a meaning becomes an entity.

    Entities are the one escape that all Markdown engines and HTML itself read alike.
    """
    return Markup("".join(c if c.isalnum() or c == " " or ord(c) > 127 else f"&#{ord(c)};" for c in str(text).replace("\n", " ")))


def front_matter(**fields: object) -> Markup:
    """Return YAML front matter; JSON text is YAML, so that no title can break out of it."""
    lines = "\n".join(f"{name}: {json.dumps(value, ensure_ascii=True)}" for name, value in fields.items() if value is not None)
    return Markup(f"---\n{lines}\n---\n")


def script_json(data: object) -> Markup:
    """Return JSON for a ``<script type="application/json">`` block; no text in it can end the block."""
    text = json.dumps(data, ensure_ascii=False, sort_keys=True, separators=(",", ":"))
    return Markup(text.replace("<", "\\u003c").replace("\u2028", "\\u2028").replace("\u2029", "\\u2029"))


def contents(sections: Iterable[tuple[str, str]]) -> Markup:
    """Return the page's own table of contents from pairs of anchor and short title."""
    items = "\n".join(escape(Markup('<li><a href="#{}">{}</a></li>').format(id, title)) for id, title in sections)
    return Markup(f'<nav class="contents" aria-label="On this page">\n<ul>\n{items}\n</ul>\n</nav>')


_FILTERS = ("figure", "number", "volts", "condition", "fahrenheit", "unit", "sentence", "prose", "typeset")


@cache
def environment() -> jinja2.Environment:
    """Return the environment all pages share."""
    made = jinja2.Environment(
        loader=jinja2.FileSystemLoader(TEMPLATES),
        autoescape=True,
        trim_blocks=True,
        lstrip_blocks=True,
        undefined=jinja2.StrictUndefined,
        keep_trailing_newline=True,
    )
    made.filters.update(md=markdown_text, json=script_json, **{name: getattr(fmt, name) for name in _FILTERS})
    made.globals.update(
        front_matter=front_matter,
        contents=contents,
        grade_words=fmt.GRADE_WORDS,
        rule_words=fmt.RULE_WORDS,
        basis=tags.basis,
        source_name=tags.source_name,
        source_tag=tags.source_tag,
        origin_tag=tags.origin_tag,
        siblings=sentences.siblings,
        how_stated=sentences.how_stated,
        spread_words=sentences.spread_words,
        evidence_sections=sections.evidence_sections,
        retired_rows=retired.retired_rows,
        retired_statements=retired.retired_statements,
        report_links=reporting.report_links,
        label_id=statement_ids.label_id,
        rounded_id=statement_ids.rounded_id,
        size_id=statement_ids.size_id,
        marking_id=statement_ids.marking_id,
        linked_data=linked_data.subject_data,
        library_data=linked_data.library_data,
    )
    return made


def render(template: str, **context: object) -> str:
    """Return the page made from one template."""
    return environment().get_template(template).render(**context)


def to_root(path: str) -> str:
    """Return the relative way from a page such as ``chemistries/lfp/index.md`` to the site's root, ending in '/'."""
    return "../" * path.count("/") or "./"
