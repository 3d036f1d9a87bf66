"""The proof sheet, the job sheet, several at once and the labels, in a real browser."""

from __future__ import annotations

import csv
import io
import re
import shutil
import subprocess
import threading
from collections.abc import Callable
from pathlib import Path
from urllib.parse import parse_qs, urlencode, urlsplit

import pytest
from playwright.sync_api import Locator, Page, expect
from tests.site.conftest import DESK, PHONE, Tab

from rangebook.book.load import Loaded
from rangebook.book.model import Part
from rangebook.desk.proof_sheets import Sheet, sheets
from rangebook.electrics.cells import Cell, Either, Row
from rangebook.electrics.faults import Fault
from rangebook.electrics.relation import JOINED, OPEN, Relation
from rangebook.electrics.relation import PathKind as Way
from rangebook.fitting.fitter import Fitter
from rangebook.fitting.standing import Group, group_of
from rangebook.fitting.verdict import VerdictKind
from rangebook.site.generator.build import build_site
from rangebook.site.generator.gate import checked
from rangebook.site.live.serve import listen
from rangebook.site.shared.urls import seat_key
from rangebook.words.measures import torque

TEXT = {JOINED: "0.2", OPEN: "OL"}


@pytest.fixture(scope="module")
def part(loaded: Loaded, fitter: Fitter) -> Part:
    """A part of the demo book with contacts and a ladder, all of it stated and provable."""
    return next(
        one
        for one in loaded.book.parts
        if one.status == "current" and any(contact.ohms for contact in one.contacts or ()) and not one.signals
        and (sheet := sheets(fitter, one)[0].proof) and not sheet.unproved and not sheet.unstated and len(sheet.probes) > 2
    )  # fmt: skip


def typed(found: Cell) -> str:
    if isinstance(found, Either):
        found = found.of[0]
    assert isinstance(found, Relation), "no span: a meter shows one figure"
    return f"{found.ohms:g}" if found.path is Way.OHMS else TEXT[found]


def rows_with(sheet: Sheet, fault: Fault) -> tuple[Row, ...]:
    """What a meter shows on each line of a part with a fault."""
    return tuple(fault.changed.get(line, row) for line, row in enumerate(sheet.faults.good))


def enter(page: Page, part: Part, rows: tuple, positions: int) -> None:
    """Type what a part with these rows would make a meter show."""
    unfold(page)
    for line, row in enumerate(rows):
        for at in range(positions):
            box = page.locator(f".reading[data-line='{line}'][data-at='{at}'] .reading__box")
            # The insulation is read once for all positions that should be alike; the first of them stands for them.
            if row[at] is not None and box.count():
                box.fill(typed(row[at]))


def unfold(page: Page) -> None:
    """Open every pair of probes: only the one in hand is."""
    page.locator(".position").first.wait_for()
    page.evaluate("document.querySelectorAll('details.position').forEach((one) => { one.open = true; })")


def result(page: Page) -> Locator:
    return page.locator("[data-prove-result]")


def test_a_good_part_is_called_good_only_when_all_is_read(tab: Tab, site_url: str, part: Part, fitter: Fitter) -> None:
    bench = sheets(fitter, part)[0]
    tab.page.goto(f"{site_url}prove/?{urlencode({'part': part.number.lower().replace('-', ' ')})}")
    expect(tab.page.locator("h1")).to_have_text(part.number)
    first = tab.page.locator(".reading").first
    first.get_by_role("button", name=re.compile("^Closed" if bench.proof.probes[0].expected[0] == JOINED else "^Open")).click()
    expect(result(tab.page)).to_contain_text("So far")
    expect(result(tab.page)).not_to_contain_text("Good")
    enter(tab.page, part, bench.faults.good, len(bench.proof.positions))
    expect(result(tab.page)).to_contain_text("Good.")
    tab.page.reload()
    expect(result(tab.page)).to_contain_text("Good."), "a phone that was put away loses no reading"
    tab.page.get_by_role("button", name="Clear the readings").click()
    expect(result(tab.page)).to_contain_text("to take")
    assert not tab.seen.complaints


def test_the_insulation_is_read_with_the_lever_moved_through_all_positions(tab: Tab, site_url: str, part: Part, fitter: Fitter) -> None:
    bench = sheets(fitter, part)[0]
    (one, *_), first = bench.proof.insulation, len(bench.proof.probes)
    tab.page.goto(f"{site_url}prove/?{urlencode({'part': part.number})}")
    enter(tab.page, part, bench.faults.good[:first], len(bench.proof.positions))
    expect(result(tab.page)).to_contain_text("So far")
    own = tab.page.locator(f".reading[data-line='{first}']")
    expect(own).to_have_count(2), "one for where it is closed, one for where it is open"
    enter(tab.page, part, bench.faults.good, len(bench.proof.positions))
    expect(result(tab.page)).to_contain_text("Good.")
    own.filter(has=tab.page.locator(".reading__want", has_text="open")).locator(".reading__box").fill("400k")
    expect(result(tab.page)).to_contain_text("Not good")
    expect(result(tab.page)).to_contain_text(f"{one.terminal} has a path to another pin or to the housing")
    expect(result(tab.page)).to_contain_text("Do not fit this switch")


def test_each_kind_of_fault_is_named(tab: Tab, site_url: str, part: Part, fitter: Fitter) -> None:
    bench = sheets(fitter, part)[0]
    says = {"stuck_open": "does not close", "stuck_closed": "does not open", "detent": "One detent off", "swapped": "have changed places"}
    tab.page.goto(f"{site_url}prove/?{urlencode({'part': part.number})}")
    for kind, words in says.items():
        fault = next(one for one in bench.faults.faults if one.kind == kind and one.changed)
        tab.page.evaluate("localStorage.clear()")
        tab.page.reload()
        enter(tab.page, part, rows_with(bench, fault), len(bench.proof.positions))
        expect(result(tab.page)).to_contain_text("Not good")
        expect(result(tab.page)).to_contain_text(words)
        if kind.startswith("stuck"):
            ends = fault.explanation.about
            expect(result(tab.page)).to_contain_text(f"{ends[0]} – {ends[1]}".replace("case", "housing"))
    box = tab.page.locator(".reading__box").first
    box.fill("2m")
    expect(tab.page.locator(".reading").first).to_have_attribute("data-state", "unclear")


def test_readings_that_no_single_fault_explains(tab: Tab, site_url: str, part: Part, fitter: Fitter) -> None:
    tab.page.goto(f"{site_url}prove/?{urlencode({'part': part.number})}")
    unfold(tab.page)
    for box in tab.page.locator(".reading__box").all():
        box.fill("37.5")
    expect(result(tab.page)).to_contain_text("No single fault explains")


def test_at_the_plug_of_the_vehicle(tab: Tab, site_url: str, part: Part, fitter: Fitter) -> None:
    at_plug = sheets(fitter, part)[1]
    tab.page.goto(f"{site_url}prove/?{urlencode({'part': part.number})}")
    tab.page.get_by_label("Where do you measure?").select_option(index=1)
    expect(tab.page.locator(".reading[data-at='0']")).to_have_count(len(at_plug.proof.lines))
    expect(tab.page.locator(".position").filter(has_text="Insulation of")).to_have_count(len(at_plug.proof.insulation))
    expect(tab.page.locator("h2").first).to_contain_text(f"the plug with {len(at_plug.seats[0].plug.wires)} wires")
    expect(tab.page.locator(".prove__plug .wires__end")).to_have_count(len(at_plug.seats[0].plug.wires))
    assert tab.page.locator("details.position[open]").count() == 1, "the pair in hand"


def test_by_keyboard_alone(open_tab: Callable[..., Tab], site_url: str, part: Part) -> None:
    tab = open_tab(viewport=DESK)
    tab.page.goto(f"{site_url}prove/?{urlencode({'part': part.number})}")
    first = tab.page.locator(".reading").first
    first.get_by_role("button").first.focus()
    tab.page.keyboard.press("Enter")
    expect(first.get_by_role("button").first).to_have_attribute("aria-pressed", "true")
    tab.page.keyboard.press("Tab")
    tab.page.keyboard.press("Tab")
    expect(first.locator(".reading__box")).to_be_focused()
    tab.page.keyboard.press("Shift+Tab")
    tab.page.keyboard.press("Space")
    expect(first.locator(".reading__box")).to_have_value("OL")


@pytest.mark.parametrize("page", ["prove/?part=ZZ-99990", "label/?part=ZZ-99990"])
def test_a_number_that_is_not_there(tab: Tab, site_url: str, page: str) -> None:
    tab.page.goto(site_url + page)
    expect(tab.page.locator("[data-not-in-book]")).to_contain_text("ZZ-99990")


@pytest.fixture(scope="module")
def job(fitter: Fitter) -> tuple:
    """A seat and a part on it that takes a kit and moves wires, and whose family says how it is set."""
    return next(
        (seat, verdict)
        for seat in fitter.seats
        for verdict in fitter.candidates(seat)
        if verdict.needs and verdict.moves and group_of(verdict) is Group.FIT and seat.family.fitting and seat.family.fitting.torque_nm
    )


def address_of(page: Page, site_url: str, seat, fit: str) -> str:
    """By the way that a technician goes: the answer, then the bar at the thumb."""
    page.goto(f"{site_url}?{urlencode({'q': seat.original.number})}")
    page.locator("[data-find-answer] > *").first.wait_for()
    if page.locator(".row--answer").count():
        page.locator(f".row--answer[data-seat^='{seat.family.id}/{seat.plug.name}']").first.click()
    page.locator(f".thumb a[href*='job/'][href*='{urlencode({'fit': fit})}']").click()
    page.locator(".job__fit").wait_for()
    return page.url


def test_the_job_sheet(tab: Tab, site_url: str, job: tuple, loaded: Loaded) -> None:
    seat, verdict = job
    address_of(tab.page, site_url, seat, verdict.part.number)
    sheet = tab.page.locator("[data-job]")
    expect(tab.page.locator(".job__fit")).to_have_text(verdict.part.number)
    for needed in verdict.needs:
        expect(sheet).to_contain_text(loaded.book.kits[needed.kit].number)
    moved = tab.page.locator(".job__moves tbody tr")
    assert {tuple(row.locator("th, td").all_inner_texts()[:2]) for row in moved.all()} == set(verdict.moves.items())
    expect(sheet).to_contain_text(torque(seat.family.fitting.torque_nm))
    expect(tab.page.locator(".proof tbody tr")).not_to_have_count(0)
    expect(sheet).to_contain_text("no other position")
    link = tab.page.locator(".job__link a").get_attribute("href")
    assert link and parse_qs(urlsplit(link).query)["q"] == [seat.original.number]
    tab.page.goto(link)
    expect(tab.page.locator(f"[data-candidate='{verdict.part.number}']").first).to_be_visible()
    assert not tab.seen.complaints


def test_no_job_sheet_for_what_must_not_be_fitted(tab: Tab, site_url: str, fitter: Fitter) -> None:
    tried = 0
    for word in (VerdictKind.NO, VerdictKind.UNKNOWN):
        seat, verdict = next((seat, one) for seat in fitter.seats for one in fitter.candidates(seat) if one.kind is word)
        query = urlencode({"seat": seat_key(seat), "fit": verdict.part.number, "off": seat.original.number})
        tab.page.goto(f"{site_url}job/?{query}")
        expect(tab.page.locator("[data-job-refused]")).to_contain_text(verdict.part.number)
        expect(tab.page.locator("[data-job-rest]")).to_be_hidden()
        tried += 1
    assert tried == 2


def test_several_at_once(open_tab: Callable[..., Tab], site_url: str, job: tuple, loaded: Loaded) -> None:
    tab = open_tab(viewport=DESK, accept_downloads=True)
    seat, verdict = job
    tab.page.goto(f"{site_url}several/")
    kit = next(iter(loaded.book.kits.values()))
    tab.page.locator("textarea").fill(f"{seat.original.number.lower()}  2x\n=ZZ-99990\n{kit.number};3")
    tab.page.get_by_role("button", name="Show what fits").click()
    expect(tab.page.locator("[data-several-status]")).to_contain_text("3 numbers read; 1 not in the book")
    rows = tab.page.locator(".several__table tbody tr")
    plugs = rows.locator("select")
    if plugs.count():
        vehicle = seat.applications[0].vehicle
        plugs.select_option(value=plugs.locator("option", has_text=vehicle).first.get_attribute("value"))
    expect(rows.filter(has_text=verdict.part.number).first).to_be_visible()
    with tab.page.expect_download() as got:
        tab.page.get_by_role("link", name="Lines as CSV").click()
    text = Path(got.value.path()).read_text("utf-8-sig")
    back = list(csv.DictReader(io.StringIO(text, newline=""), strict=True))
    assert {row["Number"] for row in back} == {seat.original.number, "", kit.number}
    for row in back:
        assert not row["Typed"].startswith("=")
    line = next(row for row in back if row["Number"] == seat.original.number and seat.applications[0].vehicle in row["For"])
    assert line["Fit"] == verdict.part.number and all(loaded.book.kits[one.kit].number in line["Order with it"] for one in verdict.needs)
    assert not tab.seen.complaints


# Paper ----------------------------------------------------------------------------------------------------------------

POPPLER = pytest.mark.skipif(not shutil.which("pdftotext"), reason="poppler-utils is not here")
ZBAR = pytest.mark.skipif(not shutil.which("zbarimg") or not shutil.which("pdftoppm"), reason="zbar-tools or poppler-utils is not here")


def pdf_of(page: Page, path: Path, size: str = "A4") -> tuple[int, str]:
    """Print as Chromium does; poppler counts the pages and reads the text."""
    path.write_bytes(page.pdf(format=size, print_background=True, prefer_css_page_size=False))
    info = subprocess.run(["pdfinfo", path], capture_output=True, text=True, check=True).stdout
    said = subprocess.run(["pdftotext", "-layout", path, "-"], capture_output=True, text=True, check=True).stdout
    return int(re.search(r"Pages:\s+(\d+)", info)[1]), said


def within_the_paper(path: Path) -> list[str]:
    """Words that stand outside the paper, by poppler's boxes."""
    boxes = subprocess.run(["pdftotext", "-bbox", path, "-"], capture_output=True, text=True, check=True).stdout
    outside, width, height = [], 0.0, 0.0
    for line in boxes.splitlines():
        if found := re.search(r'<page width="([\d.]+)" height="([\d.]+)"', line):
            width, height = map(float, found.groups())
        elif found := re.search(r'<word xMin="([\d.-]+)" yMin="([\d.-]+)" xMax="([\d.-]+)" yMax="([\d.-]+)">(.*)</word>', line):
            x0, y0, x1, y1 = map(float, found.groups()[:4])
            if x0 < -0.5 or y0 < -0.5 or x1 > width + 0.5 or y1 > height + 0.5:
                outside.append(found[5])
    return outside


@POPPLER
@pytest.mark.parametrize("size", ["A4", "Letter"])
def test_the_job_sheet_on_paper(tab: Tab, site_url: str, job: tuple, size: str, tmp_path: Path) -> None:
    seat, verdict = job
    address_of(tab.page, site_url, seat, verdict.part.number)
    pages, said = pdf_of(tab.page, tmp_path / "job.pdf", size)
    assert pages <= 2, "one sheet, both sides"
    assert verdict.part.number in said and seat.original.number in said and torque(seat.family.fitting.torque_nm) in said
    where = " and ".join(one for one in seat.positions if one in ("P", "N"))  # a truck's box without park is not asked for it
    assert f"It cranks in {where} and in no other position." in re.sub(r"\s+", " ", said)
    assert within_the_paper(tmp_path / "job.pdf") == []


@POPPLER
@pytest.mark.parametrize("size", ["A4", "Letter"])
def test_a_family_on_paper(tab: Tab, site_url: str, loaded: Loaded, size: str, tmp_path: Path) -> None:
    for family in list(loaded.book.families.values())[::5]:
        tab.page.goto(f"{site_url}switches/{family.id}/")
        pages, said = pdf_of(tab.page, tmp_path / "family.pdf", size)
        assert 1 <= pages <= 24, family.id  # what looks alike and must not be fitted stands there too
        for one in family.parts:
            assert one.number in said, one.number
        plain = re.sub(r"\s+", " ", said)
        assert "On this page" not in plain and "Prove it with a meter" not in plain
        assert within_the_paper(tmp_path / "family.pdf") == [], family.id


@POPPLER
def test_the_proof_sheet_on_paper(tab: Tab, site_url: str, part: Part, fitter: Fitter, tmp_path: Path) -> None:
    tab.page.goto(f"{site_url}prove/?{urlencode({'part': part.number})}")
    tab.page.locator(".position").first.wait_for()
    pages, said = pdf_of(tab.page, tmp_path / "proof.pdf")
    proof = sheets(fitter, part)[0].proof
    assert pages == 1
    assert "all others" in said and "on its highest range" in re.sub(r"\s+", " ", said)
    assert re.search(r"Probe\s+" + r"\s+".join(proof.positions), said)
    for probe in proof.probes:
        assert f"{probe.a} – {probe.b}".replace("case", "housing") in said
    assert within_the_paper(tmp_path / "proof.pdf") == []


def scanned(page: Page, path: Path) -> list[str]:
    """What zbar reads off the printed page."""
    pdf_of(page, path)
    subprocess.run(["pdftoppm", "-r", "200", "-png", path, path.with_suffix("")], check=True)
    found = []
    for picture in sorted(path.parent.glob(f"{path.stem}*.png")):
        done = subprocess.run(["zbarimg", "--quiet", "--raw", "-Sdisable", "-Sqrcode.enable", picture], capture_output=True, text=True)
        found += done.stdout.splitlines()
    return found


@ZBAR
def test_a_label_without_an_address_holds_the_number(tab: Tab, site_url: str, loaded: Loaded, tmp_path: Path) -> None:
    """Read back by zbar, which owes nothing to segno."""
    family = max(loaded.book.families.values(), key=lambda one: len(one.parts))
    tab.page.goto(f"{site_url}label/?family={family.id}")
    tab.page.locator(".label").first.wait_for()
    expect(tab.page.get_by_text("site_url")).to_be_visible()
    assert sorted(scanned(tab.page, tmp_path / "labels.pdf")) == sorted(one.number for one in family.parts)


@ZBAR
def test_codes_lead_to_the_answer_where_the_address_is_known(tab: Tab, demo_book: Path, root: Path, tmp_path: Path, job: tuple) -> None:
    shutil.copy(root / "mkdocs.yml", demo_book / "mkdocs.yml")
    shutil.copytree(root / "site_overrides", demo_book / "site_overrides")
    settings = demo_book / "mkdocs.yml"
    settings.write_text(settings.read_text("utf-8") + "\nsite_url: https://shop.example/range-book/\n", "utf-8")
    build_site(checked(demo_book), tmp_path / "site")
    server = listen(tmp_path / "site", 0, 0)
    threading.Thread(target=server.serve_forever, daemon=True).start()
    try:
        base = f"http://127.0.0.1:{server.server_port}/"
        seat, verdict = job
        number = seat.original.number
        tab.page.goto(f"{base}label/?{urlencode({'part': number})}")
        tab.page.locator(".label").first.wait_for()
        (label,) = scanned(tab.page, tmp_path / "label.pdf")
        address_of(tab.page, base, seat, verdict.part.number)
        (sheet,) = scanned(tab.page, tmp_path / "job.pdf")
        assert label == sheet
        parts = urlsplit(label)
        assert (parts.scheme, parts.netloc) == ("https", "shop.example") and parse_qs(parts.query) == {"q": [number]}
        assert " " not in label
    finally:
        server.shutdown()
        server.server_close()


@pytest.mark.parametrize("size", [PHONE, DESK], ids=["phone", "desk"])
def test_nothing_has_to_be_moved_sideways(open_tab: Callable[..., Tab], site_url: str, part: Part, job: tuple, size: dict) -> None:
    tab = open_tab(viewport=size)
    seat, verdict = job
    address_of(tab.page, site_url, seat, verdict.part.number)
    assert tab.page.evaluate("document.documentElement.scrollWidth") <= size["width"]
    for address in (f"prove/?{urlencode({'part': part.number})}", f"label/?{urlencode({'part': part.number})}"):
        tab.page.goto(site_url + address)
        tab.page.wait_for_load_state("networkidle")
        assert tab.page.evaluate("document.documentElement.scrollWidth") <= size["width"], address
        small = tab.page.evaluate(
            "() => [...document.querySelectorAll('main button, main input, main .button, main .chip')]"
            ".filter((one) => one.offsetParent && one.getBoundingClientRect().height < 43.5).map((one) => one.outerHTML.slice(0, 80))"
        )
        assert not small, "44 CSS px, WCAG 2.2 success criterion 2.5.5"
