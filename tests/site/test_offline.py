"""The book on the device, in Chromium: the server gone, a new edition while a page is open, a prefix, two books on one host.

Sources: W3C, Service Workers (what a worker is and when it takes over); W3C, Web Application Manifest; W3C, Subresource Integrity (the
hashes are checked by the browser, not by us). All from memory; the browser is the judge.
"""

from __future__ import annotations

import base64
import hashlib
import http.server
import io
import json
import re
import shutil
import threading
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import partial
from pathlib import Path
from urllib.parse import quote
from xml.etree import ElementTree

import pytest
from PIL import Image
from playwright.sync_api import Page, Route, expect
from tests.site.conftest import Tab, built_once
from tests.site.kinds import of_each_kind

from rangebook.book.load import Loaded, load
from rangebook.site.facts.computed import Computed
from rangebook.site.facts.photos import PHOTOS_URL
from rangebook.site.generator.build import build_site
from rangebook.site.generator.gate import Checked
from rangebook.site.live.files import site_of
from rangebook.site.live.serve import Server, listen
from rangebook.site.offline.keeping import choose
from rangebook.site.offline.write import search_description
from rangebook.site.output.swap import put_in_place

PATIENCE_MS = 30_000


@dataclass
class Host:
    """A plain server over a folder, that can be taken away and come back at the same address."""

    folder: Path
    server: http.server.ThreadingHTTPServer | Server | None = None
    port: int = 0

    def up(self) -> None:
        class Quiet(http.server.SimpleHTTPRequestHandler):
            def log_message(self, *_: object) -> None:
                pass

        http.server.ThreadingHTTPServer.daemon_threads = True
        self.server = http.server.ThreadingHTTPServer(("127.0.0.1", self.port), partial(Quiet, directory=str(self.folder)))
        self.port = self.server.server_port
        threading.Thread(target=self.server.serve_forever, args=(0.05,), daemon=True).start()

    def down(self) -> None:
        if self.server:
            self.server.shutdown()
            self.server.server_close()
            self.server = None

    def url(self, path: str = "") -> str:
        return f"http://127.0.0.1:{self.port}/{path}"


@pytest.fixture
def host(tmp_path: Path) -> Iterator[Host]:
    made = Host(tmp_path / "www")
    made.folder.mkdir()
    made.up()
    yield made
    made.down()


@pytest.fixture
def phone(open_tab: Callable[..., Tab]) -> Tab:
    """A phone that keeps books."""
    return open_tab(service_workers="allow")


def put(site: Path, folder: Path) -> None:
    """Publish a site: the old one is gone as a whole before the new one is there."""
    shutil.rmtree(folder, ignore_errors=True)
    shutil.copytree(site, folder)


def visit(page: Page, address: str) -> None:
    """Once, until the browser says that the book is on the device."""
    page.goto(address)
    expect(page.locator("[data-kept]")).to_have_attribute("data-kept", re.compile("all|some"), timeout=PATIENCE_MS)


def answers_edition(site: Path, family: str) -> str:
    """The edition of the answers of a family."""
    mark: str = json.loads((site / "data" / "answers" / f"{family}.json").read_text("utf-8"))["edition"]
    return mark


def edition(page: Page) -> str:
    return page.locator('meta[name="book-edition"]').get_attribute("content") or ""


def answered(page: Page, number: str) -> None:
    page.locator("#q").fill(number)
    expect(page.locator(".answer__head h2 .number")).to_have_text(number)


SOME = ("halvik-line", "harnby-common", "harnby-flat", "kestow-ear", "kestow-lug", "ostrand-van", "tamblin-drum")
"""Families of the demo book that name no others: how a device keeps a book does not go by how many there are."""


def some_families(home: Path) -> Path:
    """The demo book with these families alone; what leads to others is text."""
    entries = shutil.copytree(Path(__file__).resolve().parents[2] / "entries", home / "entries")
    for entry in entries.rglob("*.md"):
        if entry.parent.name == "switches" and entry.stem not in SOME:
            entry.unlink()
            shutil.rmtree(entry.parent / "photos" / entry.stem, ignore_errors=True)
        else:
            gone = rf"\[([^\]]*)\]\(\.\./switches/(?!{'|'.join(SOME)})[^)]*\)"
            entry.write_text(re.sub(gone, r"\1", entry.read_text("utf-8")), "utf-8")
    return home


@pytest.fixture(scope="session")
def first_edition(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A book of some families as a site."""

    def build(target: Path) -> None:
        build_site(Checked(load(some_families(target.with_suffix(".book"))), []), target)

    return built_once(tmp_path_factory, "first", build)


@pytest.fixture(scope="session")
def second_edition(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The same with one more note in each family, so that every page of a family differs from the first edition's."""

    def build(target: Path) -> None:
        home = some_families(target.with_suffix(".book"))
        for entry in (home / "entries" / "switches").glob("*.md"):
            entry.write_text(entry.read_text("utf-8") + "\nA note of the second edition.\n", "utf-8")
        build_site(Checked(load(home), []), target)

    return built_once(tmp_path_factory, "second", build)


@pytest.fixture(scope="session")
def few(first_edition: Path) -> Loaded:
    """The book of the first edition."""
    return load(first_edition.with_suffix(".book"))


def test_after_one_visit_everything_works_with_the_server_gone(host: Host, phone: Tab, site_dir: Path, loaded: Loaded) -> None:
    """Find, an answer, a family's page with its drawings, the proof sheet, the labels; then every page of the book."""
    put(site_dir, host.folder)
    page = phone.page
    visit(page, host.url())
    expect(page.locator("[data-kept]")).to_contain_text("whole book")
    host.down()
    part = next(part for part in loaded.book.parts if part.contacts and part.status == "superseded")
    answered(page, part.number)
    page.goto(host.url(f"?q={quote(part.number)}"))
    expect(page.locator(".answer__head h2 .number")).to_have_text(part.number)
    page.goto(host.url(f"prove/?part={quote(part.number)}"))
    expect(page.locator("[data-prove-place] input").first).to_be_visible()
    page.goto(host.url(f"switches/{part.family}/"))
    expect(page.locator("main svg").first).to_be_visible()
    page.goto(host.url(f"label/?part={quote(part.number)}"))
    expect(page.locator("svg.qr")).to_be_visible()
    # Every page is there as it was built, and a page of each kind is shown with its pictures.
    paths = sorted(path.relative_to(site_dir).as_posix().removesuffix("index.html") for path in site_dir.rglob("index.html"))
    got = page.evaluate("paths => Promise.all(paths.map(async path => (await fetch(path)).text()))", [host.url(path) for path in paths])
    for path, text in zip(paths, got, strict=True):
        assert text == (site_dir / path / "index.html").read_bytes().decode("utf-8"), path
    for kind in of_each_kind(Computed(loaded)).values():
        page.goto(host.url(kind.url))
        expect(page.locator(".foot")).to_contain_text("Edition")
        assert "not on this device" not in page.locator("h1").first.inner_text() or kind.url == "not-kept/", kind.url
        wide = page.locator("img").evaluate_all("all => all.filter(one => one.complete && !one.naturalWidth).length")
        assert not wide, f"{kind.url}: a picture is missing"
    gone = [text for text in phone.seen.complaints if "sw.js" not in text]  # the browser asks whether there is a newer worker
    assert not gone


def test_the_search_of_the_handbook_works_too(host: Host, phone: Tab, first_edition: Path) -> None:
    put(first_edition, host.folder)
    phone.page.set_viewport_size({"width": 1280, "height": 900})
    visit(phone.page, host.url("handbook/"))
    host.down()
    phone.page.goto(host.url("handbook/writing/"))
    phone.page.locator(".md-search__input").click()
    phone.page.keyboard.type("supersession")
    phone.page.locator(".md-search-result__item a").first.wait_for(timeout=PATIENCE_MS)


def test_an_address_without_its_slash_and_one_that_is_not_there(host: Host, phone: Tab, first_edition: Path) -> None:
    put(first_edition, host.folder)
    visit(phone.page, host.url())
    host.down()
    phone.page.goto(host.url("cautions"))
    expect(phone.page.locator("h1")).to_have_text("Before you start")
    phone.page.goto(host.url("switches/never-heard-of/"))
    expect(phone.page.locator("h1")).to_have_text("This page is not on this device")
    phone.page.get_by_role("link", name="Go to the find box").click()
    expect(phone.page.locator("#q")).to_be_visible()


def test_a_page_that_is_open_keeps_its_edition(host: Host, phone: Tab, first_edition: Path, second_edition: Path, few: Loaded) -> None:
    """The new edition is told of, is not mixed into the page, and is there in whole on the next loading, also without a server."""
    put(first_edition, host.folder)
    page = phone.page
    visit(page, host.url())
    page.reload()
    old = edition(page)
    put(second_edition, host.folder)
    new = json.loads((second_edition / "edition.json").read_text("utf-8"))["mark"]
    assert new != old
    page.evaluate("dispatchEvent(new Event('focus'))")
    expect(page.locator("[data-newer]")).to_be_visible(timeout=PATIENCE_MS)
    expect(page.locator("[data-newer]")).to_contain_text(new)
    # What this page has not asked for until now is still of its own edition.
    families = [family for family in few.book.families.values() if family.parts][:3]
    for family in families:
        got = page.evaluate("async (url) => (await (await fetch(url)).json()).edition", f"data/answers/{family.id}.json")
        assert got == answers_edition(first_edition, family.id)
        answered(page, family.parts[0].number)
    assert edition(page) == old
    page.get_by_role("button", name="Load it").click()
    expect(page.locator('meta[name="book-edition"]')).to_have_attribute("content", new)
    expect(page.locator("[data-newer]")).to_be_hidden()
    host.down()
    page.goto(host.url(f"switches/{families[0].id}/"))
    expect(page.locator('meta[name="book-edition"]')).to_have_attribute("content", new)
    expect(page.locator("main")).to_contain_text("A note of the second edition.")
    got = page.evaluate("async (url) => (await (await fetch(url)).json()).edition", f"../../data/answers/{families[0].id}.json")
    assert got == answers_edition(second_edition, families[0].id)


def test_what_is_half_published_is_not_taken(host: Host, phone: Tab, first_edition: Path, second_edition: Path, few: Loaded) -> None:
    """A server with some files of the new edition and some of the old: the device stays with the edition that it has, whole."""
    put(first_edition, host.folder)
    page = phone.page
    visit(page, host.url())
    old = edition(page)
    put(second_edition, host.folder)
    shutil.rmtree(host.folder / "switches")
    shutil.copytree(first_edition / "switches", host.folder / "switches")
    states = page.evaluate(
        """async () => {
            const registration = await navigator.serviceWorker.getRegistration();
            await registration.update().catch(() => {});
            const coming = registration.installing;
            if (!coming) return "none";
            return new Promise((tell) => {
                coming.addEventListener("statechange", () => ["redundant", "activated"].includes(coming.state) && tell(coming.state));
            });
        }"""
    )
    assert states == "redundant"
    host.down()
    family = next(iter(few.book.families))
    page.goto(host.url(f"switches/{family}/"))
    expect(page.locator('meta[name="book-edition"]')).to_have_attribute("content", old)
    expect(page.locator("main")).not_to_contain_text("A note of the second edition.")


def test_only_what_changed_comes_over_the_air(host: Host, phone: Tab, first_edition: Path, second_edition: Path) -> None:
    put(first_edition, host.folder)
    asked: list[str] = []

    files = site_of(host.folder)

    def counting(environ, start):
        asked.append(environ["PATH_INFO"])
        return files(environ, start)

    host.down()
    host.server = listen(host.folder, host.port, 0, counting)
    threading.Thread(target=host.server.serve_forever, daemon=True).start()
    visit(phone.page, host.url())
    put(second_edition, host.folder)
    asked.clear()
    phone.page.evaluate("dispatchEvent(new Event('focus'))")
    expect(phone.page.locator("[data-newer]")).to_be_visible(timeout=PATIENCE_MS)
    assert any(path.startswith("/switches/") for path in asked)
    assert not [path for path in asked if path.startswith(("/book/", "/assets/", "/photos/", "/data/faces/", "/data/answers/", "/kits/"))]


def test_under_a_prefix_and_two_books_on_one_host(host: Host, phone: Tab, first_edition: Path, second_edition: Path) -> None:
    """Each keeps its own, though a browser keeps both under one name."""
    put(first_edition, host.folder / "shop" / "range book")
    put(second_edition, host.folder / "shop" / "range book" / "other")
    first, other = host.url("shop/range%20book/"), host.url("shop/range%20book/other/")
    visit(phone.page, first)
    one = edition(phone.page)
    visit(phone.page, other)
    two = edition(phone.page)
    assert one != two
    kept = phone.page.evaluate(
        """async () => Object.fromEntries(await Promise.all((await caches.keys()).map(async name =>
            [name, (await (await caches.open(name)).keys()).map(request => request.url)])))"""
    )
    # The outer book's worker is at work when the inner one is first opened: it has to keep its hands off it.
    outer = [url for name, urls in kept.items() if "/other/" not in name for url in urls]
    assert len(kept) >= 2 and len(outer) > 100 and not [url for url in outer if "/other/" in url]
    host.down()
    for address, mark in ((first, one), (other, two), (first, one)):
        phone.page.goto(address)
        assert edition(phone.page) == mark
        phone.page.goto(f"{address}vehicles/")
        assert edition(phone.page) == mark


def test_without_a_worker_a_new_edition_is_told_of(
    open_tab: Callable[..., Tab], host: Host, first_edition: Path, second_edition: Path
) -> None:
    """As on an intranet without https, where no browser keeps anything: the page says that it needs a connection."""
    put(first_edition, host.folder)
    tab = open_tab()
    tab.page.add_init_script("Object.defineProperty(window, 'isSecureContext', { value: false });")
    tab.page.goto(host.url())
    expect(tab.page.locator("[data-kept]")).to_contain_text("needs a connection")
    put(second_edition, host.folder)
    tab.page.evaluate("dispatchEvent(new Event('focus'))")
    expect(tab.page.locator("[data-newer]")).to_be_visible()


def test_a_small_budget_keeps_the_indexes_and_what_was_visited(
    host: Host, phone: Tab, few: Loaded, first_edition: Path, tmp_path: Path
) -> None:
    """A book too large for the device: find works, so do the families that are kept, and the pages that were opened."""
    put(first_edition, host.folder)
    sizes = {path.relative_to(first_edition).as_posix(): path.stat().st_size for path in first_edition.rglob("*") if path.is_file()}
    spent = sum(sizes[path] for path in choose(sizes, few.book.families, (), budget=0).paths)
    kept = choose(sizes, few.book.families, (), budget=spent + 200_000)
    assert 0 < kept.families < kept.of
    listing = json.loads((host.folder / "offline.json").read_text("utf-8"))
    known = {path: [path, hash_, size] for path, hash_, size in listing["keep"]}
    listing |= {"keep": [known[path] for path in kept.paths if path in known], "families": kept.families}
    (host.folder / "offline.json").write_text(json.dumps(listing), "utf-8")
    visit(phone.page, host.url())
    expect(phone.page.locator("[data-kept]")).to_contain_text(f"{kept.families} of {kept.of}")
    away = [family for family in few.book.families.values() if f"data/answers/{family.id}.json" not in kept.paths and family.parts]
    seen, unseen = away[0], away[1]
    phone.page.goto(host.url(f"switches/{seen.id}/"))
    phone.page.goto(host.url(f"?q={quote(seen.parts[0].number)}"))
    expect(phone.page.locator(".answer__head h2 .number")).to_have_text(seen.parts[0].number)
    host.down()
    phone.page.goto(host.url(f"?q={quote(seen.parts[0].number)}"))
    expect(phone.page.locator(".answer__head h2 .number")).to_have_text(seen.parts[0].number)
    phone.page.goto(host.url(f"switches/{seen.id}/"))
    expect(phone.page.locator("h1")).to_have_text(seen.title)
    phone.page.goto(host.url(f"switches/{unseen.id}/"))
    expect(phone.page.locator("h1")).to_have_text("This page is not on this device")
    phone.page.goto(host.url(f"?q={quote(unseen.parts[0].number)}"))
    expect(phone.page.locator("[data-find-answer]")).to_contain_text("could not be loaded")


def test_pictures_beyond_the_budget_are_counted_and_told(host: Host, phone: Tab, first_edition: Path, few: Loaded) -> None:
    """Answers are all there, pictures are not: the footer says how many have to be fetched."""
    put(first_edition, host.folder)
    sizes = {path.relative_to(first_edition).as_posix(): path.stat().st_size for path in first_edition.rglob("*") if path.is_file()}
    pictures = [path for path in sizes if path.startswith("photos/")]
    assert pictures
    whole = choose(sizes, few.book.families, pictures)
    assert whole.left == 0
    assert set(pictures) <= set(whole.paths)
    spent = sum(sizes[path] for path in whole.paths)
    kept = choose(sizes, few.book.families, pictures, budget=spent - 1)
    assert (kept.families, kept.left) == (kept.of, 1)
    assert len(set(pictures) - set(kept.paths)) == 1
    listing = json.loads((host.folder / "offline.json").read_text("utf-8"))
    listing |= {"keep": [one for one in listing["keep"] if one[0] in kept.paths], "left": kept.left}
    (host.folder / "offline.json").write_text(json.dumps(listing), "utf-8")
    visit(phone.page, host.url())
    footer = phone.page.locator("[data-kept]")
    expect(footer).to_have_attribute("data-kept", "some")
    expect(footer).to_contain_text(re.compile(r"\b1\b"))


# What the build writes


def test_every_hash_is_that_of_the_file(site_dir: Path) -> None:
    """SHA-256 in base64, as hashlib has it; and everything of use is in the list."""
    listing = json.loads((site_dir / "offline.json").read_text("utf-8"))
    for path, hash_, size in listing["keep"]:
        data = (site_dir / path).read_bytes()
        assert (hash_, size) == (base64.b64encode(hashlib.sha256(data).digest()).decode(), len(data))
    paths = {path for path, _, _ in listing["keep"]}
    pages = {path.relative_to(site_dir).as_posix() for path in site_dir.rglob("index.html")}
    assert pages - paths == set()
    small = {address for address, _ in json.loads((site_dir / PHOTOS_URL).read_text("utf-8"))["files"]}
    assert small <= paths
    assert not {path for path in paths if path.startswith("api/") or path in ("sw.js", "edition.json", "offline.json")}


def test_the_browsers_own_address_line_can_ask_the_book() -> None:
    """OpenSearch 1.1, draft 6, from memory: a short name of at most 16 characters, and a whole address with ``{searchTerms}``."""
    made = ElementTree.fromstring(search_description("The bench's <own> book of switches", "https://shop.example/book/"))
    space = "{http://a9.com/-/spec/opensearch/1.1/}"
    assert made.tag == f"{space}OpenSearchDescription"
    assert made.findtext(f"{space}ShortName") == "The bench's <own"
    url = made.find(f"{space}Url")
    assert url is not None and url.attrib == {"type": "text/html", "template": "https://shop.example/book/?q={searchTerms}"}


def test_the_manifest_and_its_icons(host: Host, phone: Tab, first_edition: Path) -> None:
    """Chromium itself finds nothing against installing it; each icon is a picture of the size that the manifest states."""
    manifest = json.loads((first_edition / "manifest.webmanifest").read_text("utf-8"))
    for one in manifest["icons"]:
        if one["type"] == "image/png":
            with Image.open(io.BytesIO((first_edition / one["src"]).read_bytes())) as picture:
                assert picture.format == "PNG"
                assert f"{picture.width}x{picture.height}" == one["sizes"]
        else:
            assert (first_edition / one["src"]).read_text("utf-8").startswith("<svg")
    put(first_edition, host.folder)
    visit(phone.page, host.url())
    session = phone.page.context.new_cdp_session(phone.page)
    assert session.send("Page.getAppManifest")["errors"] == []
    errors = [one["errorId"] for one in session.send("Page.getInstallabilityErrors")["installabilityErrors"]]
    assert [one for one in errors if one != "in-incognito"] == []


def test_what_is_kept_stays_within_the_budget_however_large_the_book() -> None:
    def sizes(families: int) -> dict[str, int]:
        found = {"index.html": 10_000, "book/find/page.js": 10_000, "data/numbers.json": 70 * families, "api/v2/parts.json": 10**9}
        for at in range(families):
            found |= {f"data/answers/f{at}.json": 30_000, f"data/proof/f{at}.json": 40_000, f"switches/f{at}/index.html": 100_000}
        return found

    for families in (10, 100, 1_000, 5_000):
        size = sizes(families)
        kept = choose(size, [f"f{at}" for at in range(families)], [], budget=20_000_000)
        assert sum(size[path] for path in kept.paths) <= 20_000_000
        assert {"index.html", "book/find/page.js", "data/numbers.json"} <= set(kept.paths)
        assert kept.families == min(families, 20_000_000 // 70_000 - (1 if families > 100 else 0)) or kept.families > 270
        assert not any(path.startswith("api/") for path in kept.paths)
        answers = {path.split("/")[2] for path in kept.paths if path.startswith("data/answers/")}
        assert answers == {path.split("/")[2] for path in kept.paths if path.startswith("data/proof/")}, (
            "one without the other is of no use"
        )


def test_a_page_that_came_from_another_edition_than_the_one_it_asked_for(
    host: Host, phone: Tab, first_edition: Path, second_edition: Path, few: Loaded
) -> None:
    """A page about an entry asks which edition there is when it is there: what was published in between is told of."""
    put(first_edition, host.folder)
    family = next(iter(few.book.families))
    page = phone.page
    coming = host.folder.with_name("coming")
    put(second_edition, coming)

    def publish(route: Route) -> None:
        if coming.exists():
            put_in_place(coming, host.folder)
            shutil.rmtree(coming)
        route.continue_()

    page.route("**/edition.json", publish)
    page.goto(host.url(f"switches/{family}/"))
    expect(page.locator("[data-newer]")).to_be_visible(timeout=PATIENCE_MS)
    expect(page.locator("main")).not_to_contain_text("A note of the second edition.")
    page.get_by_role("button", name="Load it").click()
    expect(page.locator("main")).to_contain_text("A note of the second edition.")
    expect(page.locator("[data-newer]")).to_be_hidden()
