"""A part that its maker has taken back is never offered, and wherever its number stands the page says so, with what to fit instead."""

from __future__ import annotations

import csv
from urllib.parse import quote

import pytest
from playwright.sync_api import expect
from tests.site.conftest import Tab

from rangebook.book.model import Part
from rangebook.desk.answer import seat_answer
from rangebook.fitting.fitter import Fitter
from rangebook.fitting.seats import Seat
from rangebook.fitting.standing import Group
from rangebook.site.shared import urls


@pytest.fixture(scope="module")
def withdrawn(fitter: Fitter) -> tuple[Seat, Part, Part]:
    """A seat with a withdrawn part among its candidates, that part, and what to fit instead."""
    for seat in fitter.seats:
        answer = seat_answer(fitter, seat)
        for one in answer.candidates:
            if one.group is Group.WITHDRAWN and answer.best and one.verdict.part is not answer.best:
                return seat, one.verdict.part, answer.best
    raise AssertionError("the demo book has no such part")


def test_several_at_once_and_its_file(tab: Tab, site_url: str, withdrawn: tuple[Seat, Part, Part]) -> None:
    _, part, instead = withdrawn
    tab.page.goto(f"{site_url}several/")
    tab.page.locator("textarea").fill(part.number)
    tab.page.locator("[data-several-form] button[type=submit]").click()
    row = tab.page.locator("tr[data-found=yes]").first
    expect(row).to_contain_text(f"{part.number} is withdrawn by its maker: do not fit it again")
    expect(row.locator(".badge--no")).to_be_visible()
    expect(row.locator(".several__gone")).to_contain_text(f"Fit {instead.number} instead")
    with tab.page.expect_download() as coming:
        tab.page.get_by_role("link", name="Lines as CSV").click()
    with coming.value.path().open(encoding="utf-8-sig", newline="") as file:
        head, *rows = csv.reader(file)
    said = dict(zip(head, rows[0], strict=True))
    assert said["Number"] == part.number and said["Status"] and said["Fit"] != part.number
    assert f"{part.number} is withdrawn by its maker" in said["Note"]


def test_no_job_sheet_is_made_for_it(tab: Tab, site_url: str, withdrawn: tuple[Seat, Part, Part]) -> None:
    seat, part, instead = withdrawn
    tab.page.goto(f"{site_url}job/?seat={quote(urls.seat_key(seat), safe='')}&fit={quote(part.number)}&off={quote(seat.original.number)}")
    refused = tab.page.locator("[data-job-refused]")
    expect(refused).to_contain_text(part.number)
    expect(refused).to_contain_text(instead.number)
    expect(tab.page.locator(".job__fit")).to_have_count(0)


def test_its_label_says_so(tab: Tab, site_url: str, withdrawn: tuple[Seat, Part, Part]) -> None:
    _, part, _ = withdrawn
    tab.page.goto(f"{site_url}label/?part={quote(part.number)}")
    expect(tab.page.locator(".label__status--withdrawn").first).to_be_visible()


def test_its_answer_offers_nothing_of_it(tab: Tab, site_url: str, withdrawn: tuple[Seat, Part, Part]) -> None:
    seat, part, instead = withdrawn
    tab.page.goto(f"{site_url}?q={quote(seat.original.number)}&seat={quote(urls.seat_key(seat), safe='')}")
    warned = tab.page.locator(f".beware__one[data-candidate='{part.number}']")
    expect(warned).to_contain_text(f"Fit {instead.number} instead")
    expect(warned.get_by_role("link", name="Job sheet")).to_have_count(0)
