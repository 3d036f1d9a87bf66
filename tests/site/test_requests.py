"""Nothing is asked of other hosts: every kind of page opened and used in Chromium, every request written down outside the browser.

The witness is a proxy through which all of the browser's traffic goes, its own host's too: what pages, workers, styles and fonts ask for,
whether or not playwright tells of it. It reaches no other host; it only writes down that one was asked.
Source: RFC 9112, 3.2.2 (a proxy is asked by whole addresses) and RFC 9110, 9.3.6 (CONNECT); both from memory.
"""

from __future__ import annotations

import json
import re
import threading
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from functools import partial
from http import HTTPStatus
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from typing import Any
from urllib.parse import quote, unquote, urlsplit

import pytest
from lxml import html
from playwright.sync_api import Browser, Page, Playwright, expect
from tests.site.conftest import DESK, PHONE, Tab, launch

from rangebook.book.load import Loaded
from rangebook.book.model import Part
from rangebook.fitting.fitter import Fitter
from rangebook.site.generator.build import build_site
from rangebook.site.generator.gate import checked
from rangebook.site.shared.policy import HEADERS

PATIENCE_MS = 30_000


@dataclass
class Witness:
    """A proxy that has a site behind it. ``asked`` are the whole addresses, in the order in which they came."""

    url: str = ""
    asked: list[str] = field(default_factory=list)

    @property
    def elsewhere(self) -> list[str]:
        """What was asked of any other host."""
        return [address for address in self.asked if urlsplit(address).netloc != urlsplit(self.url).netloc]

    def way(self) -> dict[str, Any]:
        """For playwright's ``new_context``: everything goes this way, this machine's own addresses too."""
        return {"server": self.url.rstrip("/"), "bypass": "<-loopback>"}


@pytest.fixture(scope="module")
def browser(driver: Playwright) -> Iterator[Browser]:
    """A browser that has nothing to say to its own maker: Chromium asks there which fields of a form it could fill in."""
    launched = launch(driver, "--disable-features=AutofillServerCommunication,OptimizationHints,MediaRouter,Translate")
    yield launched
    launched.close()


class Strict(SimpleHTTPRequestHandler):
    """Answers with the headers of `rangebook serve`."""

    def end_headers(self) -> None:
        self.send_header("Cache-Control", "no-cache")
        for name, value in HEADERS.items():
            self.send_header(name, value)
        super().end_headers()

    def send_error(self, code: int, message: str | None = None, explain: str | None = None) -> None:
        """What is nowhere is answered with the site's own page."""
        page = Path(self.directory) / "404.html"
        if code != HTTPStatus.NOT_FOUND or not page.is_file():
            super().send_error(code, message, explain)
            return
        data = page.read_bytes()
        self.send_response(code)
        self.send_header("Content-Type", "text/html; charset=utf-8")
        self.send_header("Content-Length", str(len(data)))
        self.end_headers()
        if self.command != "HEAD":
            self.wfile.write(data)


@pytest.fixture
def witness_of() -> Iterator[Callable[[Path], Witness]]:
    """A witness over a folder."""
    servers: list[ThreadingHTTPServer] = []

    def make(site: Path, kind: type[SimpleHTTPRequestHandler] = Strict) -> Witness:
        witness = Witness()

        class Writing(kind):
            def parse_request(self) -> bool:
                if not super().parse_request():
                    return False
                witness.asked.append(self.path if "://" in self.path else f"{self.command} //{self.path}")
                if self.path.startswith(witness.url):
                    self.path = "/" + self.path.removeprefix(witness.url)
                    return True
                self.send_error(502)
                return False

            def log_message(self, *_: object) -> None:
                pass

        server = ThreadingHTTPServer(("127.0.0.1", 0), partial(Writing, directory=str(site)))
        server.daemon_threads = True
        servers.append(server)
        witness.url = f"http://127.0.0.1:{server.server_port}/"
        threading.Thread(target=server.serve_forever, args=(0.05,), daemon=True).start()
        return witness

    yield make
    for server in servers:
        server.shutdown()
        server.server_close()


@pytest.fixture
def witness(witness_of: Callable[[Path], Witness], site_dir: Path) -> Witness:
    """A witness over the demo book."""
    return witness_of(site_dir)


@pytest.fixture(scope="module")
def part(loaded: Loaded) -> Part:
    """A part that has all that there is to use: contacts, a ladder, a successor."""
    return next(one for one in loaded.book.parts if one.superseded_by and one.pins and any(two.ohms for two in one.contacts or ()))


def find(page: Page, url: str, part: Part) -> None:
    page.goto(url)
    page.locator("#q").press_sequentially(part.number)
    expect(page.locator(".answer__head h2 .number")).to_have_text(part.number)


def answer(page: Page, url: str, part: Part) -> None:
    page.goto(f"{url}?q={quote(part.number)}")
    expect(page.locator(".answer__head h2 .number")).to_have_text(part.number)
    page.locator(".row--answer, .seat").first.wait_for()
    if page.locator(".row--answer").count():
        page.locator(".row--answer").first.click()
        page.locator(".seat").wait_for()
    page.evaluate("document.querySelectorAll('details').forEach(one => { one.open = true; })")


def vehicle(page: Page, url: str, part: Part) -> None:
    page.goto(f"{url}vehicles/")
    make = page.locator("[data-finder-form] select").first
    make.select_option(index=1)
    expect(page.locator("[data-finder-place]")).not_to_be_empty()


def identify(page: Page, url: str, part: Part) -> None:
    page.goto(f"{url}identify/")
    place = page.locator("[data-identify-place]")
    place.locator("button").first.wait_for()
    before = place.inner_text()
    place.locator("button").first.click()
    expect(place).not_to_have_text(before, use_inner_text=True)


def prove(page: Page, url: str, part: Part) -> None:
    page.goto(f"{url}prove/?part={quote(part.number)}")
    page.locator(".reading__box").first.fill("OL")
    expect(page.locator("[data-prove-result]")).not_to_be_empty()


def lever(page: Page, url: str, part: Part) -> None:
    page.goto(f"{url}lever/?part={quote(part.number)}")
    page.locator("[data-lever-slide]").press("End")
    page.locator(".terminal").nth(1).click()
    expect(page.locator(".meter__reading")).not_to_be_empty()


def compare(page: Page, url: str, part: Part) -> None:
    page.goto(f"{url}compare/?a={quote(part.number)}&b={quote(part.superseded_by[0].number)}")
    page.locator("[data-compare-place] li a").first.click()
    expect(page.locator("[data-compare-place] svg").first).to_be_visible()


def several(page: Page, url: str, part: Part) -> None:
    page.goto(f"{url}several/")
    page.locator("#several-list").fill(f"{part.number}\nno-such-1")
    page.get_by_role("button", name="Show what fits").click()
    expect(page.locator("[data-several-place]")).to_contain_text(part.number)


def job(page: Page, url: str, part: Part) -> None:
    answer(page, url, part)
    page.locator("a[href*='job/']").first.click()
    expect(page.locator("[data-job-rest]")).to_be_visible()


def label(page: Page, url: str, part: Part) -> None:
    page.goto(f"{url}label/?part={quote(part.number)}")
    expect(page.locator("svg.qr")).to_be_visible()


def write(page: Page, url: str, part: Part) -> None:
    page.goto(f"{url}write/")
    page.get_by_label("A connector", exact=True).check()
    page.get_by_label("What people call it").fill("Five-way oval")
    expect(page.locator("[data-write-text]")).to_contain_text("Five-way oval")


def handbook(page: Page, url: str, part: Part) -> None:
    page.set_viewport_size(DESK)
    page.goto(f"{url}handbook/")
    page.locator(".md-search__input").click()
    page.keyboard.type("supersession")
    page.locator(".md-search-result__item a").first.wait_for()


def nowhere(page: Page, url: str, part: Part) -> None:
    page.goto(f"{url}no/such/page/")
    expect(page.locator("main")).to_be_visible()


USES = (find, answer, vehicle, identify, prove, lever, compare, several, job, label, write, handbook, nowhere)
"""Every page that does something, and what somebody does there. Those that only show are opened by the next test."""


@pytest.mark.parametrize("use", USES, ids=[use.__name__ for use in USES])
def test_a_page_in_use_asks_no_other_host(open_tab: Callable[..., Tab], witness: Witness, part: Part, use: Callable[..., None]) -> None:
    tab = open_tab(proxy=witness.way(), permissions=["clipboard-read", "clipboard-write"])
    use(tab.page, witness.url, part)
    tab.page.wait_for_load_state("networkidle")
    assert len(witness.asked) > 3, "the witness saw the page, its styles and its scripts"
    assert not witness.elsewhere
    assert [one for one in tab.seen.complaints if "404" not in one] == [], "nor did the policy have to keep it from doing so"


def test_every_page_is_quiet_and_asks_no_other_host_nor_does_what_keeps_the_book(
    open_tab: Callable[..., Tab], witness: Witness, site_dir: Path, loaded: Loaded, fitter: Fitter
) -> None:
    """The worker: it is installed, and fetches every file of its list. And every page of the book once, with all unfolded: no error, no
    warning, nothing that failed to load, all under a strict policy; and at 390 x 844 nothing to be moved sideways but what scrolls in a
    frame of its own."""
    tab = open_tab(proxy=witness.way(), service_workers="allow")
    tab.page.goto(witness.url)
    expect(tab.page.locator("[data-kept]")).to_have_attribute("data-kept", "all", timeout=PATIENCE_MS)
    seen = {unquote(urlsplit(address).path).lstrip("/") for address in witness.asked}
    listed = {path for path, *_ in json.loads((site_dir / "offline.json").read_text("utf-8"))["keep"]}
    missed = {path for path in listed if path not in seen and path.removesuffix("index.html") not in seen}
    assert "sw.js" in seen and not missed, "the witness saw the worker fetch the book"
    other = open_tab(proxy=witness.way())  # without a worker, so that each page asks anew
    for path in sorted(site_dir.rglob("index.html")):
        address = path.relative_to(site_dir).as_posix().removesuffix("index.html")
        other.page.goto(witness.url + address)
        other.page.evaluate("document.querySelectorAll('details').forEach(one => { one.open = true; })")
        assert other.page.evaluate("document.documentElement.scrollWidth") <= PHONE["width"], address
        assert not other.seen.complaints, address
    other.page.wait_for_load_state("networkidle")
    assert not witness.elsewhere
    assert not other.seen.complaints


def test_the_witness_sees_what_is_asked_of_another_host(open_tab: Callable[..., Tab], witness_of: Callable, tmp_path: Path) -> None:
    """A style sheet, a font in one, a script, a picture, a fetch, a worker's fetch and a connection that would be secret."""
    (tmp_path / "index.html").write_text(
        """<!doctype html><link rel="stylesheet" href="http://fonts.invalid/a.css"><link rel="stylesheet" href="b.css">
        <p style="font-family: planted">x</p><img src="https://pictures.invalid/c.png"><script src="d.js"></script>""",
        "utf-8",
    )
    (tmp_path / "b.css").write_text("@font-face { font-family: planted; src: url(http://more-fonts.invalid/e.woff2); }", "utf-8")
    (tmp_path / "d.js").write_text("fetch('http://api.invalid/f'); navigator.serviceWorker.register('sw.js');", "utf-8")
    (tmp_path / "sw.js").write_text("self.oninstall = (e) => e.waitUntil(fetch('http://worker.invalid/g').catch(() => 0));", "utf-8")
    # From a plain server: the strict policy of ours would keep all of it from being asked.
    witness = witness_of(tmp_path, SimpleHTTPRequestHandler)
    tab = open_tab(proxy=witness.way(), service_workers="allow")
    tab.page.goto(witness.url + "index.html")
    tab.page.wait_for_load_state("networkidle")
    tab.page.evaluate("navigator.serviceWorker.ready.then(() => 1)")
    asked = " ".join(witness.elsewhere)
    for host in ("fonts", "more-fonts", "pictures", "api", "worker"):
        assert f"{host}.invalid" in asked, f"{host}: {asked}"


LOADS = ("src", "href", "srcset", "poster", "data", "action", "formaction", "background", "manifest", "{http://www.w3.org/1999/xlink}href")
"""Attributes by which an element loads or sends something. Source: HTML standard, index of attributes (from memory)."""

HOST = re.compile(r"(?i)(?:[a-z][a-z0-9+.-]*:)?//[^/\s\"'`)\\$]")
STYLE = re.compile(r"(?i)(?:url\(\s*['\"]?|@import\s+['\"]?)\s*((?:[a-z][a-z0-9+.-]*:)?//[^\s'\")]+)")
WORDS = re.compile(r"(?s)/\*.*?\*/|(?m:(?<![:\"'`\\])//.*$)|(\"(?:[^\"\\\n]|\\.)*\"|'(?:[^'\\\n]|\\.)*'|`(?:[^`\\]|\\.)*`)")
"""A comment of a script, or one of its texts."""

NAMES = ("http://www.w3.org/2000/svg", "http://www.w3.org/1999/xlink", "https://github.com/cfworker")
"""Names of languages, and the base by which a library tells schemas apart that have no name of their own; none is ever fetched."""


def hosts_of_markup(text: str) -> list[tuple[str, str]]:
    """Every element with an address of a host by which something would be loaded or sent. A link that somebody may follow is none."""
    found = []
    for element in html.fromstring(text).iter():
        if not isinstance(element.tag, str):
            continue
        for name, value in element.attrib.items():
            if (name == "style" and STYLE.search(value)) or (name in LOADS and element.tag != "a" and HOST.match(value.strip())):
                found.append((element.tag, value))
        if element.tag == "style" or (element.tag == "meta" and element.get("http-equiv", "").lower() == "refresh"):
            found += [(element.tag, one) for one in STYLE.findall(element.text or "")]
            found += [(element.tag, value) for value in [element.get("content", "")] if HOST.search(value)]
    return found


def hosts_of_script(text: str) -> list[str]:
    """Every text of a script that has an address of a host in it."""
    texts = [one[1:-1] for one in WORDS.findall(text) if one]
    return [one for one in texts if re.match(r"(?i)(?:https?|wss?):?//", one) and one not in NAMES]


def test_no_file_of_the_site_names_a_host_to_load_from(site_dir: Path) -> None:
    looked = {".html": 0, ".css": 0, ".js": 0, ".svg": 0}
    for path in sorted(site_dir.rglob("*")):
        if path.suffix not in looked or not path.is_file():
            continue
        looked[path.suffix] += 1
        name, text = path.relative_to(site_dir).as_posix(), path.read_text("utf-8")
        if path.suffix in (".html", ".svg"):
            assert not hosts_of_markup(text), name
        elif path.suffix == ".css":
            assert not STYLE.findall(text), name
        elif not name.startswith("assets/javascripts/"):  # the theme's own: the next test
            assert not hosts_of_script(text), name
    assert all(looked.values()), looked


def test_what_the_themes_scripts_could_ask_for_the_book_never_does(site_dir: Path) -> None:
    """Material fetches a polyfill where a browser lacks what every one has had since 2020, diagrams where a page has one, and facts
    about a repository where one is set. These are all the addresses in its texts; a new one is to be looked at."""
    texts = set()
    for path in (site_dir / "assets" / "javascripts").rglob("*.js"):
        texts |= set(re.findall(r"""["'`](https?://[^"'`$]+)""", path.read_text("utf-8"))) if "lunr" not in path.parts else set()
    texts -= set(NAMES)
    assert {urlsplit(one).netloc for one in texts} == {"unpkg.com", "api.github.com"}, texts
    for path in site_dir.rglob("index.html"):
        page = html.fromstring(path.read_text("utf-8"))
        assert not page.xpath("//*[contains(@class, 'mermaid') or @data-md-component='source']"), path


@pytest.mark.parametrize(
    "planted",
    [
        '<link rel="stylesheet" href="https://fonts.invalid/a.css">',
        '<link rel="preconnect" href="//fonts.invalid">',
        '<script src="//cdn.invalid/b.js"></script>',
        '<img srcset="https://pictures.invalid/c.png 2x">',
        '<p style="background: url(https://pictures.invalid/d.png)">x</p>',
        "<style>@import 'https://fonts.invalid/e.css';</style>",
        '<form action="https://elsewhere.invalid/"></form>',
        '<meta http-equiv="refresh" content="1; url=https://elsewhere.invalid/">',
        '<svg><image href="https://pictures.invalid/f.png"/></svg>',
    ],
)
def test_a_planted_host_is_found_in_markup(planted: str) -> None:
    assert hosts_of_markup(f"<!doctype html><html><body>{planted}</body></html>")
    assert not hosts_of_markup(
        '<!doctype html><html><body><a href="https://elsewhere.invalid/">to be followed</a><img src="/a/b.png"></body></html>'
    )


def test_a_planted_host_is_found_in_a_script() -> None:
    assert hosts_of_script('const a = 1; fetch("https://api.invalid/x"); // "https://comment.invalid/"') == ["https://api.invalid/x"]
    assert hosts_of_script("const svg = 'http://www.w3.org/2000/svg'; /* 'https://no.invalid' */ const b = `${base}//x`;") == []
    assert STYLE.findall("@font-face { src: url('//fonts.invalid/a.woff2'); } b { background: url(data:image/png;base64,AA//BB); }") == [
        "//fonts.invalid/a.woff2"
    ]


def test_a_book_that_names_its_repository_asks_nothing_there(
    open_tab: Callable[..., Tab], witness_of: Callable, demo_book: Path, root: Path
) -> None:
    """The theme would ask a forge how many stars it has, from every page of the handbook."""
    named = "repo_url: https://github.com/nobody/nothing\nedit_uri: edit/main/entries/\n"
    (demo_book / "mkdocs.yml").write_text(
        named + (root / "mkdocs.yml").read_text("utf-8").replace("custom_dir: site_overrides", ""), "utf-8"
    )
    build_site(checked(demo_book), demo_book / "site")
    witness = witness_of(demo_book / "site")
    tab = open_tab(proxy=witness.way(), viewport=DESK)
    tab.page.goto(witness.url + "handbook/writing/")
    tab.page.wait_for_load_state("networkidle")
    assert tab.page.locator("a[href='https://github.com/nobody/nothing']").count(), "the link is there, to be followed or not"
    assert not witness.elsewhere and not tab.seen.complaints
