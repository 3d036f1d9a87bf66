"""Records of the bay: kept on the device, written as an entry has them, and sent."""

from __future__ import annotations

import re
from pathlib import Path
from urllib.parse import quote

import lxml.html
import pytest
from playwright.sync_api import Page, expect
from tests.making import texts
from tests.site.conftest import Tab
from tests.site.node import evaluate, needs_node
from tests.site.test_proving_in_the_browser import enter
from tests.site.together import read

from rangebook.book.load import load_texts
from rangebook.desk.proof_sheets import sheets
from rangebook.fitting.fitter import Fitter
from rangebook.fitting.seats import Seat
from rangebook.reading.entry import read_entry
from rangebook.site.shared import urls

MODULES = {"text": "records/text.js", "keep": "records/keep.js"}
TRIED = {"part": "TB-12415", "family": "tamblin-lever", "vehicle": "Corran Delver 2.4", "on": "2026-03-02"}
METERED = [
    {"pins": ["1", "2"], "closed": ["P", "N"]},
    {"pins": ["3", "case"], "closed": []},
    {"pins": ["5", "6"], "ohms": [["P", 4300], ["2", "open"], ["1", 150]], "tolerance_percent": 5},
]
RECORDS = [
    {"id": "1", **TRIED, "outcome": "fails", "by": "bay 2", "note": "cranked in D: out again"},
    {"id": "2", "part": "0594 16", "family": "kestow-lug", "on": "2026-03-03", "measured": {"contacts": METERED, "detail": "metered"}},
    {"id": "3", **TRIED, "outcome": "works"},
]
TEXT = """# entries/switches/tamblin-lever.md
parts:
  - number: TB-12415
    fitted:
      - {on: 2026-03-02, by: bay 2, vehicle: Corran Delver 2.4, outcome: fails, note: "cranked in D: out again"}
      - {on: 2026-03-02, vehicle: Corran Delver 2.4, outcome: works}

# entries/switches/kestow-lug.md
parts:
  - number: 0594 16
    contacts:
      - {pins: [1, 2], closed: [P, N]}
      - {pins: [3, case], closed: []}
      - {pins: [5, 6], ohms: {P: 4300, 2: open, 1: 150}, tolerance_percent: 5}
    sources:
      - {kind: seen, detail: metered, on: 2026-03-03, for: [contacts]}
"""


SHARE = "navigator.canShare = () => true; navigator.share = async (what) => { window.sent = await what.files[0].text(); };"
"""A device with a share sheet that takes files; the browser of the tests has none."""


@needs_node
def test_records_stand_as_an_entry_has_them() -> None:
    """Nobody is put down who did not say so, and a lever's positions keep their order."""
    assert evaluate(MODULES, "text.wholeText(given)", RECORDS) == TEXT


def test_what_is_written_can_be_read() -> None:
    for piece in TEXT.split("# entries/")[1:]:
        front = read_entry("entries/x.md", f"---\n{piece.partition(chr(10))[2]}---\n".encode()).front
        assert front is not None
        made = {"kind": "switch", "id": "f", "title": "f", "positions": ["P", "R", "N", "D", "2", "1"], **front}
        assert not load_texts(texts(made)).book.lost


@needs_node
def test_one_record_takes_the_place_of_itself_alone() -> None:
    changed = {**RECORDS[0], "note": "seen again"}
    assert evaluate(MODULES, "keep.withRecord(given[0], given[1])", [RECORDS, changed]) == [changed, *RECORDS[1:]]
    assert evaluate(MODULES, "keep.newId(given)", [*RECORDS, {**RECORDS[0], "id": "4"}]) == "5"


def test_what_was_tried_stands_beside_the_verdict_wherever_that_is_shown(site_dir: Path) -> None:
    """The demo book's blue dot, which bolts on and plugs in and is not heard: the bay says so too."""
    words = "failed in the Halvik Dorrin 1.6, 2024-05-20, bay 1"
    answers = read(site_dir / "data" / "answers" / "halvik-line.json")
    (seat,) = [one for one in answers["seats"].values() if one["came_with"] == "HL-4410" and "renewed" not in one]
    (one,) = [one for one in seat["candidates"] if one["number"] == "HL-4431"]
    assert one["verdict"] == "no" and [text.startswith(words) for text in one["tried"]] == [True]
    assert all("tried" not in one for one in seat["candidates"] if one["number"] != "HL-4431")
    for page in ("switches/halvik-line", "parts/HL4431"):
        shown = " ".join(lxml.html.parse(site_dir / page / "index.html").getroot().text_content().split())
        assert words in shown, page
    listed = " ".join(lxml.html.parse(site_dir / "worklists" / "index.html").getroot().get_element_by_id("Tried").text_content().split())
    assert "0594 16" in listed and "HL-4431" not in listed, "it agrees with the answer"


@pytest.fixture
def seat(fitter: Fitter) -> Seat:
    """One whose vehicles have one name, built with a part that is fitted there."""
    return next(one for one in fitter.seats if len({each.vehicle for each in one.applications}) == 1)


def _open(page: Page, site_url: str, seat: Seat) -> None:
    page.goto(f"{site_url}records/?part={quote(seat.original.number)}&seat={quote(urls.seat_key(seat))}")
    expect(page.get_by_label("Vehicle", exact=True)).to_have_value(seat.applications[0].vehicle)


def test_a_record_is_kept_on_the_device_until_it_is_sent(tab: Tab, site_url: str, seat: Seat) -> None:
    page = tab.page
    page.add_init_script(SHARE)
    _open(page, site_url, seat)
    keep = page.get_by_role("button", name="Keep it on this device")
    status = page.locator("[data-records-status]")
    keep.click()
    expect(status).to_have_text("Say whether it worked.")
    page.get_by_label("What came of it").select_option("fails")
    keep.click()
    expect(status).to_have_text("Say why it did not work.")
    page.get_by_label("What was seen").fill("lamps dark in R")
    page.get_by_label("Day", exact=True).fill("2026-03-02")
    assert page.get_by_label("Who had the tools").input_value() == "", "nobody is put down who did not say so"
    keep.click()
    expect(status).to_contain_text("Kept on this device")
    # It survives the page, and the text is an entry's.
    _open(page, site_url, seat)
    vehicle = seat.applications[0].vehicle
    line = f"- {{on: 2026-03-02, vehicle: {vehicle}, outcome: fails, note: lamps dark in R}}"
    shown = page.locator("[data-records-text]")
    expect(shown).to_contain_text(f"# entries/switches/{seat.original.family}.md")
    expect(shown).to_contain_text(line)
    with page.expect_download() as got:
        page.locator("[data-records-file]").click()
    assert line in Path(got.value.path()).read_text("utf-8")
    # What is changed stays one record.
    page.get_by_role("button", name="Change").click()
    page.get_by_label("What was seen").fill("lamps dark in R, set again: dark")
    keep.click()
    expect(page.locator("[data-record]")).to_have_count(1)
    expect(shown).to_contain_text("set again: dark")
    # The share sheet gets it as a file, and what was sent is told from what was not.
    page.locator("[data-records-send]").click()
    expect(page.locator("[data-records-sent] [data-record]")).to_have_count(1)
    expect(page.locator("[data-records-list]")).to_contain_text("Nothing waits to be sent.")
    assert "set again: dark" in page.evaluate("window.sent")
    page.locator("[data-records-sent] summary").click()
    page.get_by_role("button", name="Take what was sent off this device").click()
    expect(page.locator("[data-record]")).to_have_count(0)
    assert not tab.seen.complaints


def test_one_tap_makes_contacts_and_a_source_of_what_was_measured(tab: Tab, site_url: str, fitter: Fitter) -> None:
    """As it is stated nothing takes another figure; what reads otherwise is written down as it was read, and said to be so."""
    plain = (one for one in fitter.book.parts if one.contacts and len(one.contacts) < 5 and not one.signals)
    part = next(
        one
        for one in plain
        if any(each.ohms for each in one.contacts or ()) and all(each.closed or each.ohms for each in one.contacts or ())
    )
    sheet, contacts = sheets(fitter, part)[0], part.contacts or ()
    page, positions = tab.page, sheet.proof.positions
    page.goto(f"{site_url}prove/?part={quote(part.number)}")
    tap = page.get_by_role("button", name="Write down what was measured")
    tap.click()
    expect(page.locator("[data-write-down] + span")).to_have_text("Nothing is read yet.")
    enter(page, part, sheet.faults.good, len(positions))
    tap.click()
    page.wait_for_url(f"{site_url}records/*")
    shown = page.locator("[data-records-text]")
    expect(shown).to_contain_text(f"# entries/switches/{part.family}.md")
    text = shown.inner_text()
    assert re.search(r"- \{kind: seen, detail: .*metered, \d+ pairs in .*, on: \d{4}-\d\d-\d\d, for: \[contacts\]\}", text)
    (written,) = (read_entry("entries/x.md", f"---\n{text}---\n".encode()).front or {})["parts"]
    made = {"kind": "switch", "id": "f", "title": "f", "positions": list(positions), "parts": [written]}
    (again,) = load_texts(texts(made)).book.families["f"].parts
    same = [(one.a, one.b, one.closed, one.ohms, one.tolerance_percent, one.rated_a) for one in again.contacts or ()]
    assert same == [(one.a, one.b, one.closed, one.ohms, one.tolerance_percent, one.rated_a) for one in contacts]
    expect(page.locator("[data-records-differs]")).to_have_count(0)
    # The same switch, worn: one reading is not what the entry says.
    line, way = next((line, way) for line, way in sheet.tells if len(way) == 1 and contacts[way[0]].closed)
    at = next(at for at, one in enumerate(positions) if one in (contacts[way[0]].closed or ()))
    page.goto(f"{site_url}prove/?part={quote(part.number)}")
    page.locator(".position").first.wait_for()
    page.evaluate("document.querySelectorAll('details.position').forEach((one) => { one.open = true; })")
    page.locator(f".reading[data-line='{line}'][data-at='{at}'] .reading__box").fill("OL")
    tap.click()
    expect(page.locator("[data-records-differs]")).to_contain_text(f"in {positions[at]} the entry says otherwise")
    expect(page.locator("[data-record]")).to_have_count(1)
    assert not tab.seen.complaints


def test_a_contact_of_which_nothing_is_stated_is_asked_for_and_written_down(tab: Tab, site_url: str, fitter: Fitter) -> None:
    part, sheet = next((one, sheets(fitter, one)[0]) for one in fitter.book.parts if sheets(fitter, one)[0].proof.asked)
    asked, page = sheet.proof.asked[0], tab.page
    line = sheet.proof.lines.index(asked)
    at = next(at for at, cell in enumerate(sheet.faults.good[line]) if cell is None)
    page.goto(f"{site_url}prove/?part={quote(part.number)}")
    page.locator(".position").first.wait_for()
    fold = page.locator("details.position").nth(line)
    fold.evaluate("one => { one.open = true; }")
    expect(fold).to_contain_text("What the book does not state here: take the reading")
    fold.locator(f".reading[data-at='{at}']").get_by_role("button", name=re.compile("^Closed")).click()
    expect(fold.locator(f".reading[data-at='{at}']")).to_have_attribute("data-state", "noted")
    page.get_by_role("button", name="Write down what was measured").click()
    page.wait_for_url(f"{site_url}records/*")
    expect(page.locator("[data-records-text]")).to_contain_text(sheet.proof.positions[at])
    assert not tab.seen.complaints
