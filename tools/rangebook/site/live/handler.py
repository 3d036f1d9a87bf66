"""The served site with two things in each page that are in no file: what the linter has against the entry, at the top of its page, and a
script that loads the page again once it is another."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Callable, Sequence
from pathlib import Path
from urllib.parse import parse_qs

from rangebook.lint.finding import Finding
from rangebook.reading.files import FOLDERS
from rangebook.site.live.files import HTML, OK, TYPES, Answer, Environ
from rangebook.site.shared.render import render

_MAIN = b'<main id="Main" tabindex="-1">'
_SCRIPT = Path(__file__).parent / "live.js"

# Who writes wants the page as it is now, not the edition that a device has kept.
_NO_KEEPING = b"// `rangebook serve` keeps nothing on the device.\n"
_NO_WORKER = b"""addEventListener("install", () => skipWaiting());
addEventListener("activate", (event) => event.waitUntil(registration.unregister()));
"""

_JAVASCRIPT, _JSON = TYPES[".js"], TYPES[".json"]


class Shown:
    """What is shown at present: the files of ``site``, and on an entry's page what ``against`` says of its file."""

    def __init__(self, site: Path, against: Callable[[str], Sequence[Finding]]) -> None:
        self.site = site
        self._against = against

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


def entry_of(address: str) -> str:
    """The entry's file that a page is about, by the page's address; empty where it is about none."""
    parts = address.strip("/").split("/")
    return f"entries/{parts[0]}/{parts[1]}.md" if len(parts) == 2 and parts[0] in FOLDERS.values() else ""


def answer_of(shown: Shown, address: str, environ: Environ) -> Answer | None:
    """What is not simply a file of the site; ``None`` where it is one."""
    if ".." in address.split("/"):
        return None
    match address:
        case "live/live.js":
            return OK, _JAVASCRIPT, _SCRIPT.read_bytes()
        case "book/shell/offline.js":
            return OK, _JAVASCRIPT, _NO_KEEPING
        case "sw.js":
            return OK, _JAVASCRIPT, _NO_WORKER
        case "live/shown":
            # Answered at once: a page that waited for its next state here would keep a thread.
            page = parse_qs(environ.get("QUERY_STRING", "")).get("page", [""])[0].lstrip("/")
            mark = "" if ".." in page.split("/") or not page.isprintable() else shown.mark(page)
            return OK, _JSON, json.dumps({"shown": mark}).encode()
    data = shown.page(address) if address == "" or address.endswith("/") else None
    return (OK, HTML, data) if data else None
