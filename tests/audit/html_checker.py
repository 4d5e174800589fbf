"""The Nu HTML checker over every page of the built site."""

from __future__ import annotations

import json
import subprocess
from pathlib import Path


def html_errors(tools: Path, site: Path) -> tuple[int, list[str]]:
    """Return (pages looked at, errors as 'page:line: message'). Raises RuntimeError when the checker did not run.

    The pages of the copy to download are the same pages packed in an archive; the checker sees each page once.
    """
    jar = next(tools.glob("node_modules/vnu-jar/build/dist/vnu.jar"), None)
    if jar is None:
        raise RuntimeError("the HTML checker's archive is not in its package")
    pages = len(list(site.rglob("*.html")))
    command = ["java", "-jar", str(jar), "--skip-non-html", "--errors-only", "--format", "json", str(site)]
    done = subprocess.run(command, capture_output=True, text=True, timeout=600, check=False)
    try:
        messages = json.loads(done.stderr)["messages"]
    except (json.JSONDecodeError, KeyError):
        raise RuntimeError(f"the HTML checker ended with {done.returncode}: {done.stderr.strip()[-600:]}") from None
    prefix = f"file:{site.resolve()}/"
    return pages, [f"{m.get('url', '').removeprefix(prefix)}:{m.get('lastLine', '?')}: {m['message']}" for m in messages]
