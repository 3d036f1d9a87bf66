"""The served site with two things in each page that are in no file: what the linter has against the entry, at the top of its page, and a
script that loads the page again once it is another."""

from __future__ import annotations

import hashlib
import json
import threading
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Any
from urllib.parse import parse_qs, unquote, urlsplit

from rangebook.lint.finding import Finding
from rangebook.reading.files import FOLDERS
from rangebook.site.shared.render import render

WAIT_SECONDS = 20.0
"""So long a page that has not changed is asked to wait for an answer."""

_MAIN = b'<main id="Main" tabindex="-1">'
_SCRIPT = Path(__file__).parent / "live.js"

# Who writes wants the page as it is now, not the edition that a device has kept.
_NO_KEEPING = b"// `rangebook serve` keeps nothing on the device.\n"
_NO_WORKER = b"""addEventListener("install", () => skipWaiting());
addEventListener("activate", (event) => event.waitUntil(registration.unregister()));
"""

_JAVASCRIPT, _JSON, _HTML = ("text/javascript; charset=utf-8", "application/json", "text/html; charset=utf-8")


class Shown:
    """What is shown at present: the files of ``site``, and on an entry's page what ``against`` says of its file."""

    def __init__(self, site: Path, against: Callable[[str], Sequence[Finding]]) -> None:
        self.site = site
        self._against = against
        self._changed = threading.Condition()

    def tell(self) -> None:
        """Something of it is another: let the pages that wait look."""
        with self._changed:
            self._changed.notify_all()

    def page(self, address: str) -> bytes | None:
        """A page by its address from the top of the site, as it is shown now; ``None`` where there is none."""
        try:
            data = (self.site / address / "index.html").read_bytes()
        except OSError:
            return None
        if _MAIN in data:
            findings = self._against(entry_of(address))
            top = render("live_findings.html", "/".join([".."] * address.count("/")) or ".", "", {"findings": findings}) if findings else ""
            data = data.replace(_MAIN, _MAIN + top.encode(), 1)
        mark = hashlib.sha256(data).hexdigest()[:16]
        head = f'<meta name="shown" content="{mark}"><script type="module" src="/live/live.js"></script></head>'
        return data.replace(b"</head>", head.encode(), 1)

    def mark(self, address: str) -> str:
        """What tells one state of a page from another; empty where there is no such page."""
        data = self.page(address)
        return data.split(b'<meta name="shown" content="', 1)[1][:16].decode() if data else ""

    def wait(self, address: str, seen: str) -> str:
        """The mark of a page once it is not ``seen`` any more, or after a while."""
        with self._changed:
            self._changed.wait_for(lambda: self.mark(address) != seen, WAIT_SECONDS)
        return self.mark(address)


def entry_of(address: str) -> str:
    """The entry's file that a page is about, by the page's address; empty where it is about none."""
    parts = address.strip("/").split("/")
    return f"entries/{parts[0]}/{parts[1]}.md" if len(parts) == 2 and parts[0] in FOLDERS.values() else ""


def answer_of(shown: Shown, path: str) -> tuple[str, bytes] | None:
    """Type and content of what is not simply a file of the site; ``None`` where it is one."""
    parts = urlsplit(path)
    address = unquote(parts.path).lstrip("/")
    if ".." in address.split("/") or "\0" in address:
        return None
    if address == "live/live.js":
        return _JAVASCRIPT, _SCRIPT.read_bytes()
    if address == "book/shell/offline.js":
        return _JAVASCRIPT, _NO_KEEPING
    if address == "sw.js":
        return _JAVASCRIPT, _NO_WORKER
    if address == "live/wait":
        asked = parse_qs(parts.query)
        page = asked.get("page", [""])[0].lstrip("/")
        mark = "" if ".." in page.split("/") else shown.wait(page, asked.get("seen", [""])[0])
        return _JSON, json.dumps({"shown": mark}).encode()
    if address == "" or address.endswith("/"):
        data = shown.page(address)
        return (_HTML, data) if data else None
    return None


def with_live(handler: type[Any], shown: Shown) -> type[Any]:
    """A handler of files that answers these as well."""

    class Live(handler):  # type: ignore[misc] # which class serves files is the caller's choice
        def do_GET(self) -> None:  # noqa: N802 (the library's name)
            """A file, or what is made of one."""
            found = answer_of(shown, self.path)
            if found is None:
                super().do_GET()
                return
            kind, data = found
            self.send_response(200)
            self.send_header("Content-Type", kind)
            self.send_header("Content-Length", str(len(data)))
            self.end_headers()
            self.wfile.write(data)

    return Live
