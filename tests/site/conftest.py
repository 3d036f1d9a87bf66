"""The demo book as a site, built once, served on this machine, and a browser that writes down all that it asks for."""

from __future__ import annotations

import fcntl
import os
import shutil
import signal
import threading
import time
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any
from urllib.parse import urlsplit

import pytest
from playwright.sync_api import Browser, BrowserContext, Page, Playwright, Request, expect, sync_playwright
from tests.site.kinds import Place, every_place

from rangebook.book.load import Loaded, load
from rangebook.fitting.fitter import Fitter
from rangebook.lint.examples import base_book
from rangebook.site.facts.computed import Computed
from rangebook.site.generator.build import build_site
from rangebook.site.generator.gate import checked
from rangebook.site.live.serve import listen

ROOT = Path(__file__).resolve().parents[2]
PHONE = {"width": 390, "height": 844}
DESK = {"width": 1366, "height": 900}
LONGEST_S = 60
"""So long is waited for something in a browser, on a machine that has other things to do."""
FLAGS = (
    *("--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run"),
    *("--disable-background-networking", "--disable-component-update", "--disable-sync"),
)
expect.set_options(timeout=LONGEST_S * 500)

# A shell that starts the tests in the background has them ignore Ctrl-C, and so would every command that they start and interrupt.
if signal.getsignal(signal.SIGINT) is signal.SIG_IGN:
    signal.signal(signal.SIGINT, signal.default_int_handler)


@pytest.fixture(scope="session")
def root() -> Path:
    """The checkout, whose ``entries/`` is the demo book."""
    return ROOT


@pytest.fixture(scope="session")
def loaded() -> Loaded:
    """The demo book as every other part of the house sees it."""
    return load(ROOT)


@pytest.fixture(scope="session")
def fitter(loaded: Loaded) -> Fitter:
    """Its verdicts."""
    return Fitter(loaded.book)


@pytest.fixture(scope="session")
def places(loaded: Loaded, fitter: Fitter) -> dict[str, Place]:
    """Where each kind of page and each of their states is."""
    return every_place(Computed(loaded, fitter), fitter)


def built_once(factory: pytest.TempPathFactory, name: str, build: Callable[[Path], None]) -> Path:
    """A folder that the first of the processes that share the tests fills; it is everybody's, so nobody writes into it."""
    base = factory.getbasetemp()
    # Each process of a spread run has a folder of its own in the run's.
    target = (base.parent if "PYTEST_XDIST_WORKER" in os.environ else base) / name
    with target.with_suffix(".lock").open("w") as lock:
        fcntl.flock(lock, fcntl.LOCK_EX)
        if not target.exists():
            build(target)
    return target


@pytest.fixture(scope="session")
def site_dir(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The demo book as a site."""
    return built_once(tmp_path_factory, "demo", lambda target: build_site(checked(ROOT), target) and None)


@pytest.fixture(scope="session")
def site_url(site_dir: Path) -> Iterator[str]:
    """Where the site is served, with a slash at the end; its answers carry the strict policy of ``rangebook serve``."""
    server = listen(site_dir, 0, 0)
    threading.Thread(target=server.serve_forever, daemon=True).start()
    yield f"http://127.0.0.1:{server.server_port}/"
    server.shutdown()
    server.server_close()


@pytest.fixture(scope="session")
def driver() -> Iterator[Playwright]:
    """What drives browsers: there can be one in a process."""
    with sync_playwright() as playwright:
        yield playwright


def launch(driver: Playwright, *more: str) -> Browser:
    """The one that ``RANGEBOOK_CHROMIUM`` names, or Debian's Chromium: the one without windows takes a quarter of the other's time."""
    found = os.environ.get("RANGEBOOK_CHROMIUM") or shutil.which("chromium-headless-shell") or "/usr/bin/chromium"
    return driver.chromium.launch(executable_path=found, args=[*FLAGS, *more])


@pytest.fixture(scope="session")
def browser(driver: Playwright) -> Iterator[Browser]:
    """The browser of all tests that need no other."""
    launched = launch(driver)
    yield launched
    launched.close()


@dataclass
class Seen:
    """What happened in a browser: addresses asked for, and everything that it complained about."""

    asked: list[str] = field(default_factory=list)
    complaints: list[str] = field(default_factory=list)
    open: set[Request] = field(default_factory=set)
    """What was asked for and has neither come nor failed."""

    def ask(self, request: Request) -> None:
        """Something is asked for."""
        self.asked.append(request.url)
        self.open.add(request)

    def end(self, request: Request) -> None:
        """It has come, or failed."""
        self.open.discard(request)

    def failed(self, address: str, why: str) -> None:
        """Something that was asked for and did not come. What is given up because the tab goes to another page is no failure."""
        if "ERR_ABORTED" not in why:
            self.complaints.append(f"{address}: {why}")

    def heard(self, kind: str, text: str) -> None:
        """A line of the console. That playwright keeps a worker from being registered is its own doing."""
        if kind in ("error", "warning") and "registration blocked by Playwright" not in text:
            self.complaints.append(text)

    @property
    def hosts(self) -> set[str]:
        """The hosts that were asked, with their ports."""
        return {urlsplit(address).netloc for address in self.asked if urlsplit(address).scheme not in ("data", "blob")}


@dataclass
class Tab:
    """A page in a browser, and what happened in it."""

    page: Page
    seen: Seen

    def come_to_rest(self) -> None:
        """Wait until all that the page asked for has come, and it has asked for nothing more a while. Playwright's own wait of this kind
        takes half a second on each page."""
        self.page.wait_for_load_state("load")
        still, since = 0, time.monotonic()
        while still < 3:
            self.page.wait_for_timeout(40)
            still = 0 if self.seen.open else still + 1
            assert time.monotonic() - since < LONGEST_S, f"still asked for: {self.seen.open}"


@pytest.fixture
def open_tab(browser: Browser) -> Iterator[Callable[..., Tab]]:
    """Make a tab; the words given are those of playwright's ``new_context``, a phone where no size is given."""
    made: list[BrowserContext] = []

    def make(**words: Any) -> Tab:
        # Whatever is not about keeping the book on the device asks the server itself.
        context = browser.new_context(**{"viewport": PHONE, "service_workers": "block", **words})
        made.append(context)
        seen = Seen()
        context.on("request", seen.ask)
        for ended in ("requestfinished", "requestfailed"):
            context.on(ended, seen.end)
        context.on("requestfailed", lambda request: seen.failed(request.url, request.failure or ""))
        context.set_default_timeout(LONGEST_S * 1000)
        page = context.new_page()
        page.on("console", lambda message: seen.heard(message.type, message.text))
        page.on("pageerror", lambda error: seen.complaints.append(str(error)))
        return Tab(page, seen)

    yield make
    for context in made:
        context.close()


@pytest.fixture
def tab(open_tab: Callable[..., Tab]) -> Tab:
    """A phone."""
    return open_tab()


@pytest.fixture
def small_book(tmp_path: Path) -> Path:
    """A root of its own with the linter's example book in it and nothing else: no schema, no ``mkdocs.yml``."""
    home = tmp_path / "shop"
    for name, text in base_book().items():
        (home / name).parent.mkdir(parents=True, exist_ok=True)
        (home / name).write_text(text, "utf-8")
    return home


@pytest.fixture
def demo_book(tmp_path: Path) -> Path:
    """A copy of the demo book that a test may spoil."""
    home = tmp_path / "demo"
    shutil.copytree(ROOT / "entries", home / "entries")
    shutil.copy(ROOT / "shelf.csv", home / "shelf.csv")
    return home
