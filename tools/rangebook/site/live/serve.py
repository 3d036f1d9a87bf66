"""The site on this machine alone, built anew whenever the book changes; an entry's own page is there at once.

It is built into a folder of its own, never over a site that is published, and served from there. A build that fails
leaves the last good one in place.
"""

from __future__ import annotations

import signal
import tempfile
import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from functools import partial
from pathlib import Path
from typing import Any

from rangebook.schema.errors import SchemaError
from rangebook.site.generator.build import NotBuiltError, build_site
from rangebook.site.generator.gate import NotCleanError, checked
from rangebook.site.live.files import Application, site_of
from rangebook.site.live.handler import Shown, answer_of
from rangebook.site.live.loop import Loop
from rangebook.site.live.server import HOST, Server
from rangebook.site.output.state import state

_TRIED_PORTS = 20

Say = Callable[[str], None]
"""Something for the person at the terminal to read."""


class PortTakenError(Exception):
    """Something else listens on the port that was asked for."""


def serve(root: Path, whole: bool, port: int | None, default_port: int, say: Say, complain: Say) -> None:
    """Build, serve and watch until interrupted. ``whole``: all of the book's own ``mkdocs.yml``, programs and all. ``port`` ``None``: the
    default one, or the next that is free.

    Raises :class:`PortTakenError`. An interrupt (Ctrl-C, or a polite kill) ends it quietly.
    """
    with tempfile.TemporaryDirectory(prefix="rangebook-") as folder, _interruptible():
        site = Path(folder) / "site"
        shown = Shown(site, lambda file: loop.against(file))  # noqa: PLW0108 - there is no loop yet
        loop = Loop(root, site, whole, say, complain)
        server = listen(site, port, default_port, site_of(site, partial(answer_of, shown)))
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
            server.shutdown()
            server.server_close()


def listen(site: Path, port: int | None, default_port: int, application: Application | None = None) -> Server:
    """A server bound to the port, not serving yet: of the files of ``site``, or an ``application`` in their place. Raises
    :class:`PortTakenError`.
    """
    wanted = [port] if port is not None else [*range(default_port, default_port + _TRIED_PORTS), 0]
    for one in wanted:
        try:
            return Server(application or site_of(site), one)
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
