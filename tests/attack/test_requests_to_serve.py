"""What other programs and pages of other hosts can send to ``rangebook serve``."""

from __future__ import annotations

import contextlib
import os
import socket
import threading
import time
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest

from rangebook.site.live import server as server_module
from rangebook.site.live.serve import listen
from rangebook.site.live.server import LARGEST_HEADER, Server
from rangebook.site.shared.policy import HEADERS

SECRET = "only the reviewer may see this"


@pytest.fixture
def site(tmp_path: Path) -> Path:
    folder = tmp_path / "site"
    (folder / "kits" / "a b").mkdir(parents=True)
    (folder / "index.html").write_text("the start", "utf-8")
    (folder / "404.html").write_text("nothing at this address", "utf-8")
    (folder / "kits" / "a b" / "index.html").write_text("a kit", "utf-8")
    (folder / "kits" / "large.json").write_bytes(b"[" + b" " * 3_000_000 + b"]")
    (tmp_path / "secret").write_text(SECRET, "utf-8")
    return folder


@contextlib.contextmanager
def running(server: Server) -> Iterator[int]:
    threading.Thread(target=server.serve_forever, daemon=True).start()
    yield server.server_port
    server.shutdown()
    server.server_close()


@pytest.fixture
def port(site: Path) -> Iterator[int]:
    with running(listen(site, 0, 0)) as number:
        yield number


def send(port: int, request: bytes, patience: float = 20) -> tuple[int, dict[str, str], bytes]:
    """Status, headers by small names, and body of the one answer that a request gets."""
    with socket.create_connection(("127.0.0.1", port), timeout=patience) as link:
        link.sendall(request)
        link.shutdown(socket.SHUT_WR)
        data = b""
        while piece := link.recv(65536):
            data += piece
    head, _, body = data.partition(b"\r\n\r\n")
    first, *lines = head.decode("latin-1").split("\r\n")
    return int(first.split()[1]), {name.lower(): value.strip() for name, _, value in (line.partition(":") for line in lines)}, body


def get(port: int, target: str = "/", host: str | None = None, method: str = "GET", more: str = "") -> tuple[int, dict[str, str], bytes]:
    named = f"127.0.0.1:{port}" if host is None else host.format(port=port)
    return send(port, f"{method} {target} HTTP/1.1\r\nHost: {named}\r\nConnection: close\r\n{more}\r\n".encode("latin-1"))


@pytest.mark.parametrize("host", ["127.0.0.1:{port}", "localhost:{port}", "LOCALHOST:{port}", "[::1]:{port}"])
def test_it_answers_by_the_names_of_this_machine(port: int, host: str) -> None:
    status, _, body = get(port, host=host)
    assert (status, body) == (200, b"the start")


@pytest.mark.parametrize(
    "host",
    ["rebound.invalid", "rebound.invalid:{port}", "127.0.0.1", "127.0.0.1:1", "localhost.rebound.invalid:{port}", "", "127.0.0.1:{port}.x"],
)
def test_and_by_no_other_name(port: int, host: str) -> None:
    """DNS rebinding. 421 Misdirected Request: RFC 9110, 15.5.20 (from memory)."""
    status, _, body = get(port, host=host)
    assert status == 421 and b"the start" not in body
    assert get(port, "/live/shown?page=/", host=host)[0] == 421


def test_two_names_or_none_are_no_name(port: int) -> None:
    for head in ("", f"Host: 127.0.0.1:{port}\r\nHost: rebound.invalid\r\n"):
        status, _, body = send(port, f"GET / HTTP/1.1\r\n{head}Connection: close\r\n\r\n".encode())
        assert status in (400, 421) and b"the start" not in body
    assert get(port, f"http://rebound.invalid:{port}/", host=f"rebound.invalid:{port}")[0] == 421


@pytest.mark.parametrize("target", ["/%00", "/kits/%00/", "/index.html%00.txt", "/%0a", "/kits/%1b[2J", "/%ff%fe", "/%c0%ae%c0%ae/secret"])
def test_what_is_no_address_is_a_bad_request(port: int, target: str) -> None:
    assert get(port, target)[0] == 400


@pytest.mark.parametrize(
    "target",
    [
        "/../secret",
        "/%2e%2e/secret",
        "/kits/..%2f..%2fsecret",
        "/..%5csecret",
        "//secret",
        "/%2fetc/passwd",
        "/./index.html",
        "/C:/secret",
        "/" + "a" * 5000,
        "/" + "a/" * 2000,
        "/index.html/",
        "/kits/",
        "/?x=/../secret",
    ],
)
def test_nothing_outside_the_site_and_no_lists_of_files(port: int, target: str) -> None:
    status, _, body = get(port, target)
    assert SECRET.encode() not in body and b"large.json" not in body
    assert (status, body) == ((200, b"the start") if target.startswith("/?") else (404, b"nothing at this address"))


def test_links_out_of_the_site_are_not_served(site: Path, port: int) -> None:
    (site / "secret").symlink_to(site.parent / "secret")
    (site / "all").symlink_to(site.parent)
    (site / "page").mkdir()
    (site / "page" / "index.html").symlink_to(site.parent / "secret")
    os.mkfifo(site / "pipe")
    for target in ("/secret", "/all/secret", "/page/", "/pipe", "/all"):
        status, _, body = get(port, target)
        assert status == 404 and SECRET.encode() not in body, target


def test_a_page_without_its_slash_leads_to_it(port: int) -> None:
    status, headers, _ = get(port, "/kits/a%20b")
    assert (status, headers["location"]) == (301, "/kits/a%20b/")
    assert get(port, "//kits/a%20b")[1]["location"] == "/kits/a%20b/", "never to another host"
    assert get(port, "/kits/a%20b/")[2] == b"a kit"


def test_every_answer_carries_the_policy(port: int) -> None:
    answers = {
        200: get(port),
        301: get(port, "/kits"),
        400: get(port, "/%00"),
        404: get(port, "/nowhere"),
        405: get(port, method="DELETE"),
        413: get(port, method="POST", more="Content-Length: 100000000\r\n"),
        421: get(port, host="rebound.invalid"),
        # Not a byte more: what the server has not read when it closes would reset the connection.
        431: send(port, b"GET / HTTP/1.1\r\nX: ".ljust(LARGEST_HEADER, b"a")),
        501: get(port, method="POST", more="Transfer-Encoding: gzip\r\n"),
    }
    for expected, (status, headers, _) in answers.items():
        assert status == expected
        assert {name: headers.get(name.lower()) for name in HEADERS} == dict(HEADERS), status
        assert headers["cache-control"] == "no-cache"


def test_head_has_no_body(port: int) -> None:
    status, headers, body = get(port, method="HEAD")
    assert (status, headers["content-length"], body) == (200, "9", b"")


def test_two_hundred_clients_at_once(port: int) -> None:
    ready = threading.Barrier(200)

    def client(_: int) -> tuple[int, int]:
        ready.wait(60)
        status, _, body = get(port, "/kits/large.json")
        return status, len(body)

    with ThreadPoolExecutor(200) as pool:
        assert list(pool.map(client, range(200))) == [(200, 3_000_002)] * 200


def test_slow_clients_keep_nobody_out_and_are_let_go(site: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Half a request, and one that never reads its answer, two hundred of each."""
    monkeypatch.setattr(server_module, "STANDS_STILL_SECONDS", 2)
    with running(listen(site, 0, 0)) as port, contextlib.ExitStack() as links:
        slow = [links.enter_context(socket.create_connection(("127.0.0.1", port), timeout=20)) for _ in range(200)]
        for number, link in enumerate(slow):
            link.sendall(
                b"GET / HTTP/1.1\r\nHos" if number % 2 else f"GET /kits/large.json HTTP/1.1\r\nHost: 127.0.0.1:{port}\r\n\r\n".encode()
            )
        started = time.monotonic()
        assert get(port)[2] == b"the start"
        assert time.monotonic() - started < 15, "they wait for nobody"
        for link in slow[1::2]:
            assert link.recv(10) == b"", "closed by the server"
