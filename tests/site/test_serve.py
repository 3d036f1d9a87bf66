"""``rangebook serve``: on this machine alone, building anew when the book changes, ending quietly."""

from __future__ import annotations

import contextlib
import os
import queue
import re
import signal
import socket
import subprocess
import sys
import threading
import time
import urllib.error
import urllib.request
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from rangebook.cli import main

PATIENCE = 40
"""Seconds that a step may take on a busy machine; a test waits only for as long as it has to."""


class Served:
    """A running ``rangebook serve`` and what it says."""

    def __init__(self, root: Path, *more: str) -> None:
        self.process = subprocess.Popen(
            [sys.executable, "-m", "rangebook", "serve", "--root", str(root), *more],
            stdout=subprocess.PIPE,
            stderr=subprocess.STDOUT,
            text=True,
            env={**os.environ, "PYTHONUNBUFFERED": "1"},
        )
        self.lines: queue.Queue[str] = queue.Queue()
        self.said: list[str] = []
        threading.Thread(target=self._listen, daemon=True).start()

    def _listen(self) -> None:
        assert self.process.stdout
        for line in self.process.stdout:
            self.lines.put(line)

    def until(self, words: str) -> str:
        """The next line with these words in it."""
        end = time.monotonic() + PATIENCE
        while (left := end - time.monotonic()) > 0:
            with contextlib.suppress(queue.Empty):
                line = self.lines.get(timeout=left)
                self.said.append(line)
                if words in line:
                    return line
        raise AssertionError(f"it never said {words!r}, but: {''.join(self.said)}")

    @property
    def address(self) -> str:
        return re.search(r"http://\S+", self.until("http://")).group()

    def stop(self, how: int = signal.SIGINT) -> int:
        self.process.send_signal(how)
        return self.process.wait(PATIENCE)


@pytest.fixture
def serve(small_book: Path) -> Iterator[Callable[..., Served]]:
    running: list[Served] = []

    def start(*more: str) -> Served:
        running.append(Served(small_book, *more))
        return running[-1]

    yield start
    for one in running:
        one.process.kill()
        one.process.wait()


def fetch(address: str) -> tuple[int, str]:
    try:
        with urllib.request.urlopen(address, timeout=PATIENCE) as answer:
            return answer.status, answer.read().decode()
    except urllib.error.HTTPError as error:
        return error.code, error.read().decode()


def entry_of(book: Path) -> Path:
    return next((book / "entries" / "switches").glob("*.md"))


def test_it_serves_the_book_and_nothing_else(serve: Callable[..., Served], small_book: Path) -> None:
    served = serve("--port", "0")
    address = served.address
    assert address.startswith("http://127.0.0.1:")
    assert fetch(address)[0] == 200
    assert fetch(f"{address}switches/tamblin-gate/")[0] == 200
    assert fetch(f"{address}nowhere/")[0] == 404
    assert "nothing at this address" in fetch(f"{address}nowhere/")[1]
    assert fetch(f"{address}data/")[0] == 404, "no lists of files"
    assert fetch(f"{address}../entries/switches/tamblin-gate.md")[0] == 404
    assert fetch(f"{address}%2e%2e/%2e%2e/etc/passwd")[0] == 404
    with urllib.request.urlopen(address) as answer:
        policy = answer.headers["Content-Security-Policy"]
    assert "default-src 'none'" in policy and "unsafe" not in policy
    assert not (small_book / "site").exists(), "a published site is not what it works on"
    assert served.stop() == 0


def test_it_listens_on_this_machine_alone(serve: Callable[..., Served]) -> None:
    served = serve("--port", "0")
    port = int(served.address.rstrip("/").rpartition(":")[2])
    others = {info[4][0] for info in socket.getaddrinfo(socket.gethostname(), None, socket.AF_INET)} - {"127.0.0.1"}
    for other in others | {"127.0.0.2"}:
        with pytest.raises(OSError):  # noqa: PT011 - the system words it
            socket.create_connection((other, port), timeout=5).close()


def test_a_change_builds_anew_and_an_error_keeps_the_last_good_site(serve: Callable[..., Served], small_book: Path) -> None:
    served = serve("--port", "0")
    page = f"{served.address}switches/tamblin-gate/"
    entry = entry_of(small_book)
    good = entry.read_text("utf-8")
    entry.write_text(good + "\nThe newest note of all.\n", "utf-8")
    served.until("Built anew")
    assert "The newest note of all." in fetch(page)[1]
    entry.write_text(good.replace("kind: switch", "kind: switsch"), "utf-8")
    served.until("switsch")
    served.until("last good site is still shown")
    assert "The newest note of all." in fetch(page)[1]
    entry.write_text(good + "\nMended.\n", "utf-8")
    served.until("Built anew")
    assert "Mended." in fetch(page)[1]
    assert served.stop(signal.SIGTERM) == 0
    assert "Traceback" not in "".join(served.said)


def test_a_book_that_has_errors_from_the_start(serve: Callable[..., Served], small_book: Path) -> None:
    """It says what to mend and goes on watching."""
    entry = entry_of(small_book)
    good = entry.read_text("utf-8")
    entry.write_text(good.replace("kind: switch", "kind: switsch"), "utf-8")
    served = serve("--port", "0")
    served.until("switsch")
    address = served.address
    status, said = fetch(address)
    assert status == 503 and "errors" in said
    entry.write_text(good, "utf-8")
    served.until("Built anew")
    assert fetch(address)[0] == 200


def test_a_port_that_is_taken(serve: Callable[..., Served], small_book: Path, capsys: pytest.CaptureFixture[str]) -> None:
    with socket.socket() as other:
        other.bind(("127.0.0.1", 0))
        other.listen()
        port = other.getsockname()[1]
        assert main(["serve", "--root", str(small_book), "--port", str(port)]) == 2
        assert f"something else listens on port {port}" in capsys.readouterr().err


def test_the_next_port_that_is_free(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    from rangebook.site.live.serve import listen

    with socket.socket() as other:
        other.bind(("127.0.0.1", 0))
        other.listen()
        port = other.getsockname()[1]
        server = listen(tmp_path, None, port)
        assert server.server_port != port
        server.server_close()


@pytest.mark.parametrize("port", ["70000", "-1"])
def test_a_port_that_is_none(small_book: Path, port: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["serve", "--root", str(small_book), "--port", port]) == 2
    assert "from 1 to 65535" in capsys.readouterr().err


def test_a_changed_entry_is_shown_before_the_rest_follows(serve: Callable[..., Served], small_book: Path) -> None:
    """Its own page at once, the same bytes as the whole build makes; a page that waits is told."""
    served = serve("--port", "0")
    address = served.address
    page = f"{address}switches/tamblin-gate/"
    seen = re.search(r'<meta name="shown" content="(\w+)">', fetch(page)[1])
    assert seen
    entry = entry_of(small_book)
    entry.write_text(entry.read_text("utf-8") + "\nOne more line of notes.\n", "utf-8")
    served.until("Shown: switches/tamblin-gate")
    early = fetch(page)[1]
    assert "One more line of notes." in early
    told = fetch(f"{address}live/shown?page=/switches/tamblin-gate/")[1]
    now = re.search(r'<meta name="shown" content="(\w+)">', early)
    assert now and now.group(1) in told and now.group(1) != seen.group(1)
    served.until("Built anew")
    assert fetch(page)[1] == early


def test_findings_stand_at_the_top_of_the_page_that_they_concern(serve: Callable[..., Served], small_book: Path) -> None:
    served = serve("--port", "0")
    address = served.address
    page = f"{address}switches/tamblin-gate/"
    entry = entry_of(small_book)
    good = entry.read_text("utf-8")
    assert "Live-head" not in fetch(page)[1]
    entry.write_text(good.replace("closed: [P, N]", "closed: [P, N, D]", 1), "utf-8")
    served.until("last good site is still shown")
    shown = fetch(page)[1]
    assert "the starter could turn in gear" in shown.split('<header class="head">')[0] and "handbook/rules/start-path/" in shown
    assert "Live-head" not in fetch(f"{address}connectors/oval-9/")[1], "only where it concerns"
    entry.write_text(good.replace("kind: switch", "kind: swi<b>tch", 1), "utf-8")
    served.until("last good site is still shown")
    shown = fetch(page)[1]
    assert "swi&lt;b&gt;tch" in shown and "swi<b>tch" not in shown, "what cannot be read is told of over the last good page"
    entry.write_text(good, "utf-8")
    served.until("Built anew")
    assert "Live-head" not in fetch(page)[1]


def test_an_entry_that_goes_and_one_that_comes(serve: Callable[..., Served], small_book: Path) -> None:
    served = serve("--port", "0")
    address = served.address
    new = small_book / "entries/connectors/round-5.md"
    new.write_text((small_book / "entries/connectors/oval-9.md").read_text("utf-8").replace("id: oval-9", "id: round-5"), "utf-8")
    served.until("Built anew")
    assert fetch(f"{address}connectors/round-5/")[0] == 200
    new.unlink()
    served.until("Built anew")
    assert fetch(f"{address}connectors/round-5/")[0] == 404


def test_nothing_is_kept_on_the_device_while_one_writes(serve: Callable[..., Served]) -> None:
    address = serve("--port", "0").address
    assert "unregister" in fetch(f"{address}sw.js")[1]
    assert "register(" not in fetch(f"{address}book/shell/offline.js")[1]


def test_what_a_page_asks_for_leads_nowhere_else(serve: Callable[..., Served]) -> None:
    address = serve("--port", "0").address
    assert fetch(f"{address}live/shown?page=../../etc/")[1] == '{"shown": ""}'
    assert fetch(f"{address}live/../../../etc/passwd")[0] == 404


def test_what_somebody_is_in_the_middle_of_is_told_and_the_last_good_page_stays(serve: Callable[..., Served], small_book: Path) -> None:
    served = serve("--port", "0")
    page = f"{served.address}switches/tamblin-gate/"
    entry = entry_of(small_book)
    good = entry.read_bytes()
    middle = (good[:300], b"", good.replace(b"title: ", b"title: Gr\xf6\xdfe ", 1) + "Größe".encode())
    for spoilt in middle:
        entry.write_bytes(spoilt)
        served.until("last good site is still shown")
        shown = fetch(page)[1]
        assert "Live-head" in shown and "TB-20417" in shown
    entry.unlink()
    entry.mkdir()
    served.until("Built anew")
    assert fetch(page)[0] == 404, "a folder is no entry"
    entry.rmdir()
    entry.write_bytes(good)
    served.until("Built anew")
    assert "Live-head" not in fetch(page)[1]
    assert served.stop() == 0 and "Traceback" not in "".join(served.said)
