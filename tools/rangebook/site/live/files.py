"""The files of a site as a WSGI application, and the one way in which anything of ours answers a request."""

from __future__ import annotations

import mimetypes
from collections.abc import Callable, Iterable, Iterator
from pathlib import Path
from typing import Any
from urllib.parse import quote

from rangebook.reading.links import refuse_links

Environ = dict[str, Any]
Answer = tuple[str, str, bytes]
"""Status line, content type and content."""

Start = Callable[..., Any]
Application = Callable[[Environ, Start], Iterable[bytes]]
"""As PEP 3333 has it."""

TYPES = {
    ".js": "text/javascript; charset=utf-8",
    ".css": "text/css; charset=utf-8",
    ".html": "text/html; charset=utf-8",
    ".json": "application/json; charset=utf-8",
    ".svg": "image/svg+xml",
    ".webmanifest": "application/manifest+json",
    ".csv": "text/csv; charset=utf-8",
}
"""Beside what Python knows itself, and in the place of it: some systems change that."""

OK, NOT_FOUND = "200 OK", "404 Not Found"
HTML, TEXT = TYPES[".html"], "text/plain; charset=utf-8"

_NOTHING_YET = b"""<!doctype html><html lang="en"><meta charset="utf-8"><title>Not built yet</title>
<h1>The book has errors</h1><p>There is nothing to show yet. The terminal says what to mend; then load this page again.</p></html>
"""


class BadAddressError(ValueError):
    """An address that cannot be one of anything here."""


def address_of(environ: Environ) -> str:
    """What a request asks for, as text without the first slash. Raises :class:`BadAddressError`."""
    try:
        address = str(environ.get("PATH_INFO", "")).encode("latin-1").decode("utf-8").removeprefix("/")
    except UnicodeError as error:
        raise BadAddressError("not UTF-8") from error
    if not address.isprintable():
        raise BadAddressError("a character that no address has")
    return address


def site_of(folder: Path, more: Callable[[str, Environ], Answer | None] = lambda address, environ: None) -> Application:
    """What answers with the files of a folder and nothing else; ``more`` says first what an address gets that is not simply a file."""

    def answer(environ: Environ) -> tuple[Answer, list[tuple[str, str]]]:
        if environ["REQUEST_METHOD"] not in ("GET", "HEAD"):
            return ("405 Method Not Allowed", TEXT, b"This server only shows.\n"), [("Allow", "GET, HEAD")]
        try:
            address = address_of(environ)
        except BadAddressError:
            return ("400 Bad Request", TEXT, b"This is no address.\n"), []
        if found := more(address, environ):
            return found, []
        place = _place(folder, address)
        if place and place.is_dir() and address and not address.endswith("/"):
            return ("301 Moved Permanently", TEXT, b""), [("Location", quote(f"/{address}/"))]
        return _file(folder, place), []

    def application(environ: Environ, start: Start) -> Iterable[bytes]:
        (status, kind, data), headers = answer(environ)
        start(status, [("Content-Type", kind), ("Content-Length", str(len(data))), *headers])
        return [] if environ["REQUEST_METHOD"] == "HEAD" else [data]

    return application


def _place(folder: Path, address: str) -> Path | None:
    """Where an address leads to in the folder; ``None`` where it leads out of it, by its own steps or by a link."""
    steps = [step for step in address.split("/") if step]
    if any(step in (".", "..") or "\\" in step or ":" in step for step in steps):
        return None
    place = folder.joinpath(*steps)
    try:
        refuse_links(folder, place)
        # A file is asked for without a slash at the end, a page with one.
        return place if place.is_dir() or not address.endswith("/") else None
    except OSError:
        return None


def _candidates(place: Path | None) -> Iterator[Path]:
    if place:
        yield place / "index.html" if place.is_dir() else place


def _file(folder: Path, place: Path | None) -> Answer:
    for one in _candidates(place):
        try:
            refuse_links(folder, one)
            if one.is_file():
                kind = TYPES.get(one.suffix) or mimetypes.guess_type(one.name)[0] or "application/octet-stream"
                return OK, kind, one.read_bytes()
        except OSError:
            break
    try:
        return NOT_FOUND, HTML, (folder / "404.html").read_bytes()
    except OSError:
        return "503 Service Unavailable", HTML, _NOTHING_YET
