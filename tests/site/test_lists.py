"""The lists of a larger book: in pieces that a phone can load, with everything in them, and nothing twice."""

from __future__ import annotations

import itertools
import threading
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from lxml import html
from playwright.sync_api import expect
from tests.site.conftest import PHONE, Tab

from generate import generate, write
from rangebook.book.load import Loaded, load, load_texts
from rangebook.site.facts.computed import Computed
from rangebook.site.generator.build import build_site
from rangebook.site.generator.gate import checked
from rangebook.site.live.serve import Server, listen
from rangebook.site.pages.identify import identify_data
from rangebook.site.pages.lists import MOST, cut
from rangebook.site.shared import urls
from rangebook.site.shared.render import render


@given(st.lists(st.integers(0, 40)), st.integers(1, 60))
def test_a_cut_list_is_the_whole_list(weights: list[int], most: int) -> None:
    pieces = cut([(str(at), weight, at) for at, weight in enumerate(weights)], most)
    assert [item for piece in pieces for item in piece.items] == list(range(len(weights)))
    for piece in pieces:
        assert sum(weights[item] for item in piece.items) <= most or len(piece.items) == 1
        assert not weights or (piece.first, piece.last) == (str(piece.items[0]), str(piece.items[-1]))
    for one, other in itertools.pairwise(pieces):
        assert sum(weights[item] for item in one.items) + weights[other.items[0]] > most, "no more pieces than it takes"


@pytest.fixture(scope="module")
def book(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """An invented book that is too long for one page of numbers, and its site beside it."""
    home = tmp_path_factory.mktemp("long")
    write(generate(90), home)
    build_site(checked(home), home / "site")
    return home


@pytest.fixture
def serving() -> Iterator[Callable[[Path], str]]:
    """Serve a folder; the address, with a slash at the end."""
    servers: dict[Path, Server] = {}

    def serve(site: Path) -> str:
        if site not in servers:
            servers[site] = listen(site, 0, 0)
            threading.Thread(target=servers[site].serve_forever, daemon=True).start()
        return f"http://127.0.0.1:{servers[site].server_port}/"

    yield serve
    for server in servers.values():
        server.shutdown()
        server.server_close()


def pieces_of(site: Path, stem: str) -> Iterator[html.HtmlElement]:
    """The pieces of a list, by the links of its own page."""
    for link in html.parse(site / stem / "index.html").xpath("//nav[@aria-label='The list, in pieces']//a/@href"):
        yield html.parse((site / stem / link / "index.html").resolve()).getroot()


def test_every_number_is_in_the_pieces_once_and_in_order(book: Path) -> None:
    known = load(book).book
    site = book / "site"
    pieces = [piece.xpath("//main//tbody//th//text()") for piece in pieces_of(site, "numbers")]
    listed = ["".join(text.split()) for piece in pieces for text in piece if text.strip()]
    numbers = [one.number for one in (*known.parts, *known.kits.values())]
    assert sorted(listed) == sorted("".join(number.split()) for number in numbers)
    assert len(pieces) == -(-len(numbers) // MOST) and max(map(len, pieces)) <= MOST
    assert not html.parse(site / "numbers" / "index.html").xpath("//main//table"), "the list's own page leads to the pieces, no more"


def test_every_vehicle_and_gearbox_is_in_the_pieces(book: Path) -> None:
    known = load(book).book
    for stem, head, names in (
        ("vehicles", "//main//h3", {one.vehicle for family in known.families.values() for one in family.applications}),
        ("gearboxes", "//main//section/h2", set(known.by_gearbox)),
    ):
        pieces = list(pieces_of(book / "site", stem))
        assert len(pieces) > 1
        listed = [one.text_content().strip() for piece in pieces for one in piece.xpath(head)]
        assert len(listed) == len(set(listed)) and set(listed) == names


def test_on_a_phone_from_piece_to_piece(open_tab: Callable[..., Tab], book: Path, serving: Callable[[Path], str]) -> None:
    tab = open_tab()
    tab.page.goto(serving(book / "site") + "numbers/")
    ways = tab.page.get_by_role("navigation", name="The list, in pieces").get_by_role("link")
    first, last = ways.first.inner_text(), ways.last.inner_text()
    assert first != last
    assert all(box["height"] >= 44 for box in (one.bounding_box() for one in ways.all()))  # WCAG 2.2, 2.5.5
    ways.first.click()
    expect(tab.page.locator("h1")).to_have_text(" ".join(first.split()))
    tab.page.get_by_role("link", name="After").click()
    expect(tab.page.get_by_role("link", name="Before")).to_be_visible()
    tab.page.get_by_role("link", name="All numbers", exact=True).click()
    expect(ways.first).to_be_visible()
    for address in ("numbers/1/", "vehicles/", "vehicles/1/", "gearboxes/2/"):
        tab.page.goto(serving(book / "site") + address)
        assert tab.page.evaluate("document.documentElement.scrollWidth") <= PHONE["width"], address
    assert not tab.seen.complaints


def test_the_finder_of_vehicles_still_finds(open_tab: Callable[..., Tab], book: Path, serving: Callable[[Path], str]) -> None:
    tab = open_tab()
    tab.page.goto(serving(book / "site") + "vehicles/")
    tab.page.locator("#finder-make").select_option(index=1)
    expect(tab.page.locator("[data-finder-place]")).not_to_be_empty()
    expect(tab.page.get_by_role("navigation", name="The list, in pieces")).to_be_hidden()
    assert not tab.seen.complaints


def test_without_a_script_there_is_a_way_in_a_long_book_and_no_long_page(loaded: Loaded) -> None:
    """The page that asks questions names every connector of a small book, and of a long one none: the lists lead on."""
    long = load_texts({name: text.encode() for name, text in generate(MOST + 2).items()})
    assert len(long.book.connectors) > MOST > len(loaded.book.connectors)

    def links(book: Loaded) -> list[str]:
        page = html.fromstring(render("identify.html", "..", "", identify_data(Computed(book))))
        return page.xpath("//div[@class='no-script']//a/@href")

    assert {f"../{urls.connector_url(one)}" for one in loaded.book.connectors} <= set(links(loaded))
    assert set(links(long)) == {"../vehicles/", "../gearboxes/", "../numbers/"}
