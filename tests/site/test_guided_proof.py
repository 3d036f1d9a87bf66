"""The guided proof in a real browser: one reading to a screen, on another device by a link, from the cause to the remedy."""

from __future__ import annotations

import re
from collections.abc import Callable
from urllib.parse import parse_qs, urlencode, urlsplit

import pytest
from playwright.sync_api import Page, expect
from tests.site.conftest import PHONE, Tab

from rangebook.book.load import Loaded
from rangebook.book.model import Part
from rangebook.desk.notes import notes_of
from rangebook.desk.proof_sheets import Sheet, sheets
from rangebook.electrics.relation import PathKind
from rangebook.fitting.fitter import Fitter
from rangebook.site.shared.urls import seat_key


@pytest.fixture(scope="module")
def through_a_kit(loaded: Loaded, fitter: Fitter) -> tuple[Part, Sheet]:
    """A part and its sheet at a plug whose wires meet pins of other labels."""
    return next(
        (part, sheet)
        for part in loaded.book.parts
        for sheet in sheets(fitter, part)[1:]
        if sheet.moved and sheet.proof.insulation and all(None not in row for row in sheet.faults.good)
    )


def prove(page: Page, site_url: str, **query: str) -> None:
    page.goto(f"{site_url}prove/?{urlencode(query)}")
    page.locator(".position").first.wait_for()


def test_one_reading_to_a_screen(open_tab: Callable[..., Tab], site_url: str, through_a_kit: tuple[Part, Sheet]) -> None:
    part, sheet = through_a_kit
    tab = open_tab(viewport=PHONE, has_touch=True)
    page, seat = tab.page, sheet.seats[0]
    prove(page, site_url, part=part.number, seat=seat_key(seat))
    (
        expect(page.locator(".prove__choice option").first).to_contain_text(f"{len(seat.plug.wires)} wires"),
        "the wires of this vehicle come first",
    )
    page.locator("[data-guide]").click()
    guide = page.locator("dialog.guide")
    a, b = sheet.faults.lines[0]
    expect(guide.locator(".guide__probes")).to_contain_text(a)
    expect(guide.locator(".guide__probes .swatch")).to_have_count(
        sum(bool(end in seat.plug.wires and seat.plug.wires[end].colour) for end in (a, b))
    )
    expect(guide.locator(".plug__mark")).to_have_count(len({a, b} - {"case"}))
    expect(guide.locator(".wires__end")).to_have_count(len(seat.plug.wires)), "the plug from the side of its wires"
    # Enter without a figure leaves a reading for later; the space bar, as a pedal sends it, likewise.
    page.keyboard.press("Enter")
    expect(guide.locator(".guide__count")).to_contain_text("Reading 2 of")
    expect(guide.locator(".guide__move")).to_contain_text("The probes stay")
    page.keyboard.press("Space")
    expect(guide.locator(".guide__count")).to_contain_text("Reading 3 of")
    taps = 0
    while guide.locator(".guide__card").is_visible():
        want = guide.locator(".guide__want").inner_text()
        if want in ("closed", "open"):
            guide.locator(".guide__state", has_text=re.compile(want, re.IGNORECASE)).click()
        else:
            guide.locator(".guide__box").fill(want.split("Ω")[0].replace("\u202f", "").replace(" ", ""))
            page.keyboard.press("Enter")
        taps += 1
        if taps == 3:
            page.reload()
            guide.wait_for(), "a phone that was put away comes back to the reading that is left"
        assert taps < 200
    expect(guide.locator(".guide__last")).to_contain_text("should be")
    page.keyboard.press("Enter")
    expect(guide).to_have_count(0)
    link = page.locator(".send__box").input_value()
    other = open_tab(viewport=PHONE)
    other.page.goto(link)
    other.page.locator(".position").first.wait_for()
    expect(other.page.locator("[data-prove-result]")).to_have_text(page.locator("[data-prove-result]").inner_text())
    assert "read" not in parse_qs(urlsplit(other.page.url).query), "taken over once; from then on that device keeps its own"
    other.page.locator("a[href*='job/?']").last.click()
    other.page.locator(".job__fit").wait_for()
    expect(other.page.locator(".blank__box--read").first).to_be_visible()
    assert not tab.seen.complaints and not other.seen.complaints


def test_from_cause_to_remedy(open_tab: Callable[..., Tab], site_url: str, loaded: Loaded, fitter: Fitter) -> None:
    """A ladder that reads five times too much in one position, and "4.7" where 4.7 k is near."""
    part, sheet, line, at = next(
        (part, sheet, line, at)
        for part in loaded.book.parts
        if part.key in {key for note in notes_of(loaded.book.family_of(part)) for key in note.parts}
        or notes_of(loaded.book.family_of(part))
        for sheet in sheets(fitter, part)[:1]
        for line, row in enumerate(sheet.faults.good)
        for at, cell in enumerate(row)
        if cell is not None and cell.path is PathKind.OHMS and cell.ohms > 1000
    )
    tab = open_tab(viewport=PHONE)
    page = tab.page
    prove(page, site_url, part=part.number)
    expect(page.locator("[data-prove-remedy]")).to_be_hidden()
    nominal = sheet.faults.good[line][at].ohms
    page.evaluate("document.querySelectorAll('details.position').forEach((one) => { one.open = true; })")
    row = page.locator(f".reading[data-line='{line}'][data-at='{at}']")
    row.locator(".reading__box").fill(f"{nominal / 1000:g}")
    expect(row).to_have_attribute("data-state", "which")
    row.get_by_role("button", name=f"{nominal / 1000:g}k").click()
    expect(row).to_have_attribute("data-state", "right")
    row.locator(".reading__box").fill("37 ohm")
    expect(page.locator("[data-prove-result]")).to_contain_text("Not good")
    expect(page.locator("[data-prove-remedy]")).to_contain_text("What to order")
    expect(page.locator("[data-prove-remedy] a[href*='?q=']")).to_be_visible()
    road = page.locator("[data-prove-road]")
    for box in road.get_by_role("checkbox").all():
        box.check()
    expect(road).to_contain_text("All ticked")
    page.reload()
    expect(road).to_contain_text("All ticked")
    assert page.evaluate("document.documentElement.scrollWidth") <= PHONE["width"]
    assert not tab.seen.complaints
