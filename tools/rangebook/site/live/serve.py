"""The site on this machine alone, built anew whenever the book changes; an entry's own page is there at once.

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
from rangebook.site.generator.build import NotBuiltError, build_site
from rangebook.site.generator.gate import NotCleanError, checked
from rangebook.site.live.handler import Shown, with_live
from rangebook.site.live.loop import Loop
from rangebook.site.output.state import state
from rangebook.site.shared.policy import HEADERS

HOST = "127.0.0.1"
_TRIED_PORTS = 20

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
    extensions_map = {  # noqa: RUF012 - as the class above has it
        **SimpleHTTPRequestHandler.extensions_map,
        ".js": "text/javascript; charset=utf-8",
        ".css": "text/css; charset=utf-8",
        ".html": "text/html; charset=utf-8",
        ".json": "application/json; charset=utf-8",
        ".svg": "image/svg+xml",
        ".webmanifest": "application/manifest+json",
        ".csv": "text/csv; charset=utf-8",
    }

    def log_message(self, format: str, *args: Any) -> None:  # noqa: A002 - the class above names it so
        """Quiet: the terminal is for findings."""

    def end_headers(self) -> None:
        """What every answer carries: a page must be new after a build, and must not reach for other hosts."""
        self.send_header("Cache-Control", "no-cache")
        for name, value in HEADERS.items():
            self.send_header(name, value)
        super().end_headers()

    def list_directory(self, path: Any) -> None:  # noqa: ARG002 - the class above asks for it
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


def serve(root: Path, whole: bool, port: int | None, default_port: int, say: Say, complain: Say) -> None:
    """Build, serve and watch until interrupted. ``whole``: all of the book's own ``mkdocs.yml``, programs and all. ``port`` ``None``: the
    default one, or the next that is free.

    Raises :class:`PortTakenError`. An interrupt (Ctrl-C, or a polite kill) ends it quietly.
    """
    with tempfile.TemporaryDirectory(prefix="rangebook-") as folder, _interruptible():
        site = Path(folder) / "site"
        shown = Shown(site, lambda file: loop.against(file))  # noqa: PLW0108 - there is no loop yet
        loop = Loop(root, site, whole, say, complain, shown.tell)
        server = listen(site, port, default_port, with_live(Handler, shown))
        # From here on the book as it was before the first build: a change during it is seen as one.
        before = state(root)
        try:
            rebuild(root, site, whole, complain)
            threading.Thread(target=server.serve_forever, daemon=True).start()
            say(f"The book is at http://{HOST}:{server.server_port}/ (Ctrl-C ends it)")
            loop.run(before)
        except KeyboardInterrupt:
            pass
        finally:
            loop.stop()
            server.server_close()


def listen(site: Path, port: int | None, default_port: int, kind: type[Handler] = Handler) -> Server:
    """A server bound to the port, not serving yet. Raises :class:`PortTakenError`."""
    handler = partial(kind, directory=str(site))
    wanted = [port] if port is not None else [*range(default_port, default_port + _TRIED_PORTS), 0]
    for one in wanted:
        try:
            return Server((HOST, one), handler)
        except PermissionError as error:
            raise PortTakenError(f"port {one} is not for everyone: name one above 1023 with --port") from error
        except OSError:
            continue
    raise PortTakenError(f"something else listens on port {port}: name another with --port, or leave it out")


def rebuild(root: Path, site: Path, whole: bool, complain: Say) -> bool:
    """Build, and say what keeps it from being built; the last good site then stays."""
    try:
        book = checked(root)
        build_site(book, site, whole)
        return True
    except NotCleanError as error:
        complain(f"{error}not built, because of the errors above" + ("; the last good site is still shown" if site.is_dir() else ""))
    except (NotBuiltError, SchemaError, OSError) as error:
        complain(str(error))
    return False


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
