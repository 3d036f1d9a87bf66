"""An order pasted into a browser: what comes first, which plug is asked for, and the one pick list."""

from __future__ import annotations

import csv
import io
import re
from collections import Counter
from collections.abc import Callable
from pathlib import Path

import pytest
from playwright.sync_api import expect
from tests.site.conftest import Tab

from rangebook.book.load import Loaded
from rangebook.book.model import Part
from rangebook.desk.answer import seat_answer
from rangebook.fitting.fitter import Fitter
from rangebook.fitting.seats import Seat
from rangebook.fitting.verdict import Verdict


def _best(fitter: Fitter, seat: Seat) -> Verdict | None:
    answer = seat_answer(fitter, seat)
    return next((one.verdict for one in answer.candidates if answer.best and one.verdict.part is answer.best), None)


def _comes_to(verdict: Verdict) -> tuple[object, ...]:
    return verdict.part.number, tuple((one.kit, one.seal) for one in verdict.needs), verdict.moves


@pytest.fixture
def asking(fitter: Fitter) -> tuple[Part, list[Verdict]]:
    """A superseded part whose plugs do not all get the same, and what each gets."""
    for part in fitter.book.parts:
        found = [best for seat, _ in fitter.seats_taken_by(part) if (best := _best(fitter, seat))]
        if part.status == "superseded" and len({str(_comes_to(one)) for one in found}) > 1 and any(one.needs for one in found):
            return part, found
    raise AssertionError("the demo book has no such part")


def test_an_order_ends_in_one_pick_list(
    open_tab: Callable[..., Tab], site_url: str, loaded: Loaded, asking: tuple[Part, list[Verdict]]
) -> None:
    part, answers = asking
    book = loaded.book
    current = next(one for one in book.parts if one.status == "current" and one.key != part.key)
    gone = next(one for one in book.parts if one.status == "withdrawn")
    kit = next(iter(book.kits.values()))
    tab = open_tab(accept_downloads=True)
    page = tab.page
    page.goto(f"{site_url}several/")
    page.locator("textarea").fill(f"3 x {current.number}\nZZ-99990 1\n{part.number}, 2\n{gone.number}\n{kit.number} 4")
    page.get_by_role("button", name="Show what fits").click()
    rows = page.locator(".several__table tbody tr")
    expect(rows).to_have_count(5)
    assert [row.get_attribute("data-gone") for row in rows.all()][:2] == ["w", "s"]
    # Until its plug is told a line is in no pick list.
    pick = page.locator("[data-several-pick]")
    expect(pick).to_contain_text("1 line is not in it: say which plug")
    choice = rows.nth(1).locator("select")
    assert choice.locator("option").count() > 2
    expect(pick.locator(f"[data-kind=kit][data-what='{kit.number}']")).to_have_attribute("data-count", "4")
    for at in range(1, choice.locator("option").count()):
        choice.select_option(index=at)
        expect(pick.locator(".box", has_text="say which plug")).to_have_count(0)
        shown = Counter(
            {
                (one.get_attribute("data-kind"), one.get_attribute("data-what")): int(one.get_attribute("data-count") or 0)
                for one in pick.locator("li").all()
            }
        )
        taken = [
            one
            for one in answers
            if shown["switch", one.part.number] >= 2 and all(shown["kit", book.kits[two.kit or ""].number] >= 2 for two in one.needs)
        ]
        assert taken, "what is fetched is what one of its plugs gets, twice"
    # How many can be put right.
    rows.nth(1).locator("input").fill("7")
    rows.nth(1).locator("input").blur()
    fit = rows.nth(1).locator("[data-label=Fit] .number").inner_text()
    assert int(pick.locator(f"[data-kind=switch][data-what='{fit}']").get_attribute("data-count") or 0) >= 7
    with page.expect_download() as got:
        page.get_by_role("link", name="Pick list as CSV").click()
    back = list(csv.DictReader(io.StringIO(Path(got.value.path()).read_text("utf-8-sig"), newline=""), strict=True))
    kits = pick.locator(f"[data-kind=kit][data-what='{kit.number}']")
    assert {row["Number"]: row["How many"] for row in back}[kit.number] == kits.get_attribute("data-count")
    page.get_by_role("button", name="Labels for all of it").click()
    expect(page.locator(".label")).to_have_count(pick.locator("li:not([data-kind=work])").count())
    expect(page.locator(f".label[data-number='{kit.number}'] svg.qr")).to_be_visible()
    assert not tab.seen.complaints


def test_a_misspelt_number_is_put_right_with_a_word_or_by_a_tap(tab: Tab, site_url: str, loaded: Loaded) -> None:
    """The letter O for the figure is said to look the same; one character off is offered, and taken for it once it is tapped."""
    part = next(one for one in loaded.book.parts if re.fullmatch(r"[A-Z]+[-.]\d*0\d*", one.number) and one.status == "current")
    slip = part.number.replace("0", "O")
    page = tab.page
    page.goto(f"{site_url}several/")
    page.locator("textarea").fill(f"{slip} x2\n{part.number[:-1]}#")
    page.get_by_role("button", name="Show what fits").click()
    rows = page.locator(".several__table tbody tr")
    expect(rows.filter(has_text="looks the same")).to_contain_text(f"“{slip}” is not in the book; {part.number} looks the same")
    rows.get_by_role("button", name=f"Take {part.number}").click()
    expect(page.locator("[data-several-status]")).to_contain_text("1 number read")
    expect(rows.locator("input")).to_have_value("3")
