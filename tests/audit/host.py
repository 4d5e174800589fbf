"""The built site served as a real host would: compressed, kept alive, with the headers that DEVELOPERS.md asks for."""

from __future__ import annotations

import gzip
import mimetypes
import threading
from collections import Counter
from collections.abc import Iterator
from contextlib import contextmanager
from functools import lru_cache
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from urllib.parse import unquote, urlsplit

# What DEVELOPERS.md ("Scripts and the content-security policy") tells a host to send; a test holds the two together.
HEADERS = {
    "Content-Security-Policy": "frame-ancestors 'none'",
    "X-Content-Type-Options": "nosniff",
    "Referrer-Policy": "no-referrer",
}
_TEXT = ("text/", "application/json", "application/javascript", "application/xml", "application/atom+xml", "image/svg+xml")
_KINDS = {".js": "text/javascript", ".svg": "image/svg+xml", ".bib": "text/plain"}


@lru_cache(maxsize=4000)
def _answer(site: Path, path: str) -> tuple[int, str, bytes, bool]:
    """Return (status, content type, body, compressed) of a path below the site."""
    name = unquote(urlsplit(path).path).lstrip("/")
    file = (site / name / "index.html") if not name or name.endswith("/") else site / name
    status = 200
    if not file.resolve().is_relative_to(site.resolve()) or not file.is_file():
        status, file = 404, site / "404.html"
    kind = _KINDS.get(file.suffix) or mimetypes.guess_type(file.name)[0] or "application/octet-stream"
    kind = f"{kind}; charset=utf-8" if kind.startswith("text/") else kind
    body = file.read_bytes()
    return (status, kind, gzip.compress(body, 9), True) if kind.startswith(_TEXT) else (status, kind, body, False)


class Host(ThreadingHTTPServer):
    """Serves one folder on a free local port; ``sent`` counts the bytes of each answer, headers included, by path."""

    daemon_threads = True

    def __init__(self, site: Path) -> None:
        super().__init__(("127.0.0.1", 0), _Handler)
        self.site, self.sent, self.lock = site, Counter(), threading.Lock()

    @property
    def address(self) -> str:
        return f"http://127.0.0.1:{self.server_port}/"

    def handle_error(self, request, client_address) -> None:
        """A browser that closes a page early is not an error of ours."""


class _Handler(BaseHTTPRequestHandler):
    protocol_version = "HTTP/1.1"
    wbufsize = -1  # one packet for headers and body where it fits, as servers do
    server: Host

    def do_GET(self) -> None:
        status, kind, body, compressed = _answer(self.server.site, self.path)
        self.send_response(status)
        for name, value in HEADERS.items():
            self.send_header(name, value)
        self.send_header("Content-Type", kind)
        self.send_header("Cache-Control", "public, max-age=600")
        if compressed:
            self.send_header("Content-Encoding", "gzip")
            self.send_header("Vary", "Accept-Encoding")
        self.send_header("Content-Length", str(len(body)))
        head = sum(len(line) for line in self._headers_buffer) + 2
        self.end_headers()
        self.wfile.write(body)
        with self.server.lock:
            self.server.sent[urlsplit(self.path).path] += head + len(body)

    def log_message(self, *_: object) -> None:
        pass


@contextmanager
def hosted(site: Path) -> Iterator[Host]:
    """Serve a built site while the block runs."""
    host = Host(site)
    threading.Thread(target=host.serve_forever, daemon=True).start()
    try:
        yield host
    finally:
        host.shutdown()
        host.server_close()
