"""No violation found by axe-core on any kind of page, phone and desktop, light and dark, narrow, and with text of twice the size.

Source: axe-core, Deque Systems (MPL-2.0), as the package axe-playwright-python carries it: its rules for WCAG 2.0, 2.1 and 2.2, A and AA,
and its rules of good practice. It is an independent checker; what it cannot see (whether words are understood) it does not find.
"""

from __future__ import annotations

from collections.abc import Callable

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Page
from tests.site.conftest import DESK, PHONE, Tab
from tests.site.kinds import EVERY_STATE, Place, text_size

from rangebook.book.load import Loaded

BY_COLOUR = ("color-contrast", "link-in-text-block")
"""Those of axe-core's rules that go by colours. They take six sevenths of its time; to all others a page is the same light and dark."""

COLOURS = {"runOnly": {"type": "rule", "values": [*BY_COLOUR]}}
LAYOUT = {"rules": {rule: {"enabled": False} for rule in BY_COLOUR}}


def violations(page: Page, **options: object) -> list[str]:
    """What axe-core has against the page as it stands, each with the first places where it is so."""
    if not page.evaluate("'axe' in window"):
        page.evaluate(Axe().axe_script)
    found = page.evaluate("(options) => axe.run(document, options)", {"resultTypes": ["violations"], **options})["violations"]
    return [f"{one['id']}: {one['help']}: {[node['target'] for node in one['nodes'][:3]]}" for one in found]


def is_dark(page: Page) -> bool:
    """By the ground of the page as it is shown."""
    return bool(page.evaluate("getComputedStyle(document.body).backgroundColor.match(/[0-9]+/g).slice(0, 3).every(one => one < 128)"))


@pytest.mark.parametrize("size", [PHONE, DESK], ids=["phone", "desk"])
@pytest.mark.parametrize("state", EVERY_STATE)
def test_axe_finds_nothing(open_tab: Callable[..., Tab], site_url: str, places: dict[str, Place], state: str, size: dict[str, int]) -> None:
    tab = open_tab(viewport=size, color_scheme="light", reduced_motion="reduce")
    page = tab.page
    page.goto(site_url + places[state].address)
    page.locator(places[state].there).first.wait_for()
    tab.come_to_rest()
    page.evaluate("document.querySelectorAll('details').forEach(one => { one.open = true; })")
    assert not is_dark(page)
    assert violations(page) == []
    page.emulate_media(color_scheme="dark")
    assert is_dark(page)
    assert violations(page, **COLOURS) == []
    if size == PHONE:
        # Colours are the same at any width.
        page.set_viewport_size({"width": 320, "height": 568})
        assert violations(page, **LAYOUT) == []
        text_size(page, 2)
        assert violations(page, **LAYOUT) == []
        # On its side, which is neither: two panes, and hardly any height.
        text_size(page, 1)
        page.set_viewport_size({"width": 640, "height": 360})
        assert violations(page, **LAYOUT) == []


def test_axe_finds_nothing_in_the_scan_dialog_or_on_a_shelf_with_something_on_it(tab: Tab, site_url: str, loaded: Loaded) -> None:
    tab.page.goto(site_url)
    tab.page.wait_for_load_state("networkidle")
    tab.page.get_by_role("button", name="Scan a label").click()
    tab.page.get_by_role("dialog").locator("input[type=file]").wait_for()
    assert violations(tab.page) == []
    tab.page.goto(f"{site_url}shelf/")
    tab.page.locator("textarea").fill("\n".join([*(f"{one.number} 2" for one in loaded.book.parts[:3]), "ZZ-99990"]))
    tab.page.get_by_role("button", name="Keep it on this device").click()
    tab.page.locator("[data-shelf-list] li").first.wait_for()
    assert violations(tab.page) == []


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
    assert [one.partition(":")[0] for one in violations(tab.page, **COLOURS)] == ["color-contrast"]
    assert [one.partition(":")[0] for one in violations(tab.page, **LAYOUT)] == ["image-alt"]
