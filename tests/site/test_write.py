"""The page that writes an entry: filled in as somebody would, in Chromium under the strict policy; what it saves is given to the linter.

The checker in the page is a library (its origin stands beside it); here it is held against jsonschema-rs, with which the linter checks.
"""

from __future__ import annotations

import difflib
import io
import json
import re
import shutil
from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Any
from urllib.parse import parse_qsl, urlsplit

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from PIL import ExifTags, Image
from playwright.sync_api import Page, Route, expect
from tests.site.conftest import DESK, PHONE, ROOT, Tab
from tests.site.test_accessibility import violations

from rangebook.book.load import Loaded
from rangebook.cli import main
from rangebook.desk.writing import yaml_text
from rangebook.reading.entry import read_entry
from rangebook.schema.check import Checker
from rangebook.schema.store import load_schemas
from rangebook.site.facts.repository import Repository, repository
from rangebook.site.generator.build import build_site
from rangebook.site.generator.gate import checked


@pytest.fixture
def page(open_tab: Callable[..., Tab], site_url: str) -> Page:
    made = open_tab(viewport=DESK, accept_downloads=True).page
    made.goto(f"{site_url}write/")
    made.locator("[data-write-cols]").wait_for()
    return made


def choose(page: Page, words: str) -> None:
    page.get_by_label(words, exact=True).check()


def source(page: Page) -> None:
    page.get_by_label("How do you know?").select_option("seen")
    page.get_by_label("Which sheet, or how it was measured").fill("new in box, metered: all positions")
    page.get_by_label("Who looked").fill("bench")
    page.get_by_label("The day").fill("2026-03-04")


def saved(page: Page, folder: Path) -> Path:
    expect(page.locator("[data-write-against]")).to_contain_text("Nothing is missing")
    with page.expect_download() as waiting:
        page.get_by_role("link", name="Save as a file").click()
    path = folder / waiting.value.suggested_filename
    waiting.value.save_as(path)
    return path


def lint(root: Path, capsys: pytest.CaptureFixture) -> tuple[int, list[dict[str, Any]]]:
    capsys.readouterr()
    status = main(["lint", "--root", str(root), "--format", "json"])
    return status, json.loads(capsys.readouterr().out)


def new_findings(root: Path, capsys: pytest.CaptureFixture, put: Callable[[], None]) -> list[tuple[str, str]]:
    """Rule and message of what the linter has against the book only since ``put``; nothing of it may be an error."""
    before = {(one["rule"], one["message"]) for one in lint(root, capsys)[1]}
    put()
    status, found = lint(root, capsys)
    assert status == 0, found
    return [(one["rule"], one["message"]) for one in found if (one["rule"], one["message"]) not in before]


def add_to(folder: Path, path: Path) -> Callable[[], None]:
    return lambda: shutil.copy(path, folder / path.name)


def test_a_connector(page: Page, demo_book: Path, tmp_path: Path, capsys: pytest.CaptureFixture) -> None:
    choose(page, "A connector")
    page.get_by_label("What people call it").fill("Five-way oval")
    choose(page, "oval")
    page.get_by_label("Cavities in the longest row", exact=True).fill("3")
    page.get_by_label("row 2, place 2: cavity 5").click()
    expect(page.get_by_label("row 2, place 2: no cavity")).to_be_focused()
    page.get_by_label("Sealed against water").select_option("yes")
    page.get_by_label("Width of a terminal, mm").fill("2.8")
    source(page)
    path = saved(page, tmp_path)
    assert path.name == "five-way-oval.md"
    assert 'rows:\n  - [1, 2, 3]\n  - [4, "-", 5]\n' in path.read_text("utf-8")
    assert {rule for rule, _ in new_findings(demo_book, capsys, add_to(demo_book / "entries/connectors", path))} <= {"unused-entry"}


def test_a_kit(page: Page, demo_book: Path, tmp_path: Path, capsys: pytest.CaptureFixture) -> None:
    choose(page, "A plug renewal kit")
    page.get_by_label("Number of the kit").fill("TW-9917")
    page.get_by_label("What people call it").fill("Plug renewal, old oval to new")
    page.get_by_label("Plug that is cut off").select_option("oval-9")
    page.get_by_label("Plug that is supplied").select_option("oval-13")
    page.get_by_label("Rear seals in the bag").fill("5, 9")
    page.get_by_label("Blanking plugs in the bag").fill("2")
    assert "moves" not in (page.locator("[data-write-text]").text_content() or ""), "nobody has said yet where a wire goes"
    page.get_by_role("button", name="Each wire to the same label").click()
    source(page)
    path = saved(page, tmp_path)
    assert "moves: {1: 1, 2: 2, 3: 3, 4: 4, 5: 5, 6: 6, 7: 7, 8: 8, 9: 9}\nseals: [5, 9]\nblanks: 2\n" in path.read_text("utf-8")
    assert {rule for rule, _ in new_findings(demo_book, capsys, add_to(demo_book / "entries/kits", path))} <= {"unused-entry"}


def pins(page: Page, circuits: Mapping[str, str], what: str = "Pin") -> None:
    face = page.get_by_role("group", name=re.compile("pin" if what == "Pin" else "wire"))
    for cavity, circuit in circuits.items():
        cell = face.locator(f"[data-cavity='{cavity}']")
        cell.click()
        expect(cell).to_have_attribute("aria-pressed", "true")
        page.get_by_label(f"{what} {cavity} is for", exact=True).select_option(circuit)
    expect(page.locator("[data-write-against]")).to_contain_text(f"{what}s: say of")
    page.get_by_role("button", name=f"All the others carry no {what.lower()}").click()


def contact(page: Page, a: str, b: str, closed: str) -> None:
    page.get_by_role("button", name="Add a contact").click()
    item = page.locator(".write__item").last
    item.get_by_label("Between").select_option(a)
    item.get_by_label("This contact").select_option("closed")
    item.get_by_label("and", exact=True).select_option(b)
    for position in closed.split():
        item.get_by_label(position, exact=True).check()


CIRCUITS = {"1": "start_feed", "8": "start_out", "2": "backup_feed", "9": "backup_out"}


def test_a_part_of_a_family_in_the_book(page: Page, demo_book: Path, tmp_path: Path, capsys: pytest.CaptureFixture) -> None:
    page.get_by_label("Family", exact=True).select_option("tamblin-lever")
    page.get_by_label("Part number, as it is printed").fill("TB-12447")
    page.get_by_label("Status").select_option("current")
    page.get_by_label("Its housing").select_option("wedge-14")
    page.get_by_label("How it bolts on").select_option("short-boss")
    pins(page, CIRCUITS)
    contact(page, "1", "8", "P N")
    contact(page, "2", "9", "R")
    source(page)
    path = saved(page, tmp_path)
    expect(page.locator("[data-write-where]")).to_contain_text("entries/switches/tamblin-lever.md")
    home = demo_book / "entries/switches/tamblin-lever.md"

    def paste() -> None:
        home.write_text(home.read_text("utf-8").replace("\nparts:\n", "\nparts:\n" + path.read_text("utf-8"), 1), "utf-8")

    assert new_findings(demo_book, capsys, paste) == []
    assert main(["fit", "TB-12447", "--root", str(demo_book), "--json"]) == 0


NEW_KEYS = {
    "tried_weight_g": {"type": "number", "x-label": "Tried weight, g", "description": "What it weighs."},
    "tried_made_in": {"type": "array", "items": {"type": "string", "minLength": 1}, "x-label": "Tried made in"},
    "tried_rebuilt": {"type": "boolean", "x-label": "Tried rebuilt", "x-seldom": True},
    "tried_finish": {"enum": ["plain", "painted"], "x-label": "Tried finish", "x-seldom": True},
}


def test_a_key_that_the_schema_alone_knows_is_asked_for(page: Page, site_url: str) -> None:
    """Put in before a part's pins: the form has a piece for each, what is seldom stated folded away, and writes them where they belong."""

    def longer(route: Route) -> None:
        data = route.fetch().json()
        part = data["schemas"]["switch"]["properties"]["parts"]["items"]
        known = part["properties"]
        part["properties"] = {}
        for key, node in known.items():
            part["properties"] |= {**NEW_KEYS, key: node} if key == "pins" else {key: node}
        route.fulfill(json=data)

    page.route("**/data/write.json*", longer)
    page.goto(f"{site_url}write/?family=tamblin-lever")
    page.get_by_label("Part number, as it is printed").fill("TB-12447")
    page.get_by_label("Tried weight, g").fill("210.5")
    page.get_by_label("Tried made in").fill("Corran, Ostrand")
    expect(page.get_by_label("Tried rebuilt")).to_be_hidden()
    page.get_by_text("More that can be said").click()
    page.get_by_label("Tried rebuilt").select_option("no")
    page.get_by_label("Tried finish").select_option("painted")
    page.get_by_label("Marked").fill("T4")
    page.get_by_label("Its housing").select_option("wedge-14")
    text = page.locator("[data-write-text]")
    keys = re.findall(r"^ +-? ?([a-z_]+): ?(.*)$", text.text_content() or "", re.MULTILINE)
    assert keys[-2:] == [("tried_rebuilt", "no"), ("tried_finish", "painted")]
    assert keys[:2] == [("number", "TB-12447"), ("connector", "wedge-14")]
    assert ("stamped", "[T4]") in keys and ("tried_weight_g", "210.5") in keys and ("tried_made_in", "[Corran, Ostrand]") in keys
    page.get_by_label("Tried weight, g").fill("heavy")
    expect(page.locator("[data-write-against]")).to_contain_text("Tried weight, g: not as it has to be")


def test_a_part_with_several_connectors_and_what_it_needs(
    page: Page, demo_book: Path, tmp_path: Path, capsys: pytest.CaptureFixture
) -> None:
    """What the form has no piece of its own for it asks by the schema: leads, needs, companions, a diode, a condition."""
    page.get_by_label("Family", exact=True).select_option("harnby-pair")
    page.get_by_label("Part number, as it is printed").fill("PW 671.090")
    page.get_by_label("Status").select_option("current")
    page.get_by_label("Its housing").select_option("square-9")
    page.get_by_label("How it bolts on").select_option("saddle")
    pins(page, {"B": "start_feed", "C": "start_out"})
    page.get_by_role("button", name="One more connector").click()
    lamp = page.get_by_role("group", name="Connector 2")
    lamp.get_by_label("What this connector is called").fill("lamp")
    lamp.get_by_label("Its housing").select_option("round-5")
    for cavity, circuit in {"2": "backup_feed", "4": "backup_out"}.items():
        lamp.locator(f"[data-cavity='{cavity}']").click()
        lamp.get_by_label(f"Pin {cavity} is for").select_option(circuit)
    lamp.get_by_role("button", name="All the others carry no pin").click()
    lamp.get_by_text("Its leads").click()
    lamp.get_by_text("Its tail").click()
    lamp.get_by_label("Length of the leads").fill("310")
    contact(page, "main.B", "main.C", "P N")
    contact(page, "lamp.2", "lamp.4", "R")
    last = page.locator(".write__item").last
    last.get_by_text("More of this contact").click()
    last.get_by_label("Through a diode, one way").select_option("no")
    page.get_by_text("More that can be said", exact=True).first.click()
    page.get_by_label("Goes with").fill("PW 671.060")
    page.get_by_label("Condition").select_option("rebuilt")
    page.get_by_label("Marks of a counterfeit").fill("no dot, thin box")
    page.get_by_role("button", name="Needed with it: one more").click()
    need = page.get_by_role("group", name="Needed with it: 1")
    need.get_by_label("Piece").fill("bolt")
    need.get_by_label("How many").fill("2")
    source(page)
    text = page.locator("[data-write-text]").text_content() or ""
    assert "main: square-9" in text and "tail: {length_mm: 310}" in text
    assert "goes_with: [PW 671.060]" in text and "counterfeit_marks: [no dot, thin box]" in text
    assert "{pins: [lamp.2, lamp.4], closed: [R], one_way: no}" in text
    assert "{item: bolt, count: 2}" in text
    path = saved(page, tmp_path)
    home = demo_book / "entries/switches/harnby-pair.md"
    before = home.read_text("utf-8")

    def put() -> None:
        home.write_text(before.replace("\nparts:\n", f"\nparts:\n{path.read_text('utf-8')}", 1), "utf-8")

    assert new_findings(demo_book, capsys, put) == []


def test_jumpers_meanings_overlaps_and_where_it_cranks(page: Page) -> None:
    text = page.locator("[data-write-text]")
    choose(page, "A plug renewal kit")
    page.get_by_label("Plug that is supplied").select_option("oval-13")
    page.get_by_text("More that can be said", exact=True).first.click()
    page.get_by_label("Jumpers inside the plug").fill("10+11, 12 13")
    expect(text).to_contain_text("loops:\n  - [10, 11]\n  - [12, 13]\n")
    choose(page, "A new family of switches")
    page.get_by_label("Lever positions, in their order").fill("P R N D L")
    page.get_by_text("More that can be said", exact=True).first.click()
    page.get_by_label("What positions mean", exact=True).fill("L=1")
    expect(text).to_contain_text("means: {L: 1}")
    page.get_by_label("Its housing").select_option("oval-13")
    pins(page, CIRCUITS)
    contact(page, "8", "9", "D")
    last = page.locator(".write__item").last
    last.get_by_text("More of this contact").click()
    last.get_by_label("Overlaps into").fill("L")
    expect(text).to_contain_text("closed: [D], overlaps: [L]")
    page.get_by_label("The vehicle's plug").select_option("oval-13")
    pins(page, {"1": "start_feed", "8": "start_out"}, "Wire")
    page.get_by_text("More of the plug").click()
    page.get_by_label("Jumpers inside the plug").fill("none")
    expect(text).to_contain_text("loops: []")
    page.get_by_label("Jumpers inside the plug").fill("3+4")
    cranks = page.locator("details", has=page.get_by_text("Where the engine cranks", exact=True)).last
    cranks.get_by_text("Where the engine cranks", exact=True).click()
    cranks.get_by_label("Cranking is decided by").select_option("module")
    cranks.get_by_label("Cranks in").fill("P, N")
    cranks.get_by_text("More that can be said", exact=True).click()
    cranks.get_by_role("button", name="one more").click()
    cranks.locator(".write__item").get_by_role("combobox").first.select_option("wiring-diagram")
    expect(text).to_contain_text(re.compile(r"loops:\n +- \[3, 4\]\n"))
    expect(text).to_contain_text("by: module")
    expect(text).to_contain_text("in: [P, N]")
    expect(text).to_contain_text("kind: wiring-diagram")


def unfold(page: Page) -> None:
    """Everything that is folded, and what is made only when it is unfolded."""
    for _ in range(3):
        page.evaluate("for (const one of document.querySelectorAll('main details')) one.open = true")
        page.wait_for_timeout(50)


def test_how_it_is_moved_bolted_and_wired(page: Page) -> None:
    """Keys of the mount, of one bolt, of the plug and of one wire that the form has no piece of its own for come out in their places."""
    text = page.locator("[data-write-text]")
    choose(page, "A new family of switches")
    page.get_by_label("Lever positions, in their order").fill("P R N D")
    page.get_by_role("button", name="Add a bolt").click()
    bolt = page.locator(".write__item").last
    bolt.get_by_label("From the middle of the shaft, mm").fill("41")
    bolt.get_by_label("Angle, degrees").fill("0")
    page.get_by_label("Its housing").select_option("oval-13")
    pins(page, CIRCUITS)
    page.get_by_label("The vehicle's plug").select_option("oval-13")
    pins(page, {"1": "start_feed", "8": "start_out"}, "Wire")
    unfold(page)
    bolt.get_by_label("Torque of this bolt, N·m").fill("6.5")
    page.get_by_label("Moved by").select_option("fork")
    page.get_by_label("Its terminals are plated with").select_option("silver")
    wire = page.locator("details", has=page.get_by_text("More of wire 8", exact=True)).last
    wire.get_by_label("The switch closes its").select_option("ground")
    wire.get_by_label("Over the insulation, mm").fill("1.9")
    wire.get_by_label("Carries, A").fill("0.2")
    wire.get_by_label("Gives, V").fill("11, 15")
    expect(text).to_contain_text("torque_nm: 6.5")
    expect(text).to_contain_text("motion: fork")
    expect(text).to_contain_text("plating: silver")
    for words in ("side: ground", "outer_mm: 1.9", "carries_a: 0.2", "gives_volts: [11, 15]"):
        expect(text).to_contain_text(words)


def test_a_new_family(page: Page, demo_book: Path, tmp_path: Path, capsys: pytest.CaptureFixture) -> None:
    choose(page, "A new family of switches")
    page.get_by_label("What people call it").fill("Tarn three-speed switch")
    page.get_by_label("Gearboxes").fill("Tarn 3")
    page.get_by_label("Lever positions, in their order").fill("P R N D 2 1")
    page.get_by_label("Hole for the shaft", exact=True).select_option("double-flat")
    page.get_by_label("Across the flats or the hole, mm").fill("9.5")
    page.get_by_label("Hub looked at in position").fill("n")
    page.get_by_label("Mark of the hub, degrees").fill("-35")
    page.get_by_label("Turn from position to position, degrees").fill("-18, -16 -16, -18 -18.5")
    for angle in ("0", "150"):
        page.get_by_role("button", name="Add a bolt").click()
        item = page.locator(".write__item").last
        values = {"From the middle of the shaft, mm": "41", "Angle, degrees": angle, "Bolt, mm": "6", "Hole or slot, mm wide": "6.6"}
        for label, value in {**values, "Slot, degrees": "12", "Spacer below it, mm": "0"}.items():
            item.get_by_label(label).fill(value)
    page.get_by_label("Part number, as it is printed").fill("TN 300.1")
    page.get_by_label("Status").select_option("current")
    page.get_by_label("Its housing").select_option("oval-13")
    pins(page, CIRCUITS)
    contact(page, "1", "8", "P N")
    contact(page, "2", "9", "R")
    source(page)
    page.get_by_label("The vehicle's plug").select_option("oval-13")
    pins(page, CIRCUITS, "Wire")
    page.get_by_label("Vehicle", exact=True).fill("Tarn Fell 1.8")
    page.get_by_label("Model years").fill("1999-2004")
    path = saved(page, tmp_path)
    assert "hub: {position: N, at_deg: -35, steps_deg: [-18, -16, -16, -18, -18.5]}" in path.read_text("utf-8")
    new = new_findings(demo_book, capsys, add_to(demo_book / "entries/switches", path))
    assert {rule for rule, _ in new} <= {"missing-source"}, new
    capsys.readouterr()
    assert main(["fit", "TN3001", "--root", str(demo_book), "--json"]) == 0
    (seat,) = json.loads(capsys.readouterr().out)["seats"]
    assert seat["candidates"][0] == {**seat["candidates"][0], "number": "TN 300.1", "verdict": "straight"}


def test_what_is_missing_and_what_is_there_already_is_said(page: Page, loaded: Loaded) -> None:
    taken = next(one.number for one in loaded.book.kits.values() if "-" in one.number)
    against = page.locator("[data-write-against]")
    choose(page, "A connector")
    expect(against).to_contain_text("What people call it: not said yet (a few words)")
    expect(against).to_contain_text("Its outline: not chosen yet")
    expect(against).to_contain_text("Left out: whether it is sealed")
    page.get_by_label("Name of the file").fill("Oval 14")
    expect(against).to_contain_text("Name of the file: not as it has to be (small letters")
    page.get_by_label("Name of the file").fill("wedge-14")
    expect(against).to_contain_text("there is wedge-14.md already")
    choose(page, "A plug renewal kit")
    page.get_by_label("Number of the kit").fill(taken.lower().replace("-", " "))
    expect(against).to_contain_text("Where each wire goes: not chosen yet")
    expect(against).to_contain_text(f"{taken} is in the book already")
    choose(page, "A part of a family in the book")
    expect(against).to_contain_text("Family: choose the one that it belongs to")
    page.get_by_label("Family", exact=True).select_option("tamblin-lever")
    page.get_by_label("Part number, as it is printed").fill("tb 10263")
    expect(against).to_contain_text("is in the book already")
    expect(against).to_contain_text("Left out: whether it is sold today; its housing; how it bolts on; its pins; what closes inside")
    expect(against).to_contain_text("Measure first: with a calliper the hole for the shaft")


def test_what_nobody_has_metered_is_never_written_as_open(page: Page) -> None:
    """A contact that is begun and left says nothing of where it closes; that it closes nowhere has to be said."""
    text = page.locator("[data-write-text]")
    page.get_by_label("Family", exact=True).select_option("tamblin-lever")
    page.get_by_label("Its housing").select_option("wedge-14")
    pins(page, {"1": "start_feed", "2": "start_out"})
    contact(page, "1", "2", "")
    expect(text).to_contain_text("{pins: [1, 2]}")
    expect(page.locator("[data-write-against]")).to_contain_text("where some of its contacts close")
    page.get_by_label("in none", exact=True).check()
    expect(text).to_contain_text("{pins: [1, 2], closed: []}")
    page.get_by_label("P", exact=True).check()
    expect(text).to_contain_text("{pins: [1, 2], closed: [P]}")
    page.locator(".write__item").get_by_label("and", exact=True).select_option("1")
    expect(page.locator("[data-write-against]")).to_contain_text("Contact 1: the two ends are the same")
    page.get_by_role("group", name=re.compile("pin")).locator("[data-cavity='2']").click()
    expect(page.locator(".write__item").get_by_label("and", exact=True)).not_to_contain_text("pin 2")


def test_a_page_that_is_left_by_accident_loses_nothing(page: Page, site_url: str) -> None:
    text = page.locator("[data-write-text]")
    page.get_by_label("Family", exact=True).select_option("tamblin-lever")
    page.get_by_label("Part number, as it is printed").fill("TB-12447")
    page.get_by_label("Its housing").select_option("wedge-14")
    pins(page, CIRCUITS)
    contact(page, "1", "8", "P N")
    page.get_by_label("Who looked").fill("bench, half typ")
    part = text.text_content()
    choose(page, "A connector")
    page.get_by_label("What people call it").fill("Five-way oval")
    page.get_by_label("row 2, place 2: cavity 6").click()
    plug = text.text_content()
    page.goto(site_url)
    page.goto(f"{site_url}write/")
    expect(text).to_have_text(plug or "-")
    expect(page.get_by_label("A connector", exact=True)).to_be_checked()
    choose(page, "A part of a family in the book")
    expect(text).to_have_text(part or "-")
    assert "TB-12447" in (part or "") and "closed: [P, N]" in (part or "") and "half typ" in (part or "")
    page.get_by_role("button", name="Empty the form").click()
    expect(text).not_to_contain_text("TB-12447")
    page.get_by_role("button", name="Take it back").click()
    expect(text).to_have_text(part or "-")
    page.get_by_role("button", name="Empty the form").click()
    page.reload()
    expect(page.get_by_label("Family", exact=True)).to_have_value("")
    expect(text).not_to_contain_text("TB-12447")


def test_a_link_can_choose_the_kind_and_the_family(page: Page, site_url: str) -> None:
    page.goto(f"{site_url}write/?kind=kit")
    expect(page.get_by_label("A plug renewal kit", exact=True)).to_be_checked()
    page.goto(f"{site_url}write/?family=tamblin-lever")
    expect(page.get_by_label("Family", exact=True)).to_have_value("tamblin-lever")
    page.goto(f"{site_url}write/?kind=nonsense&family=none")
    expect(page.get_by_label("A part of a family in the book", exact=True)).to_be_checked()
    expect(page.get_by_label("Family", exact=True)).to_have_value("")


@pytest.mark.parametrize(
    ("labelled", "rows"),
    [
        ("1 2 3, row by row", [["1", "2", "3"], ["4", "-", "5"]]),
        ("3 2 1, each row from the right", [["3", "2", "1"], ["5", "-", "4"]]),
        ("1 2 3, down each column", [["1", "3", "4"], ["2", "-", "5"]]),
        ("A B C, row by row", [["A", "B", "C"], ["D", "-", "E"]]),
        ("A1 A2, B1 B2: a letter for each row", [["A1", "A2", "A3"], ["B1", "-", "B2"]]),
    ],
)
def test_cavities_are_labelled_as_the_housing_has_them(page: Page, labelled: str, rows: list[list[str]]) -> None:
    """The labels stand in the tapped drawing and in the text alike; the expected rows are written by hand."""
    choose(page, "A connector")
    page.get_by_label("Cavities in the longest row", exact=True).fill("3")
    page.get_by_label("row 2, place 2: cavity 5").press("Enter")
    page.get_by_label("They are labelled").select_option(labelled)
    assert [
        ["-" if one == "–" else one for one in line.locator("button").all_inner_texts()] for line in page.locator(".write__line").all()
    ] == rows
    front = read_entry("entries/connectors/a.md", (page.locator("[data-write-text]").text_content() or "").encode()).front
    assert front["rows"] == rows


def test_by_keyboard_alone(page: Page) -> None:
    """Arrow keys go about the housing; space takes a cavity out; tab reaches what follows."""
    choose(page, "A connector")
    page.locator("[data-key='0 0']").focus()
    for key in ("ArrowRight", "ArrowDown", "Space"):
        page.keyboard.press(key)
    expect(page.locator("[data-key='1 1']")).to_be_focused()
    expect(page.locator("[data-key='1 1']")).to_have_attribute("aria-pressed", "false")
    page.locator("[data-key='1 3']").focus()
    page.keyboard.press("Tab")
    expect(page.get_by_label("Sealed against water")).to_be_focused()


def test_text_is_never_markup(page: Page) -> None:
    choose(page, "A connector")
    page.get_by_label("What people call it").fill("<img src=x onerror=alert(1)> #1: 'a' \"b\"")
    text = page.locator("[data-write-text]").text_content() or ""
    assert "<img src=x onerror=alert(1)>" in text and page.locator("[data-write-text] img").count() == 0
    assert read_entry("entries/connectors/a.md", text.encode()).front["title"] == "<img src=x onerror=alert(1)> #1: 'a' \"b\""


KINDS = ["A part of a family in the book", "A connector", "A plug renewal kit", "A new family of switches"]


def opened(page: Page, kind: str) -> None:
    """The form of a kind with everything unfolded that choices unfold."""
    choose(page, kind)
    if kind.startswith("A part"):
        page.get_by_label("Family", exact=True).select_option("tamblin-lever")
    if "family" in kind:
        page.get_by_label("Its housing").select_option("wedge-14")
        pins(page, CIRCUITS)
        contact(page, "1", "2", "")
        page.get_by_role("button", name="Add a contact").click()
        page.locator(".write__item").last.get_by_label("This contact").select_option("ohms")
    if kind.startswith("A new"):
        page.get_by_role("button", name="Add a bolt").click()
        page.get_by_label("The vehicle's plug").select_option("truck-16")
        page.get_by_role("group", name=re.compile("wire")).locator("[data-cavity]").first.click()
    if "kit" in kind:
        page.get_by_label("Plug that is cut off").select_option("oval-9")
        page.get_by_label("Plug that is supplied").select_option("oval-13")
    if kind == "A connector":
        choose(page, "d-shaped")
        page.get_by_label("Cavities in the longest row", exact=True).fill("6")


CONTROLS = ".write button, .write input:not([type=radio], [type=checkbox]), .write select, .write a.button, .write label:has(> input)"


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("kind", KINDS)
def test_on_a_phone(open_tab: Callable[..., Tab], site_url: str, kind: str, scheme: str) -> None:
    """Nothing is wider than the phone, all that is tapped is at least 44 px (WCAG 2.2, 2.5.5), and axe-core finds nothing."""
    tab = open_tab(viewport=PHONE, color_scheme=scheme, reduced_motion="reduce")
    page = tab.page
    page.goto(f"{site_url}write/")
    page.locator("[data-write-cols]").wait_for()
    opened(page, kind)
    assert page.evaluate("document.documentElement.scrollWidth") <= PHONE["width"]
    measure = f"""() => [...document.querySelectorAll('{CONTROLS}')].filter((one) => one.offsetParent)
        .map((one) => [one.outerHTML.slice(0, 90), one.getBoundingClientRect().width, one.getBoundingClientRect().height])"""
    sizes = page.evaluate(measure)
    assert len(sizes) > 12 and [one for one in sizes if min(one[1:]) < 44] == []
    assert violations(page) == []
    assert not tab.seen.complaints


def test_the_repository_from_the_settings() -> None:
    """As MkDocs hands them over; its own guess of `edit_uri` leads into another folder and is not used. Addresses: invented."""
    home = "https://git.example.org/shop/book"
    made = repository(home, "edit/main/entries/")
    assert made == Repository(home, f"{home}/edit/main/entries/", f"{home}/new/main/entries/")
    assert repository(f"{home}/", "-/edit/main/entries/").add == f"{home}/-/new/main/entries/"
    assert repository(home, "_edit/main/entries/").add == f"{home}/_new/main/entries/"
    assert repository(home, "blob/main/entries/") == Repository(home, f"{home}/blob/main/entries/")
    assert repository(home, "edit/master/docs/") == repository(home, None) == Repository(home)
    assert repository(None, "edit/main/entries/") == repository("javascript:alert(1)", "edit/main/entries/") == Repository()


def test_the_settings_reach_the_page(small_book: Path, tmp_path: Path) -> None:
    settings = (
        (ROOT / "mkdocs.yml")
        .read_text("utf-8")
        .replace(
            "\nsite_name: Rangebook\n", "\nsite_name: Shop\nrepo_url: https://git.example.org/shop/book\nedit_uri: edit/main/entries/\n"
        )
    )
    (small_book / "mkdocs.yml").write_text(settings.replace("  custom_dir: site_overrides\n", ""), "utf-8")
    build_site(checked(small_book), tmp_path / "site")
    page = (tmp_path / "site/write/index.html").read_text("utf-8")
    assert 'data-add="https://git.example.org/shop/book/new/main/entries/"' in page
    assert 'data-edit="https://git.example.org/shop/book/edit/main/entries/"' in page


def test_the_way_into_the_repositorys_editor(open_tab: Callable[..., Tab], site_url: str) -> None:
    page = open_tab(viewport=DESK).page

    def with_repository(route: Route) -> None:
        body = (
            route.fetch()
            .text()
            .replace(" data-write ", ' data-write data-add="https://git.example.org/new/" data-edit="https://git.example.org/edit/" ')
        )
        route.fulfill(body=body, content_type="text/html; charset=utf-8")

    page.route("**/write/", with_repository)
    page.goto(f"{site_url}write/")
    page.locator("[data-write-cols]").wait_for()
    link = page.locator("[data-write-editor]")
    expect(link).to_be_hidden()
    page.get_by_label("Family", exact=True).select_option("tamblin-lever")
    expect(link).to_have_attribute("href", "https://git.example.org/edit/switches/tamblin-lever.md")
    choose(page, "A connector")
    page.get_by_label("What people call it").fill("Five-way & oval")
    expect(link).to_have_text("Open a new file in the repository's editor")
    parts = urlsplit(link.get_attribute("href") or "")
    asked = dict(parse_qsl(parts.query))
    assert parts.path == "/new/connectors" and asked["filename"] == "five-way-oval.md"
    assert asked["value"] == page.locator("[data-write-text]").text_content()


VALUES = st.recursive(
    st.text("abNy01.:,#'\"{}[]- é$%*&!|>@`", min_size=1, max_size=12) | st.booleans() | st.integers(0, 9999),
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(st.sampled_from(["a", "on", "2", "R", "pins"]), inner, max_size=4),
    max_leaves=12,
)


@pytest.fixture(scope="module")
def scripts(browser: Any, site_url: str) -> Page:
    made = browser.new_page(service_workers="block")
    made.goto(f"{site_url}write/")
    return made


AS_MAPS = "const maps = (one) => Array.isArray(one) ? one.map(maps) : one?.pairs ? new Map(one.pairs.map(([k, v]) => [k, maps(v)])) : one;"


def pairs(value: Any) -> Any:
    if isinstance(value, dict):
        return {"pairs": [[key, pairs(inner)] for key, inner in value.items()]}
    return [pairs(one) for one in value] if isinstance(value, list) else value


@settings(max_examples=60, deadline=None)
@given(value=VALUES)
def test_it_writes_as_the_command_does(scripts: Page, value: Any) -> None:
    """Against `rangebook new`, whose text is read back in its own tests."""
    code = f"async (given) => {{ {AS_MAPS} const m = await import('../book/write/yaml.js'); return m.lines('key', maps(given)); }}"
    assert scripts.evaluate(code, pairs(value)) == yaml_text.lines("key", value)


def test_the_page_checks_as_the_linter_does(scripts: Page, loaded: Any) -> None:
    """Every entry of the demo book, whole and with one key after the other taken out or spoilt: both say yes, or both say no."""
    schemas = load_schemas(ROOT)
    checker = Checker(schemas)
    cases = []
    for entry in loaded.entries:
        front = json.loads(json.dumps(entry.front, default=str))
        cases.append((front["kind"], front))
        for key in front:
            if key != "kind":
                cases.append((front["kind"], {one: value for one, value in front.items() if one != key}))
                cases.append((front["kind"], {**front, key: [{"no": "such thing"}]}))
    code = f"""async (given) => {{ {AS_MAPS}
        const m = await import('../book/write/check.js');
        const data = await (await fetch('../data/write.json')).json();
        const check = m.checkerOf(data.schemas);
        return given.map(([kind, front]) => check(kind, maps(front)).length === 0); }}"""
    said = scripts.evaluate(code, [[kind, pairs(front)] for kind, front in cases])
    wrong = []
    for (kind, front), fine in zip(cases, said, strict=True):
        text = "---\n" + "\n".join(line for key, value in front.items() for line in yaml_text.lines(key, value)) + "\n---\n"
        entry = read_entry(f"entries/x/{front.get('id', 'x')}.md", text.encode())
        if (not checker.check(entry)) != fine:
            wrong.append((kind, front.get("id"), fine))
    assert len(cases) > 200 and not wrong and False in said


def test_the_checker_is_the_one_of_the_package() -> None:
    """No code is made from text in it: the policy would stop that."""
    home = ROOT / "tools/rangebook/site/client/vendor/json-schema"
    for path in home.glob("*.js"):
        assert not re.search(r"new Function|\beval\(|sourceMappingURL", path.read_text("utf-8")), path
    assert "4.1.6" in (home / "ORIGIN.md").read_text("utf-8") and "MIT" in (home / "ORIGIN.md").read_text("utf-8")


def difference(before: str, after: str) -> tuple[list[str], list[str]]:
    """The lines that are gone, and those that are new, in their order."""
    found = list(difflib.ndiff(before.split("\n"), after.split("\n")))
    return [one[2:] for one in found if one.startswith("- ")], [one[2:] for one in found if one.startswith("+ ")]


def test_a_part_that_is_there_is_changed_and_nothing_else(
    page: Page, demo_book: Path, tmp_path: Path, capsys: pytest.CaptureFixture
) -> None:
    home = demo_book / "entries/switches/penvose-ladder.md"
    page.get_by_label("Family", exact=True).select_option("penvose-ladder")
    page.get_by_label("Which part").select_option("PV.63342.A")
    expect(page.get_by_label("Part number, as it is printed")).to_have_value("PV.63342.A")
    expect(page.locator("[data-write-text]")).to_have_text(home.read_text("utf-8"), use_inner_text=False)
    page.get_by_label("Status").select_option("discontinued")
    ladder = page.locator(".write__item").nth(2)
    ladder.get_by_label("This contact").select_option("ohms")
    for position, ohms in {"P": "4700", "R": "2200", "N": "1.200", "D": "680", "2": "330", "1": "150"}.items():
        ladder.get_by_label(f"Ohms in {position}", exact=True).fill(ohms)
    source(page)
    path = saved(page, tmp_path)
    expect(page.locator("[data-write-where]")).to_contain_text("Goes in the place of entries/switches/penvose-ladder.md")
    assert path.name == home.name
    assert difference(home.read_text("utf-8"), path.read_text("utf-8")) == (
        ["    status: current", "      - {pins: [8, 9]}"],
        [
            "    status: discontinued",
            "      - {pins: [8, 9], ohms: {P: 4700, R: 2200, N: 1.200, D: 680, 2: 330, 1: 150}}",
            '      - {kind: seen, detail: "new in box, metered: all positions", by: bench, on: 2026-03-04}',
        ],
    )
    told = new_findings(demo_book, capsys, lambda: shutil.copy(path, home))
    assert all("1.200" in message or rule == "stale-check" for rule, message in told), told
    # It is still this part, half typed, when the page is opened again.
    page.reload()
    expect(page.locator("[data-write-text]")).to_contain_text("N: 1.200")
    expect(page.get_by_label("Which part")).to_have_value("PV.63342.A")


def test_a_parts_own_page_leads_to_its_form(page: Page, site_url: str) -> None:
    page.goto(f"{site_url}parts/PW671052/")
    page.get_by_role("link", name="Mend the entry").click()
    expect(page.get_by_label("Family", exact=True)).to_have_value("harnby-pair")
    expect(page.get_by_label("Part number, as it is printed")).to_have_value("PW 671.052")


def test_vehicles_with_a_new_plug_come_into_a_family_that_is_there(
    page: Page, demo_book: Path, tmp_path: Path, capsys: pytest.CaptureFixture
) -> None:
    home = demo_book / "entries/switches/penvose-ladder.md"
    choose(page, "A vehicle of a family in the book")
    page.get_by_label("Family", exact=True).select_option("penvose-ladder")
    expect(page.locator("[data-write-against]")).to_contain_text("Say of which vehicle")
    page.get_by_role("button", name="Another plug").click()
    page.get_by_label("What this plug is called").fill("tow bar")
    page.get_by_label("The vehicle's plug", exact=True).select_option("round-9")
    pins(page, {"1": "start_feed", "2": "start_out", "3": "backup_feed", "7": "backup_out"}, "Wire")
    for at, name in enumerate(("Corran Delver 2.2", "Corran Delver 2.4")):
        page.get_by_role("button", name="One more vehicle").click()
        page.get_by_label("Vehicle", exact=True).nth(at).fill(name)
        page.get_by_label("Model years").nth(at).fill("2009-2012")
        page.get_by_label("Its gearbox").nth(at).select_option("Penvose Tern")
        page.get_by_label("Its plug").nth(at).select_option("tow bar")
        page.get_by_label("Built with").nth(at).select_option("PV.63307.A")
    path = saved(page, tmp_path)
    gone, new = difference(home.read_text("utf-8"), path.read_text("utf-8"))
    assert gone == [] and new[0] == "  tow bar:" and len([one for one in new if "Corran Delver 2." in one]) == 2
    new_findings(demo_book, capsys, lambda: shutil.copy(path, home))
    capsys.readouterr()
    assert main(["fit", "PV.63307.A", "--root", str(demo_book), "--json"]) == 0
    assert "Corran Delver 2.4" in capsys.readouterr().out


def test_pictures_are_made_small_and_tell_neither_place_nor_time(page: Page, tmp_path: Path) -> None:
    """Read by Pillow: no Exif, no segment of an application but JFIF's own and the colours' (ICC.1:2022, annex B.4, from memory)."""
    taken = Image.new("RGB", (3000, 2000), (180, 40, 40))
    exif = taken.getexif()
    exif[ExifTags.Base.DateTime] = "2026:01:02 03:04:05"
    exif.get_ifd(ExifTags.IFD.GPSInfo)[ExifTags.GPS.GPSLatitudeRef] = "N"
    file = io.BytesIO()
    taken.save(file, "JPEG", exif=exif)
    page.get_by_label("Family", exact=True).select_option("tamblin-lever")
    page.get_by_label("Part number, as it is printed").fill("TB-12447")
    page.get_by_label("Take or choose pictures").set_input_files(
        [
            {"name": "IMG_0001.JPG", "mimeType": "image/jpeg", "buffer": file.getvalue()},
            {"name": "notes.jpg", "mimeType": "image/jpeg", "buffer": b"no picture"},
        ]
    )
    expect(page.get_by_text("notes.jpg could not be read as a picture.")).to_be_visible()
    page.get_by_label("From where").fill("front")
    page.get_by_label("What is to be seen").fill("oval housing, latch up, arm left")
    expect(page.locator("[data-write-pictures]")).to_contain_text("entries/switches/photos/tamblin-lever/")
    with page.expect_download() as waiting:
        page.get_by_role("link", name="Save tb-12447-").click()
    path = tmp_path / waiting.value.suggested_filename
    waiting.value.save_as(path)
    with Image.open(path) as made:
        assert made.size == (1600, 1067) and not made.getexif()
        assert all(name == "APP0" or (name == "APP2" and data.startswith(b"ICC_PROFILE\0")) for name, data in made.applist)
    shown = page.locator("[data-write-text]").text_content() or ""
    assert f'photos:\n      - {{file: {path.name}, view: front, shows: "oval housing, latch up, arm left"}}' in shown


def test_what_can_hurt_somebody_is_told_at_the_contact_and_the_text_can_be_mailed(page: Page) -> None:
    page.get_by_label("Family", exact=True).select_option("tamblin-lever")
    page.get_by_label("Part number, as it is printed").fill("TB-12447")
    page.get_by_label("Its housing").select_option("wedge-14")
    pins(page, CIRCUITS)
    contact(page, "1", "8", "P N")
    alert = page.locator(".write__item").last.get_by_role("alert")
    expect(alert).to_be_empty()
    page.locator(".write__item").last.get_by_label("D", exact=True).check()
    expect(alert).to_contain_text(
        "TB-12447: in D there is a path from pin 1 (start_feed) to pin 8 (start_out): the starter could turn in gear"
    )
    expect(page.locator("[data-write-against]")).to_contain_text("the starter could turn in gear")
    letter = urlsplit(page.get_by_role("link", name="Send it by mail").get_attribute("href") or "")
    body = dict(parse_qsl(letter.query))["body"].replace("\r\n", "\n")
    assert letter.scheme == "mailto" and body.endswith(page.locator("[data-write-text]").text_content() or "?")


def test_a_powered_output(page: Page) -> None:
    page.get_by_label("Family", exact=True).select_option("halvik-line")
    page.get_by_label("Its housing").select_option("oval-9")
    pins(page, {"1": "common_feed", "2": "ground", "3": "range_signal"})
    page.get_by_role("button", name="Add a powered output").click()
    for label, value in {"Given on": "3", "Fed on": "1", "Measured against": "2", "What is measured": "volts"}.items():
        page.get_by_label(label, exact=True).select_option(value)
    page.get_by_label("Reads in P", exact=True).fill("0.50")
    page.get_by_label("Reads in R", exact=True).fill("1.20")
    expect(page.locator("[data-write-text]")).to_contain_text(
        "signals:\n      - {pin: 3, supply: 1, ground: 2, kind: volts, values: {P: 0.50, R: 1.20}}", use_inner_text=False
    )


def test_a_second_vehicle_of_a_new_family(page: Page) -> None:
    choose(page, "A new family of switches")
    page.get_by_label("Gearboxes", exact=True).fill("Penvose Tern")
    page.get_by_label("Part number, as it is printed").fill("PV.9")
    page.get_by_label("The vehicle's plug", exact=True).select_option("oval-2")  # no part by itself has it: it is drawn all the same
    page.locator("[data-cavity='1']").last.click()
    page.get_by_label("Wire 1 is for").select_option("start_out")
    page.get_by_label("Vehicle", exact=True).fill("Corran Delver 2.2")
    page.get_by_role("button", name="One more vehicle").click()
    page.get_by_label("Vehicle", exact=True).nth(1).fill("Corran Delver 2.4")
    page.get_by_label("Model years").nth(1).fill("2009-2012")
    both = (
        "applications:\n  - {vehicle: Corran Delver 2.2, gearbox: Penvose Tern, plug: plug, came_with: PV.9}\n"
        "  - {vehicle: Corran Delver 2.4, years: 2009-2012, gearbox: Penvose Tern, plug: plug, came_with: PV.9}\n"
    )
    expect(page.locator("[data-write-text]")).to_contain_text(both, use_inner_text=False)
    page.reload()
    expect(page.locator("[data-write-text]")).to_contain_text(both, use_inner_text=False)
