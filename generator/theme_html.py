"""What the theme's HTML needs before it is published: a content-security policy and a few repairs for assistive technology.

Works on text, so that it is the same under any site engine that lets one touch the finished page.
"""

from __future__ import annotations

import base64
import hashlib
import re

_INLINE_SCRIPT = re.compile(r"<script(?P<attributes>[^>]*)>(?P<body>.*?)</script>", re.DOTALL)
_DATA_TYPE = re.compile(r"type=[\"']?(application/(?:ld\+)?json|text/plain)")
_CHARSET = re.compile(r"<meta charset=[\"']?utf-8[\"']?>", re.IGNORECASE)

POLICY = (
    "default-src 'none'; script-src 'self'{hashes}; style-src 'self'; img-src 'self' data:; font-src 'self'; "
    "connect-src 'self'; worker-src 'self'; manifest-src 'self'; base-uri 'none'; form-action 'self'"
)

# One style sheet in the place of seven: on a phone each one more is a round trip before anything is shown.
SHEET = "assets/site.css"


def finish_page(html: str) -> str:
    """Return the page with repaired markup and, right after the charset, its content-security policy."""
    html = _repair(html)
    policy = POLICY.format(hashes="".join(f" '{h}'" for h in script_hashes(html)))
    meta = f'<meta http-equiv="Content-Security-Policy" content="{policy}">'
    return _CHARSET.sub(lambda found: found.group() + meta, html, count=1)


def script_hashes(html: str) -> list[str]:
    """Return the sha256 sources of every inline script that the browser would run, in order, each once."""
    hashes = {}
    for found in _INLINE_SCRIPT.finditer(html):
        attributes, body = found["attributes"], found["body"]
        if " src=" in attributes or not body or _DATA_TYPE.search(attributes):
            continue
        digest = base64.b64encode(hashlib.sha256(body.encode("utf-8")).digest()).decode("ascii")
        hashes[f"sha256-{digest}"] = None
    return list(hashes)


def _repair(html: str) -> str:
    # The theme's search dialog has no name, and its checkboxes carry an attribute that HTML does not allow there.
    html = re.sub(r'(data-md-component="search" role="dialog")', r'\1 aria-label="Search"', html)
    return re.sub(r'(<input[^>]*type="checkbox"[^>]*?) autocomplete="off"', r"\1", html)
