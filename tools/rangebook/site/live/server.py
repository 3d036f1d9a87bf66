"""A WSGI application on this machine alone.

It stands on waitress, and not on the standard library's server or one with a thread for each connection: there a client that sends a
letter a minute keeps a thread of its own, and two hundred of them keep everybody else out. Waitress reads all connections in one thread
and gives a request to one of a few others only when it is there as a whole; it closes those that stand still, holds their number down,
bounds headers and bodies, and needs nothing beside itself. Files we give out ourselves (``files.py``): libraries that do it list the
folder when they start, but ours is replaced after each edit, and they follow links.
"""

from __future__ import annotations

import logging
import select
import socket
import threading
from collections.abc import Iterable
from typing import Any

from waitress.channel import HTTPChannel
from waitress.server import create_server
from waitress.task import ErrorTask, Task, WSGITask
from waitress.wasyncore import close_all

from rangebook.site.live.files import TEXT, Application, Environ, Start
from rangebook.site.shared.policy import HEADERS

HOST = "127.0.0.1"

MOST_CONNECTIONS = 500
STANDS_STILL_SECONDS = 20
"""After so long a connection on which nothing is sent or read is closed."""

LARGEST_HEADER = 16_384
LARGEST_BODY = 16_384
"""Bytes. Nothing that is sent here is looked at."""

_OURS = {"Cache-Control": "no-cache", **HEADERS}
"""What every answer carries: a page must be new after a build, and must not reach for other hosts."""


class _Headers(Task):
    def build_response_header(self) -> bytes:
        """On every answer, also those that the library gives by itself."""
        self.response_headers = [*self.response_headers, *_OURS.items()]
        return super().build_response_header()


class _Answer(_Headers, WSGITask):
    pass


class _Refusal(_Headers, ErrorTask):
    pass


class _Channel(HTTPChannel):
    task_class = _Answer
    error_task_class = _Refusal


class Server:
    """Bound to a port, not serving yet. Raises ``OSError`` where the port cannot be had."""

    def __init__(self, application: Application, port: int) -> None:
        listening = socket.create_server((HOST, port))
        self.server_port: int = listening.getsockname()[1]
        # That a request waits for a moment is no news to who reads findings.
        logging.getLogger("waitress.queue").setLevel(logging.ERROR)
        self._sockets: dict[int, Any] = {}
        # Of one socket it is one server; its type says less of that than we use.
        made: Any = create_server(
            _asked_by_our_name(application, self.server_port),
            map=self._sockets,
            sockets=[listening],
            ident="rangebook",
            threads=4,
            connection_limit=MOST_CONNECTIONS,
            channel_timeout=STANDS_STILL_SECONDS,
            cleanup_interval=5,
            max_request_header_size=LARGEST_HEADER,
            max_request_body_size=LARGEST_BODY,
            asyncore_use_poll=hasattr(select, "poll"),  # select alone ends at 1024 open files
        )
        self._server = made
        self._server.channel_class = _Channel
        self._ended = threading.Event()
        self._ended.set()

    def serve_forever(self) -> None:
        """Answer until :meth:`shutdown`."""
        self._ended.clear()
        try:
            self._server.run()
        finally:
            self._ended.set()

    def shutdown(self) -> None:
        """End it, whoever is still reading; from another thread."""
        # An answer that is being made tells the serving thread when it is done, by what that closes at its end.
        self._server.task_dispatcher.shutdown()
        # Connections belong to the thread that serves them: it closes them itself.
        self._server.trigger.pull_trigger(self._close)
        self._ended.wait()

    def server_close(self) -> None:
        """Let go of the port."""
        self._close()
        self._server.task_dispatcher.shutdown()

    def _close(self) -> None:
        close_all(self._sockets)


def _asked_by_our_name(application: Application, port: int) -> Application:
    """A page of somewhere else whose name its owner lets lead to this machine asks by that name, and gets nothing: DNS rebinding."""
    ours = {f"{name}:{port}" for name in (HOST, "localhost", "[::1]")}
    if port == 80:
        ours |= {HOST, "localhost", "[::1]"}

    def checked(environ: Environ, start: Start) -> Iterable[bytes]:
        if str(environ.get("HTTP_HOST", "")).lower() in ours:
            return application(environ, start)
        said = f"This server answers only as http://{HOST}:{port}/ on this machine.\n".encode()
        start("421 Misdirected Request", [("Content-Type", TEXT), ("Content-Length", str(len(said)))])
        return [] if environ["REQUEST_METHOD"] == "HEAD" else [said]

    return checked
