"""The configuration that is shipped, in Debian's own nginx: headers, compression, caching, a prefix, offline, and nothing else served.

Sources: nginx is the judge of its own configuration; RFC 9110 (conditional requests, content coding); Python's zlib unpacks what it packed.
"""

from __future__ import annotations

import gzip
import http.client
import json
import os
import shutil
import socket
import subprocess
import threading
import time
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path
from urllib.parse import urlsplit

import pytest
from playwright.sync_api import expect
from tests.site.conftest import ROOT, Tab

from rangebook.book.load import Loaded
from rangebook.site.generator.build import build_site
from rangebook.site.generator.gate import checked
from rangebook.site.output.swap import beside, put_in_place
from rangebook.site.shared.policy import HEADERS

NGINX = shutil.which("nginx") or (shutil.which("/usr/sbin/nginx") or "")
SHIPPED = ROOT / "tools" / "hosting" / "nginx.conf"

pytestmark = pytest.mark.skipif(not NGINX, reason="Debian's nginx is not here")

AROUND = """
daemon off;
master_process off;
pid {home}/nginx.pid;
error_log stderr;
events {{ worker_connections 256; }}
http {{
    sendfile on;
    types_hash_max_size 2048;
    include /etc/nginx/mime.types;
    default_type application/octet-stream;
    access_log {home}/access.log;
    gzip on;
    client_body_temp_path {home}/body;
    proxy_temp_path {home}/proxy;
    fastcgi_temp_path {home}/fastcgi;
    uwsgi_temp_path {home}/uwsgi;
    scgi_temp_path {home}/scgi;
    include {home}/book.conf;
}}
"""
"""What Debian's own nginx.conf sets round a site, with places where no other nginx is disturbed."""


@dataclass
class Answer:
    status: int
    headers: dict[str, str]
    body: bytes


def ask(url: str, method: str = "GET", **headers: str) -> Answer:
    parts = urlsplit(url)
    connection = http.client.HTTPConnection(parts.hostname or "", parts.port, timeout=10)
    connection.request(method, parts.path + (f"?{parts.query}" if parts.query else ""), headers=headers)
    got = connection.getresponse()
    answer = Answer(got.status, {name.lower(): value for name, value in got.getheaders()}, got.read())
    connection.close()
    return answer


def free_port() -> int:
    with socket.socket() as one:
        one.bind(("127.0.0.1", 0))
        return one.getsockname()[1]


def start(home: Path, settings: dict[str, str]) -> tuple[subprocess.Popen[bytes], int]:
    """Nginx over the shipped configuration, in which only the lines marked HERE are set."""
    text, port = SHIPPED.read_text("utf-8"), free_port()
    for line, instead in {"listen 80;": f"listen 127.0.0.1:{port};", **settings}.items():
        assert text.count(line) == 1, f"the shipped configuration has no line {line!r}"
        text = text.replace(line, instead)
    (home / "book.conf").write_text(text, "utf-8")
    (home / "nginx.conf").write_text(AROUND.format(home=home), "utf-8")
    command = [NGINX, "-p", str(home), "-c", str(home / "nginx.conf"), "-e", "stderr"]
    tried = subprocess.run([*command, "-t"], capture_output=True, text=True)
    assert tried.returncode == 0, tried.stderr
    assert "warn" not in tried.stderr, tried.stderr
    running = subprocess.Popen(command, stderr=subprocess.DEVNULL)
    for _ in range(200):
        try:
            socket.create_connection(("127.0.0.1", port), timeout=1).close()
            break
        except OSError:
            assert running.poll() is None
            time.sleep(0.02)
    return running, port


@pytest.fixture(scope="module")
def nginx(site_dir: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    home = tmp_path_factory.mktemp("nginx")
    running, port = start(home, {"root /srv/rangebook/site;": f"root {site_dir};"})
    yield f"http://127.0.0.1:{port}/"
    running.terminate()
    running.wait(10)


@dataclass
class Prefixed:
    url: str
    folder: Path
    stop: Callable[[], None]


@pytest.fixture
def prefixed(small_book: Path, tmp_path: Path) -> Iterator[Prefixed]:
    """As the comments in the file tell it, for a book under a prefix."""
    home = tmp_path / "nginx"
    home.mkdir()
    build_site(checked(small_book), tmp_path / "www" / "shop" / "book")
    running, port = start(
        home,
        {
            "    root /srv/rangebook/site;                     # HERE: what --site-dir named\n": "",
            '    set $rangebook_prefix "";\n': "",
            "# root /srv/www;": f"root {tmp_path / 'www'};",
            '# set $rangebook_prefix "/shop/book";': 'set $rangebook_prefix "/shop/book";',
        },
    )

    def stop() -> None:
        running.terminate()
        running.wait(10)

    yield Prefixed(f"http://127.0.0.1:{port}/shop/book/", tmp_path / "www" / "shop" / "book", stop)
    stop()


TYPES = {
    "": "text/html; charset=utf-8",
    "book/find/page.js": "application/javascript; charset=utf-8",
    "sw.js": "application/javascript; charset=utf-8",
    "book/tokens.css": "text/css; charset=utf-8",
    "book/mark.svg": "image/svg+xml; charset=utf-8",
    "book/icon-192.png": "image/png",
    "data/numbers.json": "application/json; charset=utf-8",
    "manifest.webmanifest": "application/manifest+json; charset=utf-8",
    "api/v2/interchange.csv": "text/csv; charset=utf-8",
    "api/v2/index.json": "application/json; charset=utf-8",
    "no/such/page/": "text/html; charset=utf-8",
}


@pytest.mark.parametrize("path", TYPES)
def test_every_header(nginx: str, path: str) -> None:
    answer = ask(nginx + path)
    assert answer.status == (404 if path.startswith("no/") else 200)
    assert answer.headers["content-type"] == TYPES[path]
    for name, value in HEADERS.items():
        assert answer.headers[name.lower()] == value
    assert answer.headers["cross-origin-opener-policy"] == "same-origin"
    assert answer.headers["cross-origin-resource-policy"] == "same-origin"
    assert answer.headers["cache-control"] == "no-cache"
    assert answer.headers["server"] == "nginx", "without a version"


def test_the_policy_lets_nothing_run_that_stands_in_a_page() -> None:
    policy = HEADERS["Content-Security-Policy"]
    assert "unsafe" not in policy and "*" not in policy and "http" not in policy
    rules = dict(one.split(" ", 1) for one in policy.split("; "))
    assert rules["default-src"] == rules["base-uri"] == rules["frame-ancestors"] == "'none'"
    assert rules["script-src"] == "'self'"


def test_what_never_changes_is_kept_for_a_year(nginx: str, site_dir: Path) -> None:
    for pattern in ("photos/*.webp", "assets/stylesheets/*.css", "assets/javascripts/bundle.*.js"):
        path = next(site_dir.glob(pattern)).relative_to(site_dir).as_posix()
        assert ask(nginx + path).headers["cache-control"] == "public, max-age=31536000, immutable", path
    # What has no hash of its bytes in its name is asked about again.
    for path in ("book/find/page.js", "data/identify.json", "api/v2/parts.json", "assets/javascripts/lunr/min/lunr.de.min.js"):
        assert ask(nginx + path).headers["cache-control"] == "no-cache", path


def test_texts_come_compressed(nginx: str, site_dir: Path) -> None:
    """Smaller, and the same once unpacked; a browser that cannot unpack gets it plain; pictures are left alone."""
    plain = ("", "data/numbers.json", "book/tokens.css", "book/find/page.js", "api/v2/interchange.csv", "data/faces/wedge-14.svg", "sw.js")
    for path in plain:
        plain, packed = ask(nginx + path), ask(nginx + path, **{"Accept-Encoding": "gzip"})
        assert "content-encoding" not in plain.headers
        assert packed.headers["content-encoding"] == "gzip", path
        assert packed.headers["vary"] == "Accept-Encoding"
        assert gzip.decompress(packed.body) == plain.body == (site_dir / (path or "index.html")).read_bytes()
        assert len(packed.body) < len(plain.body) * 0.6, path
    picture = next(site_dir.glob("photos/*.webp")).relative_to(site_dir).as_posix()
    assert "content-encoding" not in ask(nginx + picture, **{"Accept-Encoding": "gzip"}).headers


def test_what_has_not_changed_is_not_sent_again(nginx: str) -> None:
    first = ask(f"{nginx}data/numbers.json")
    again = ask(f"{nginx}data/numbers.json", **{"If-None-Match": first.headers["etag"]})
    assert again.status == 304 and not again.body
    assert again.headers["content-security-policy"] == first.headers["content-security-policy"]


def test_it_is_read_and_nothing_else(nginx: str) -> None:
    for method in ("POST", "PUT", "DELETE", "PATCH", "OPTIONS", "TRACE"):
        assert ask(nginx, method).status == 405, method
    assert ask(nginx, "HEAD").status == 200
    for path in ("data/", "book/", "api/v2/", "photos/"):
        assert ask(nginx + path).status == 404, f"{path}: no lists of files"
    for path in ("..%2f..%2fetc/passwd", "%2e%2e/%2e%2e/etc/passwd", "book/..%5c..%5cpasswd", ".git/config", "data/.hidden"):
        assert ask(nginx + path).status in (400, 404), path


def test_every_file_of_the_site_comes_as_it_is(nginx: str, site_dir: Path) -> None:
    """Every single one, under its own address; pages under their folder's."""
    for file in sorted(path for path in site_dir.rglob("*") if path.is_file()):
        path = file.relative_to(site_dir).as_posix()
        answer = ask(nginx + (path.removesuffix("index.html") if path.endswith("/index.html") else path))
        assert (answer.status, answer.body) == (200, file.read_bytes()), path


def test_a_book_under_a_prefix(tab: Tab, prefixed: Prefixed, loaded: Loaded) -> None:
    assert ask(prefixed.url).status == 200
    moved = ask(prefixed.url + "switches/tamblin-gate")
    assert moved.status == 301
    assert moved.headers["location"] == "/shop/book/switches/tamblin-gate/", "without a host: a proxy may stand in front"
    missing = ask(prefixed.url + "nowhere/")
    assert missing.status == 404 and b"nothing at this address" in missing.body
    building = prefixed.folder.with_name(".book.building-1")
    shutil.copytree(prefixed.folder, building)
    assert ask(prefixed.url.replace("/book/", "/.book.building-1/")).status == 404, "what is being built is not published"
    tab.page.goto(f"{prefixed.url}numbers/")
    tab.page.locator("table a, main a").first.click()
    expect(tab.page.locator("h1")).to_be_visible()
    assert not tab.seen.complaints
    assert tab.seen.hosts == {urlsplit(prefixed.url).netloc}


def test_it_is_kept_on_the_device_from_nginx_too(open_tab: Callable[..., Tab], prefixed: Prefixed) -> None:
    """Compressed answers, a prefix and nginx's headers: the hashes agree, and with nginx stopped the book is there."""
    tab = open_tab(service_workers="allow")
    tab.page.goto(prefixed.url)
    expect(tab.page.locator("[data-kept]")).to_have_attribute("data-kept", "all", timeout=30_000)
    prefixed.stop()
    tab.page.goto(f"{prefixed.url}switches/tamblin-gate/")
    expect(tab.page.locator("h1")).to_be_visible()
    tab.page.goto(f"{prefixed.url}handbook/")
    expect(tab.page.locator("h1").first).to_be_visible()


def test_a_reader_never_sees_half_a_site(small_book: Path, tmp_path: Path) -> None:
    """While the site is replaced twenty times, every answer is whole, of one edition or the other, and none is missing."""
    home, site = tmp_path / "nginx", tmp_path / "site"
    home.mkdir()
    entry = next((small_book / "entries" / "switches").glob("*.md"))
    text = entry.read_text("utf-8")
    build_site(checked(small_book), site)
    one = tmp_path / "one"
    shutil.copytree(site, one)
    entry.write_text(text + "\nAnother note.\n", "utf-8")
    build_site(checked(small_book), site)
    two = tmp_path / "two"
    shutil.copytree(site, two)
    running, port = start(home, {"root /srv/rangebook/site;": f"root {site};"})
    marks = {_mark((folder / "edition.json").read_bytes()) for folder in (one, two)}
    assert len(marks) == 2
    seen: list[Answer] = []
    done = threading.Event()

    def read() -> None:
        while not done.is_set():
            paths = ("edition.json", "switches/tamblin-gate/", "data/answers/tamblin-gate.json")
            seen.extend(ask(f"http://127.0.0.1:{port}/{path}") for path in paths)

    reader = threading.Thread(target=read)
    reader.start()
    try:
        for turn in range(20):
            with beside(site) as made:
                shutil.copytree((one, two)[turn % 2], made, dirs_exist_ok=True, copy_function=os.link)
                put_in_place(made, site)
    finally:
        done.set()
        reader.join()
        running.terminate()
        running.wait(10)
    whole = {
        (folder / path).read_bytes()
        for folder in (one, two)
        for path in ("edition.json", "switches/tamblin-gate/index.html", "data/answers/tamblin-gate.json")
    }
    assert len(seen) > 60
    assert {answer.status for answer in seen} == {200}
    assert {answer.body for answer in seen} <= whole
    assert {_mark(answer.body) for answer in seen if answer.body.startswith(b'{"mark"')} == marks


def _mark(body: bytes) -> str:
    return json.loads(body)["mark"]
