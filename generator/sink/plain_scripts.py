"""Scripts as a page on a disk can have them: a browser lets such a page load no module and fetch no file, but plain scripts."""

from __future__ import annotations

import re
from collections.abc import Mapping

# The forms of import and export that our scripts use; any other is refused, so that no script is copied half understood.
_IMPORT = re.compile(r'^import \{ (\w+(?:, \w+)*) \} from "\./([\w.-]+\.js)";$', re.M)
_EXPORT = re.compile(r"^export (?=(?:async )?function (\w+)|const (\w+))", re.M)
_LEFT = re.compile(r"^\s*(?:import|export)\b|\bimport\s*[(.]", re.M)
_MODULE = re.compile(r'<script type="module" src="([^"]*/)?([\w.-]+\.js)"></script>')
_FOLDER = "assets/"


def is_module(script: bytes) -> bool:
    """Tell whether a script imports or exports."""
    return re.search(rb"^(?:import|export)\b", script, re.M) is not None


def plain_script(name: str, script: bytes) -> bytes:
    """Return module ``name`` as a plain script that does the same once the modules it imports have run.

    docs/assets/on-disk.js keeps what modules export. Raises ValueError for a form of import or export not known here.
    """
    text = script.decode("utf-8")
    exports = ", ".join(function or constant for function, constant in _EXPORT.findall(text))
    text = _IMPORT.sub(r'const { \1 } = onDisk.modules["\2"];', _EXPORT.sub("", text)).replace("import.meta.url", "onDiskHere")
    if found := _LEFT.search(text):
        raise ValueError(f"docs/{_FOLDER}{name}: {found.group().strip()!r} is not a form of import or export that a copy on a disk can have")
    head = '"use strict";\n(() => {\nconst onDiskHere = document.currentScript.src;'
    return f'{head}\n{text}\nonDisk.modules["{name}"] = {{ {exports} }};\n}})();\n'.encode()


def with_plain_scripts(html: str, modules: Mapping[str, bytes]) -> str:
    """Return a page that loads plain scripts, those that others import first. ``modules``: the site's, by file name."""

    def loaded(found: re.Match[str]) -> str:
        return "".join(f'<script src="{found[1] or ""}{name}" defer></script>' for name in _in_order(found[2], modules))

    return _MODULE.sub(loaded, html)


def _in_order(name: str, modules: Mapping[str, bytes]) -> list[str]:
    imported = [other for _, other in _IMPORT.findall(modules[name].decode("utf-8"))] if name in modules else []
    return [*dict.fromkeys(script for other in imported for script in _in_order(other, modules)), name]


def figures_script(content: bytes) -> bytes:
    """Return a JSON file as a script that hands its content over."""
    return b"onDisk(" + content.strip() + b");\n"
