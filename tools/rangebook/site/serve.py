"""The site on this machine alone, built anew whenever the book changes.

It is built into a folder of its own, never over a site that is published, and served from there. A build that fails
leaves the last good one in place.
"""

from __future__ import annotations

import signal
import sys
import tempfile
import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from functools import partial
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from typing import Any

from rangebook.schema.store import SchemaError
from rangebook.site.build import NotBuiltError, build_site
from rangebook.site.gate import NotCleanError, checked

HOST = "127.0.0.1"
LOOK_EVERY_SECONDS = 0.7
_TRIED_PORTS = 20

CONTENT_SECURITY_POLICY = (
    "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data:; connect-src 'self'; "
    "worker-src 'self'; manifest-src 'self'; base-uri 'none'; form-action 'self'; frame-ancestors 'none'"
)
"""Nothing from another host, and nothing that stands in a page itself is run."""

_NOTHING_YET = b"""<!doctype html><html lang="en"><meta charset="utf-8"><title>Not built yet</title>
<h1>The book has errors</h1><p>There is nothing to show yet. The terminal says what to mend; then load this page again.</p></html>
"""


Say = Callable[[str], None]
"""Something for the person at the terminal to read."""


class PortTakenError(Exception):
    """Something else listens on the port that was asked for."""


class Handler(SimpleHTTPRequestHandler):
    """Files of the site, nothing else, without a line on the screen for each."""

    server_version = "rangebook"
    extensions_map = {
        **SimpleHTTPRequestHandler.extensions_map,
        ".js": "text/javascript; charset=utf-8",
        ".css": "text/css; charset=utf-8",
        ".html": "text/html; charset=utf-8",
        ".json": "application/json; charset=utf-8",
        ".svg": "image/svg+xml",
    }

    def log_message(self, format: str, *args: Any) -> None:
        """Quiet: the terminal is for findings."""

    def end_headers(self) -> None:
        """What every answer carries: a page must be new after a build, and must not reach for other hosts."""
        self.send_header("Cache-Control", "no-cache")
        self.send_header("X-Content-Type-Options", "nosniff")
        self.send_header("Referrer-Policy", "no-referrer")
        self.send_header("Content-Security-Policy", CONTENT_SECURITY_POLICY)
        super().end_headers()

    def list_directory(self, path: Any) -> None:  # type: ignore[override]
        """No lists of files."""
        self.send_error(404)

    def send_error(self, code: int, message: str | None = None, explain: str | None = None) -> None:
        """The site's own page for an address that leads nowhere."""
        page = Path(self.directory) / "404.html"
        if code != 404:
            super().send_error(code, message, explain)
            return
        try:
            body, status = page.read_bytes(), 404
        except OSError:
            body, status = _NOTHING_YET, 503
        self.send_response(status)
        self.send_header("Content-Type", "text/html; charset=utf-8")
        self.send_header("Content-Length", str(len(body)))
        self.end_headers()
        if self.command != "HEAD":
            self.wfile.write(body)


class Server(ThreadingHTTPServer):
    """Ends at once, whoever is still reading."""

    daemon_threads = True
    block_on_close = False

    def handle_error(self, request: Any, client_address: Any) -> None:
        """A browser that goes away in the middle is no news; anything else is."""
        if not isinstance(sys.exc_info()[1], ConnectionError):
            super().handle_error(request, client_address)


def serve(root: Path, port: int | None, default_port: int, say: Say, complain: Say) -> None:
    """Build, serve and watch until interrupted. ``port`` ``None``: the default one, or the next that is free.

    Raises :class:`PortTakenError`. An interrupt (Ctrl-C, or a polite kill) ends it quietly.
    """
    with tempfile.TemporaryDirectory(prefix="rangebook-") as folder, _interruptible():
        site = Path(folder) / "site"
        server = listen(site, port, default_port)
        # From here on the book as it was before the first build: a change during it is seen as one.
        before = state(root)
        try:
            rebuild(root, site, complain)
            threading.Thread(target=server.serve_forever, daemon=True).start()
            say(f"The book is at http://{HOST}:{server.server_port}/ (Ctrl-C ends it)")
            watch(root, site, before, say, complain)
        except KeyboardInterrupt:
            pass
        finally:
            server.server_close()


def listen(site: Path, port: int | None, default_port: int) -> Server:
    """A server bound to the port, not serving yet. Raises :class:`PortTakenError`."""
    handler = partial(Handler, directory=str(site))
    wanted = [port] if port is not None else [*range(default_port, default_port + _TRIED_PORTS), 0]
    for one in wanted:
        try:
            return Server((HOST, one), handler)
        except PermissionError as error:
            raise PortTakenError(f"port {one} is not for everyone: name one above 1023 with --port") from error
        except OSError:
            continue
    raise PortTakenError(f"something else listens on port {port}: name another with --port, or leave it out")


def rebuild(root: Path, site: Path, complain: Say) -> bool:
    """Build, and say what keeps it from being built; the last good site then stays."""
    try:
        book = checked(root)
        build_site(book, site)
        return True
    except NotCleanError as error:
        complain(f"{error}not built, because of the errors above" + ("; the last good site is still shown" if site.is_dir() else ""))
    except (NotBuiltError, SchemaError, OSError) as error:
        complain(str(error))
    return False


def watch(root: Path, site: Path, before: dict[str, tuple[int, int]], say: Say, complain: Say) -> None:
    """Build anew after each change, until interrupted. A change is looked at once the files have stood still for a moment."""
    pause = threading.Event()
    while True:
        pause.wait(LOOK_EVERY_SECONDS)
        now = state(root)
        if now == before:
            continue
        pause.wait(LOOK_EVERY_SECONDS / 2)
        settled = state(root)
        if settled != now:
            continue
        before = settled
        if rebuild(root, site, complain):
            say("Built anew: load the page again.")


def state(root: Path) -> dict[str, tuple[int, int]]:
    """Every file of the book by name, with when it was written and how long it is."""
    found = {}
    for folder in ("entries", "schema"):
        for path in (root / folder).rglob("*"):
            try:
                facts = path.stat()
            except OSError:  # gone between the listing and the look
                continue
            if path.is_file():
                found[str(path)] = (facts.st_mtime_ns, facts.st_size)
    return found


@contextmanager
def _interruptible() -> Iterator[None]:
    """A polite kill is an interrupt, so that the folder is cleared away."""

    def interrupt(*_: Any) -> None:
        raise KeyboardInterrupt

    if threading.current_thread() is not threading.main_thread():
        yield
        return
    old = signal.signal(signal.SIGTERM, interrupt)
    try:
        yield
    finally:
        signal.signal(signal.SIGTERM, old)
