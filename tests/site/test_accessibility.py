"""No violation found by axe-core on any kind of page, phone and desktop, light and dark.

Source: axe-core, Deque Systems (MPL-2.0), as the package axe-playwright-python carries it: its rules for WCAG 2.0, 2.1 and 2.2, A and AA,
and its rules of good practice. It is an independent checker; what it cannot see (whether words are understood) it does not find.
"""

from __future__ import annotations

from collections.abc import Callable
from urllib.parse import quote

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Page
from tests.site.conftest import DESK, PHONE, Tab
from tests.site.kinds import KINDS, of_each_kind

from rangebook.book.load import Loaded
from rangebook.fitting.fitter import Fitter
from rangebook.site.facts.computed import Computed
from rangebook.site.shared import urls

STATES: dict[str, tuple[str, str]] = {
    "home": ("", "[data-find-start]"),
    "answer": ("?q={number}", "[data-find-answer] > *"),
    "answer of one plug": ("?q={number}&seat={seat}", ".seat"),
    "not in the book": ("?q=ZZ-9999", "[data-not-in-book]"),
    "identify": ("identify/", "[data-question]"),
    "identify, pins": ("identify/?outline=oval&cavities=13", "[data-question]"),
    "family": ("switches/{family}/", "h1"),
    "prove": ("prove/?part={number}", "[data-prove-place] > *"),
    "lever": ("lever/?part={number}", "[data-meter]"),
    "lever on a plug": ("lever/?part={number}&seat={seat}", "[data-meter]"),
    "compare": ("compare/?a={number}&seat={seat}", "[data-wire]"),
    "compare, which plug": ("compare/?a={number}", "[data-compare-place] > *"),
    "job": ("job/?seat={seat}&fit={number}", "[data-job-place] > *"),
    "label": ("label/?part={number}", "h1"),
    "impact": ("handbook/impact/", "h1"),
    "write": ("write/", "[data-write-fields] > *"),
}
"""State of a page -> its address and what stands there once it is shown. A kind of page that is not here has one state: as it is."""


def violations(page: Page) -> list[str]:
    """What axe-core has against the page as it stands, each with the first places where it is so."""
    found = Axe().run(page).response["violations"]
    return [f"{one['id']}: {one['help']}: {[node['target'] for node in one['nodes'][:3]]}" for one in found]


@pytest.fixture
def address(loaded: Loaded, fitter: Fitter) -> Callable[[str], tuple[str, str]]:
    """A state's address and what stands there, filled in: a part that has an answer with a kit, and the seat on which it has it."""
    plain = of_each_kind(Computed(loaded, fitter))
    seat = next(seat for seat in fitter.seats for one in fitter.candidates(seat) if one.needs and one.part.status == "current")
    words = {
        "number": quote(seat.original.number),
        "seat": quote(urls.seat_key(seat)),
        "family": seat.family.id,
    }
    states = {**{kind: (page.url, "h1") for kind, page in plain.items()}, **STATES}
    return lambda state: (states[state][0].format(**words), states[state][1])


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("size", [PHONE, DESK], ids=["phone", "desk"])
@pytest.mark.parametrize("state", sorted({*KINDS, *STATES}))
def test_axe_finds_nothing(
    open_tab: Callable[..., Tab], site_url: str, address: Callable[[str], tuple[str, str]], state: str, size: dict[str, int], scheme: str
) -> None:
    where, there = address(state)
    page = open_tab(viewport=size, color_scheme=scheme, reduced_motion="reduce").page
    page.goto(site_url + where)
    page.locator(there).first.wait_for()
    page.wait_for_load_state("networkidle")
    page.evaluate("document.querySelectorAll('details').forEach(one => { one.open = true; })")
    assert violations(page) == []


def test_axe_would_find_something(tab: Tab, site_url: str) -> None:
    """The checker itself: a picture without words, and text too pale for its ground, are both found."""
    tab.page.goto(f"{site_url}cautions/")
    tab.page.evaluate(
        """() => {
            const image = document.createElement('img');
            image.src = 'data:image/gif;base64,R0lGODlhAQABAAAAACw=';
            const pale = document.createElement('p');
            pale.textContent = 'Hardly to be read';
            pale.className = 'soft';
            pale.style.setProperty('color', '#bbbbbb');
            document.querySelector('main').append(image, pale);
        }"""
    )
    found = " ".join(violations(tab.page))
    assert "image-alt" in found and "color-contrast" in found
