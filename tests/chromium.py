"""Where Debian's Chromium is, and how it is started: headless, and asking nothing of the network for itself."""

from __future__ import annotations

import os
import shutil

FLAGS = (
    "--headless --no-sandbox --disable-gpu --disable-quic --no-first-run "
    "--disable-background-networking --disable-component-update --disable-sync"
).split()


def chromium() -> str | None:
    """Return the path of a Chromium, or None."""
    names = (os.environ.get("CHROMIUM"), "chromium", "chromium-browser", "google-chrome")
    return next((found for name in names if name and (found := shutil.which(name))), None)
