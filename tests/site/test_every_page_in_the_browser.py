"""Every page of the demo book in a real browser: quiet, alone, and readable on a phone."""

from __future__ import annotations

import http.server
import re
import threading
from collections.abc import Callable, Iterator
from functools import partial
from pathlib import Path
from urllib.parse import quote, urlsplit

import pytest
from playwright.sync_api import Page, expect
from tests.site.conftest import DESK, PHONE, Tab
from tests.site.kinds import EVERY_STATE, KINDS, Place, of_each_kind, text_size

from rangebook.book.load import Loaded
from rangebook.fitting.fitter import Fitter
from rangebook.site.facts.computed import Computed
from rangebook.site.shared import urls


@pytest.fixture(params=[*KINDS, "answer"])
def kind(request: pytest.FixtureRequest, loaded: Loaded, fitter: Fitter) -> str:
    """The address of one page of each kind, and of an answer, which is shown where one asks."""
    if request.param == "answer":
        return f"?q={quote(fitter.seats[0].original.number)}"
    return of_each_kind(Computed(loaded, fitter))[request.param].url


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("size", [PHONE, DESK], ids=["phone", "desk"])
def test_each_kind_of_page_at_both_sizes_light_and_dark(
    open_tab: Callable[..., Tab], site_url: str, kind: str, scheme: str, size: dict[str, int]
) -> None:
    tab = open_tab(viewport=size, color_scheme=scheme)
    tab.page.goto(site_url + kind)
    tab.page.wait_for_load_state("networkidle")
    assert not tab.seen.complaints
    assert tab.seen.hosts == {urlsplit(site_url).netloc}
    red, green, blue = map(int, re.findall(r"\d+", tab.page.evaluate("getComputedStyle(document.body).backgroundColor"))[:3])
    assert (red + green + blue > 382) == (scheme == "light")
    assert tab.page.evaluate("document.documentElement.scrollWidth") <= size["width"]


@pytest.mark.parametrize("state", EVERY_STATE)
def test_what_is_touched_is_large_enough_and_nothing_runs_off_sideways(
    tab: Tab, site_url: str, places: dict[str, Place], state: str
) -> None:
    """Buttons, boxes (with the label round them), folds and rows are 44 CSS px high; links in text are exempt. All that is folded is
    opened, and there is no scrolling sideways on a page 320 CSS px wide, nor with text of twice the size.

    Source: WCAG 2.2, 2.5.5 target size (enhanced), 1.4.10 reflow, 1.4.4 resize text.
    """
    tab.page.goto(site_url + places[state].address)
    tab.page.locator(places[state].there).first.wait_for()
    tab.come_to_rest()
    tab.page.evaluate("document.querySelectorAll('details').forEach(one => { one.open = true; })")
    small = tab.page.evaluate(
        """() => [...document.querySelectorAll(
            'button, input, summary, .button, .chip, .tile, .row, .brand, .menu__in a, .foot nav a, .contents a, .matrix .cell a'
        )].map(one => one.closest('label') ?? one)
          .filter(one => one.offsetParent && one.getBoundingClientRect().height < 43.5)
          .map(one => [one.className, one.textContent.trim().slice(0, 40), one.getBoundingClientRect().height])"""
    )
    assert not small
    for width, times in ((320, 1), (320, 2), (360, 2), (640, 2), (1366, 2)):
        tab.page.set_viewport_size({"width": width, "height": 640})
        text_size(tab.page, times)
        assert tab.page.evaluate("document.documentElement.scrollWidth") <= width, (width, times)


def test_the_largest_family_is_an_overview_on_a_phone(tab: Tab, site_url: str, loaded: Loaded) -> None:
    """At most 6,000 CSS px high as it comes, which is the limit that the project set itself."""
    family = max(loaded.book.families.values(), key=lambda one: (len(one.parts), len(one.plugs)))
    tab.page.goto(f"{site_url}switches/{family.id}/")
    tab.page.wait_for_load_state("networkidle")
    assert tab.page.evaluate("document.documentElement.scrollHeight") <= 6000


def test_light_or_dark_is_the_readers_choice(open_tab: Callable[..., Tab], site_url: str) -> None:
    tab = open_tab(color_scheme="light")

    def ground() -> str:
        return tab.page.evaluate("getComputedStyle(document.body).backgroundColor")

    tab.page.goto(site_url)
    light = ground()
    tab.page.locator(".menu > summary").click()
    tab.page.get_by_role("button", name="Switch to Dark").click()
    dark = ground()
    assert dark != light
    tab.page.goto(f"{site_url}vehicles/")
    assert ground() == dark, "the choice holds on the next page"
    tab.page.goto(f"{site_url}handbook/")
    assert ground() == dark, "and in the handbook"
    tab.page.locator(".menu > summary").click()
    tab.page.get_by_role("button", name="Switch to Light").click()
    assert ground() == light


def test_a_link_into_a_folded_part_unfolds_it(tab: Tab, site_url: str, loaded: Loaded) -> None:
    seat = Fitter(loaded.book).seats[0]
    tab.page.goto(site_url + urls.seat_url(seat))
    shown = tab.page.locator(f"[id='{urls.seat_anchor(seat)}']")
    expect(tab.page.locator("#Plugs > details[open]")).to_have_count(1)
    expect(shown.locator("h4").first).to_be_in_viewport()


def test_the_search_of_the_handbook_finds_notes(open_tab: Callable[..., Tab], site_url: str, loaded: Loaded) -> None:
    """A word that stands in one family's notes leads to that family."""
    words: dict[str, set[str]] = {}
    for family in loaded.book.families.values():
        for word in set(re.findall(r"[a-z]{9,}", family.entry.prose)):
            words.setdefault(word, set()).add(family.id)
    word, (family_id,) = next((word, owners) for word, owners in sorted(words.items()) if len(owners) == 1)
    tab = open_tab(viewport=DESK)
    tab.page.goto(f"{site_url}handbook/")
    tab.page.locator(".md-search__input").click()
    tab.page.keyboard.type(word)
    tab.page.locator(f".md-search-result__item a[href*='switches/{family_id}/']").first.wait_for()
    assert not tab.seen.complaints


def test_skipping_to_the_page(tab: Tab, site_url: str) -> None:
    tab.page.goto(f"{site_url}numbers/")
    tab.page.keyboard.press("Tab")
    expect(tab.page.locator("#q")).to_be_focused()
    tab.page.keyboard.press("Tab")
    tab.page.keyboard.press("Tab")
    expect(tab.page.locator(".skip")).to_be_focused()
    tab.page.keyboard.press("Enter")
    assert tab.page.evaluate("document.activeElement.id") == "Main"


@pytest.mark.parametrize("kind", ["", "switches/tamblin-lever/", "handbook/", "prove/"])
@pytest.mark.parametrize("width", [320, 360])
def test_one_bar_with_the_find_box_and_a_menu(open_tab: Callable[..., Tab], site_url: str, kind: str, width: int) -> None:
    """At most 56 CSS px on a phone, nothing of it off the screen; `/` goes to the box and Escape closes the menu."""
    tab = open_tab(viewport={"width": width, "height": 640})
    tab.page.goto(site_url + kind)
    bar = tab.page.locator(".bar").bounding_box()
    assert bar and bar["height"] <= 56 and bar["y"] == 0
    assert tab.page.evaluate("document.documentElement.scrollWidth") <= width
    tab.page.keyboard.press("/")
    expect(tab.page.locator("#q")).to_be_focused()
    tab.page.locator(".menu > summary").click()
    menu = tab.page.locator(".menu__in")
    expect(menu.get_by_role("link", name="Vehicles")).to_be_visible()
    box = menu.bounding_box()
    assert box and box["x"] >= 0 and box["x"] + box["width"] <= width
    tab.page.keyboard.press("Escape")
    expect(menu).to_be_hidden()


def test_a_page_prints(tab: Tab, site_url: str, loaded: Loaded) -> None:
    """A family's sheet on paper: no bar, no find box, and what was folded is there."""
    family = next(iter(loaded.book.families))
    tab.page.goto(f"{site_url}switches/{family}/")
    tab.page.emulate_media(media="print")
    expect(tab.page.locator(".bar__find")).to_be_hidden()
    expect(tab.page.locator(".contents")).to_be_hidden()
    folded = tab.page.locator(".fold .pins").first
    assert folded.evaluate("one => one.checkVisibility({contentVisibilityAuto: true})")
    assert tab.page.pdf().startswith(b"%PDF-")


@pytest.fixture
def under_a_prefix(site_dir: Path, tmp_path: Path) -> Iterator[str]:
    """The same files under a longer address, from Python's own plain server."""
    (tmp_path / "shop").mkdir()
    (tmp_path / "shop" / "range book").symlink_to(site_dir)

    class Quiet(http.server.SimpleHTTPRequestHandler):
        def log_message(self, *_: object) -> None:
            pass

    server = http.server.ThreadingHTTPServer(("127.0.0.1", 0), partial(Quiet, directory=str(tmp_path)))
    threading.Thread(target=server.serve_forever, daemon=True).start()
    yield f"http://127.0.0.1:{server.server_port}/shop/range%20book/"
    server.shutdown()
    server.server_close()


def test_any_server_at_any_address_will_do(tab: Tab, under_a_prefix: str, fitter: Fitter) -> None:
    number = fitter.seats[0].original.number
    tab.page.goto(f"{under_a_prefix}numbers/")
    _find(tab.page, number)
    expect(tab.page.locator(".answer__head h2 .number")).to_have_text(number)
    tab.page.locator(".answer__head a").first.click()
    expect(tab.page.locator("h1")).to_be_visible()
    assert not tab.seen.complaints


def _find(page: Page, text: str) -> None:
    """By the box in the bar, as on every page."""
    page.locator("#q").fill(text)
    page.locator("#q").press("Enter")
