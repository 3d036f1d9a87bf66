"""My shelf: what a pasted stock list says, and that answers tell of what lies there."""

from __future__ import annotations

import csv
from urllib.parse import quote, urlencode

import pytest
from playwright.sync_api import Locator, Page, expect
from tests.site.conftest import Tab
from tests.site.node import evaluate, needs_node

from rangebook.book.load import Loaded
from rangebook.book.numbers import normalise
from rangebook.fitting.fitter import Fitter
from rangebook.fitting.seats import Seat
from rangebook.fitting.verdict import VerdictKind
from rangebook.site.shared import urls

BOOK = {
    "families": [["f", "Family", ["TB-20417", "TB-2041", "GH 2315 04"], "csc"]],
    "others": [["55-1177", "a box", 0, 2]],
    "kits": [["TW-8871", "Kit", "kits/k/"]],
}
MODULES = {"stock": "shelf/stock.js", "search": "shared/search.js", "shelf": "shared/shelf.js"}


@needs_node
def test_a_stock_list_as_it_comes() -> None:
    """By the headings of a table where it has any, else by the figures beside each number."""
    texts = [
        "TB-20417 3\n2 x GH 2315 04\nZZ-9999",
        "number,count,place\nTB-20417,3,bin 4\nZZ-9999,,\n",
        '\ufeffNumber;Place;Count\r\n"TB-20417";"bin ""4""; left";3\r\n\'-88;;2\r\n;;1\r\n',
        "number\tcount\nTB-\u202e20417\t-1\n",
    ]
    assert evaluate(MODULES, "given[0].map((text) => stock.stockOf(text, search.numberList(given[1])))", [texts, BOOK]) == [
        [["TB-20417", 3, ""], ["GH 2315 04", 2, ""], ["ZZ-9999", 1, ""]],
        [["TB-20417", 3, "bin 4"], ["ZZ-9999", 1, ""]],
        [["TB-20417", 3, 'bin "4"; left'], ["-88", 2, ""]],
        [["TB-20417", 0, ""]],
    ]


@needs_node
def test_the_shelf_goes_by_the_numbers_of_the_book() -> None:
    rows = [["55 1177", 2, "bin 1"], ["gh231504", 1, "bin 2"], ["tw 8871", 4, ""], ["ZZ-9999", 1, ""]]
    found = evaluate(
        MODULES,
        "[shelf.shelfOf(given[0], search.numberList(given[1]), true)]"
        ".map((one) => [[...one.known.values()], one.unknown, shelf.countOn(one, 'GH-2315-04')])[0]",
        [rows, BOOK],
    )
    known = [{"number": "GH 2315 04", "count": 3, "place": "bin 1, bin 2"}, {"number": "TW-8871", "count": 4, "place": ""}]
    assert found == [known, [["ZZ-9999", 1, ""]], 3]


@pytest.fixture
def choosing(fitter: Fitter) -> tuple[Seat, list[str], list[str]]:
    """A seat with numbers that may be fitted there, and numbers that must not."""
    for seat in fitter.seats:
        found = [one for one in fitter.candidates(seat) if one.part.status != "withdrawn"]
        fit = [one.part.number for one in found if one.goes_on]
        not_fit = [one.part.number for one in found if one.kind is VerdictKind.NO]
        if len(fit) > 1 and not_fit:
            return seat, fit, not_fit
    raise AssertionError("the demo book has no such seat")


def _keep(page: Page, site_url: str, text: str) -> None:
    page.goto(f"{site_url}shelf/")
    page.locator("textarea").fill(text)
    page.get_by_role("button", name="Keep it on this device").click()
    expect(page.locator("[data-shelf-status]")).to_have_text("Kept on this device.")


def test_every_answer_says_what_lies_on_the_shelf(tab: Tab, site_url: str, choosing: tuple[Seat, list[str], list[str]]) -> None:
    seat, fit, not_fit = choosing
    page = tab.page
    address = f"{site_url}?q={quote(seat.original.number)}&seat={quote(urls.seat_key(seat))}"
    _keep(page, site_url, f"{fit[-1]} 2\n{not_fit[0]} 5\nZZ-99990 1")
    expect(page.locator("[data-shelf-list]")).to_contain_text("2 numbers of the book on the shelf; 1 that the book does not have")
    page.goto(address)
    shelf = page.locator("[data-shelf] li")
    expect(shelf).to_have_count(2)
    assert [one.get_attribute("data-on-shelf") for one in shelf.all()] == [fit[-1], not_fit[0]]
    expect(shelf.first).to_contain_text("2 on the shelf")
    expect(shelf.last.locator(".badge--no")).to_be_visible()
    # By the vehicle, on the page of its own.
    page.goto(f"{site_url}shelf/?seat={quote(urls.seat_key(seat))}")
    expect(shelf).to_have_count(2)
    assert [one.get_attribute("data-on-shelf") for one in shelf.all()] == [fit[-1], not_fit[0]]
    page.get_by_role("button", name="Forget the list").click()
    expect(page.get_by_role("heading", name="The book's own list")).to_be_visible()
    assert not tab.seen.complaints


def test_a_vehicle_is_found_and_told_what_of_the_shelf_fits(tab: Tab, site_url: str, choosing: tuple[Seat, list[str], list[str]]) -> None:
    seat, fit, not_fit = choosing
    page = tab.page
    _keep(page, site_url, f"{fit[0]}\n{not_fit[0]}")
    page.locator("#shelf-vehicle").fill(seat.applications[0].vehicle)
    row = page.locator(f"[data-shelf-answer] a.row[href*='{quote(urls.seat_id(seat))}']")
    page.locator("[data-shelf-answer] > *").first.wait_for()
    if row.count():
        row.first.click()
    expect(page.locator("[data-shelf-answer] [data-on-shelf]").first).to_be_visible()
    assert page.locator("[data-shelf-answer] [data-seat]").get_attribute("data-seat")


def test_the_book_s_own_list_is_told_on_every_page_until_there_is_one_on_the_device(
    tab: Tab, site_url: str, loaded: Loaded, fitter: Fitter
) -> None:
    """By `shelf.csv` of the demo book: the page of the part, its row on the family's, a kit's page, and the job sheet."""
    lying = {normalise(one["number"]): one for one in csv.DictReader((loaded.root / "shelf.csv").open(encoding="utf-8"))}
    seat, first = next(
        (seat, one)
        for seat in fitter.seats
        for one in fitter.candidates(seat)
        if one.part.key in lying and one.goes_on and any(need.kit and loaded.book.kits[need.kit].key in lying for need in one.needs)
    )
    part, kit = first.part, next(loaded.book.kits[need.kit] for need in first.needs if need.kit)
    job = f"job/?{urlencode({'seat': urls.seat_key(seat), 'fit': part.number, 'off': seat.original.number})}"
    says = {one.key: "{count} on the shelf, {place}".format(**lying[one.key]) for one in (part, kit)}
    page = tab.page

    def told(address: str, key: str, where: str) -> Locator:
        page.goto(site_url + address)
        return page.locator(f"{where} .on-shelf", has_text=says[key])

    expect(told(urls.part_url(part), part.key, ".head")).to_be_visible()
    expect(told(urls.family_url(part.family), part.key, "#Parts tr")).to_be_visible()
    expect(told(urls.kit_url(kit.id), kit.key, ".head")).to_be_visible()
    expect(told(job, part.key, ".ticks")).to_be_visible()
    expect(page.locator(".ticks .on-shelf", has_text=says[kit.key])).to_be_visible()
    _keep(page, site_url, f"number,count,place\n{part.number.lower()},7,van")
    says[part.key] = "7 on the shelf, van"
    for address, where in ((urls.part_url(part), ".head"), (urls.family_url(part.family), "#Parts tr"), (job, ".ticks")):
        expect(told(address, part.key, where)).to_be_visible()
        expect(page.locator(f"{where} .on-shelf:visible")).to_have_count(1)
    page.goto(site_url + urls.kit_url(kit.id))
    expect(page.locator(".head .on-shelf")).to_be_hidden()
    assert not tab.seen.complaints
