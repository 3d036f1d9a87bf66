"""The find page in a browser: every way to ask, and that what it shows is what was computed."""

from __future__ import annotations

import random
import re
from collections.abc import Callable
from functools import cache
from urllib.parse import parse_qs, quote, urlsplit

import pytest
from playwright.sync_api import Page, expect
from tests.site.conftest import Tab

from rangebook.book.load import Loaded
from rangebook.book.model import Part, Source
from rangebook.book.numbers import normalise
from rangebook.fitting.fitter import Fitter
from rangebook.fitting.seats import Seat
from rangebook.fitting.standing import Group, group_of
from rangebook.fitting.verdict import Verdict, VerdictKind
from rangebook.reasons.reason import Outcome
from rangebook.site.data.answers import answers
from rangebook.site.facts.computed import Computed
from rangebook.site.model.known import known_words
from rangebook.site.shared import urls
from rangebook.words.reasons import brief_words, reason_words

SPELLINGS: list[Callable[[str], str]] = [
    lambda number: number,
    lambda number: number.lower(),
    normalise,
    lambda number: " ".join(normalise(number).lower()),
    lambda number: re.sub(r"[\s\-./]+", ".", number),
    lambda number: re.sub(r"[\s\-./]+", "/", number) + "-",
    lambda number: f"  {number.replace('-', chr(0x2011))} ",
]
"""Ways of writing one number; the last with the hyphen that a word processor puts in."""


@pytest.fixture
def telling(loaded: Loaded, fitter: Fitter) -> Part:
    """A superseded part that goes in several vehicles and whose answer takes a kit."""
    for part in loaded.book.parts:
        seats = fitter.seats_taken_by(part)
        if "-" in part.number and len(seats) > 1 and any(one.needs for seat, _ in seats for one in fitter.candidates(seat)):
            return part
    raise AssertionError("the demo book has no such part")


def ask(page: Page, site_url: str, text: str) -> None:
    page.goto(f"{site_url}?q={quote(text)}")
    page.locator("[data-find-answer] > *").first.wait_for()


@pytest.mark.parametrize("spelling", SPELLINGS)
def test_a_number_in_any_spelling(tab: Tab, site_url: str, telling: Part, spelling: Callable[[str], str]) -> None:
    ask(tab.page, site_url, spelling(telling.number))
    expect(tab.page.locator(".answer__head h2 .number")).to_have_text(telling.number)
    assert not tab.seen.complaints


def test_typing_shows_the_answer_and_the_address_carries_it(tab: Tab, site_url: str, telling: Part) -> None:
    tab.page.goto(site_url)
    tab.page.locator("#q").press_sequentially(telling.number.lower())
    expect(tab.page.locator(".answer__head h2 .number")).to_have_text(telling.number)
    assert parse_qs(urlsplit(tab.page.url).query)["q"] == [telling.number.lower()]
    expect(tab.page.locator("[data-find-start]")).to_be_hidden()
    tab.page.locator("#q").fill("")
    expect(tab.page.locator("[data-find-start]")).to_be_visible()


def test_an_inner_part_of_four_characters(tab: Tab, site_url: str, loaded: Loaded, telling: Part) -> None:
    piece = telling.key[1:5]
    holding = {part.number for part in loaded.book.parts if piece in part.key} | {
        kit.number for kit in loaded.book.kits.values() if piece in kit.key
    }
    assert telling.number in holding
    ask(tab.page, site_url, piece)
    if len(holding) == 1:
        expect(tab.page.locator(".answer__head h2 .number")).to_have_text(telling.number)
    else:
        shown = tab.page.locator("[data-how='holding'] .number").all_inner_texts()
        assert set(shown) == holding


def test_the_exact_number_comes_before_those_that_hold_it(tab: Tab, site_url: str) -> None:
    tab.page.goto(site_url)
    found = tab.page.evaluate(
        """async numbers => {
            const m = await import('/book/shared/search.js');
            const list = m.numberList({families: [['f', 'F', numbers, 'c'.repeat(numbers.length)]], others: [], kits: []});
            const {exact, holding} = m.findNumbers(list, 'ab 12');
            return [exact.map(one => one.number), holding.map(one => one.number)];
        }""",
        ["X-AB-12-9", "AB-12-3", "AB-1", "ab.12", "AB-12-33"],
    )
    assert found == [["ab.12"], ["AB-12-3", "AB-12-33", "X-AB-12-9"]]


def test_a_number_that_is_not_in_the_book(tab: Tab, site_url: str, loaded: Loaded, telling: Part) -> None:
    """One character off: said to be missing, the right one offered, and as the nearest, not as the answer."""
    known = {part.key for part in loaded.book.parts} | {kit.key for kit in loaded.book.kits.values()}
    wrong = next(
        candidate
        for digit in "0123456789"
        if (candidate := telling.number[:-1] + digit) and not any(normalise(candidate) in key for key in known)
    )
    ask(tab.page, site_url, wrong)
    expect(tab.page.locator("[data-not-in-book] h2")).to_contain_text("is not in the book")
    expect(tab.page.get_by_role("heading", name="The nearest numbers in it")).to_be_visible()
    assert telling.number in tab.page.locator("[data-how='nearest'] .number").all_inner_texts()
    assert tab.page.locator(".choice").count() == 0, "no answer is given for a number that is not in the book"
    tab.page.locator("[data-how='nearest']", has_text=telling.number).first.click()
    expect(tab.page.locator(".answer__head h2 .number")).to_have_text(telling.number)


@pytest.mark.parametrize("nonsense", ["zzqqxxjj", "<b>bold</b>", "\"'&<script>alert(1)</script>", "%00", "....", "ab"])
def test_nonsense_is_said_to_be_missing(tab: Tab, site_url: str, nonsense: str) -> None:
    ask(tab.page, site_url, nonsense)
    expect(tab.page.locator("[data-not-in-book] h2")).to_have_text(f"“{nonsense}” is not in the book")
    assert not tab.seen.complaints


def test_a_vehicle_with_its_year(tab: Tab, site_url: str, fitter: Fitter) -> None:
    """A vehicle's name and a year of one of its lines: that line is found, and leads to the seat's answer."""
    seat, application = next(
        (seat, one)
        for seat in fitter.seats
        for one in seat.applications
        if one.first_year and sum(two.vehicle == one.vehicle for other in fitter.seats for two in other.applications) > 1
    )
    ask(tab.page, site_url, f"{application.vehicle.lower()} {application.first_year}")
    key = urls.seat_key(seat)
    if tab.page.locator(".seat").count() == 0:
        row = tab.page.locator(f"[data-vehicle='{application.vehicle}'][href*='{quote(urls.seat_id(seat))}']")
        row.first.click()
    expect(tab.page.locator(".seat")).to_have_attribute("data-seat", key)
    expect(tab.page.locator(".seat")).to_contain_text(application.vehicle)


def test_a_gearbox_lists_its_vehicles_and_its_switches(tab: Tab, site_url: str, loaded: Loaded) -> None:
    gearbox, families = next((name, families) for name, families in loaded.book.by_gearbox.items() if len(families) >= 1)
    ask(tab.page, site_url, gearbox.lower())
    expect(tab.page.get_by_role("heading", name=f"Gearbox {gearbox}", exact=True)).to_be_visible()
    shown = tab.page.locator("[data-find-answer]").inner_text()
    for family in families:
        assert family.title in shown
    vehicles = {one.vehicle for family in loaded.book.families.values() for one in family.applications if one.gearbox == gearbox}
    assert vehicles
    for vehicle in vehicles:
        assert vehicle in shown


def test_a_kit_number_leads_to_the_kit(tab: Tab, site_url: str, loaded: Loaded) -> None:
    kit = next(iter(loaded.book.kits.values()))
    ask(tab.page, site_url, kit.number.lower())
    tab.page.locator("a.row", has_text=kit.number).first.click()
    expect(tab.page.locator("h1")).to_contain_text(kit.number)


def test_an_answer_can_be_sent_to_a_colleague(open_tab: Callable[..., Tab], site_url: str, telling: Part) -> None:
    """Number, then vehicle: the address that results shows the same answer in another browser, and the way back works."""
    mine = open_tab()
    ask(mine.page, site_url, telling.number)
    mine.page.locator(".row--answer").nth(1).click()
    expect(mine.page.locator(".seat")).to_have_count(1)
    expect(mine.page.locator("[data-later]")).to_have_count(0)
    shown = mine.page.locator(".seat").inner_text()
    theirs = open_tab()
    theirs.page.goto(mine.page.url)
    expect(theirs.page.locator(".seat")).to_have_count(1)
    expect(theirs.page.locator("[data-later]")).to_have_count(0)
    assert theirs.page.locator(".seat").inner_text() == shown
    assert theirs.page.locator("#q").input_value() == telling.number
    mine.page.go_back()
    expect(mine.page.locator(".seat")).to_have_count(0)
    expect(mine.page.locator(".row--answer").first).to_be_visible()


def test_an_answer_says_what_to_order_move_and_leave(tab: Tab, site_url: str, loaded: Loaded, fitter: Fitter) -> None:
    """Kit by number, seal by its wires, the wires that change place, and the idle pins, as the verdict has them."""
    seat, verdict = next(
        (seat, one)
        for seat in fitter.seats
        for one in fitter.candidates(seat)[:1]
        if one.part.status == "current" and one.needs and one.needs[0].seal and one.unused_pins and len(one.needs) == 1
    )
    tab.page.goto(f"{site_url}?q={quote(seat.original.number)}&seat={quote(urls.seat_key(seat))}")
    choice = tab.page.locator(f".choice[data-candidate='{verdict.part.number}']")
    choice.wait_for()
    need = verdict.needs[0]
    kit = loaded.book.kits[need.kit or ""]
    expect(choice.locator(".need").first).to_contain_text(f"Order with it: kit {kit.number}")
    expect(choice.locator(".need").first).to_contain_text(f"seal for {need.seal} wire")
    for pin in verdict.unused_pins:
        expect(tab.page.locator(".panes__wires .need--idle")).to_contain_text(re.compile(rf"\b{pin}\b"))
    expect(tab.page.locator(".panes__wires .need--idle")).to_contain_text("and that is right")
    expect(tab.page.locator("[data-later]")).to_have_count(0)
    for old, new in verdict.moves.items():
        assert f"{old} → {new}" in tab.page.locator(".panes__wires .moves").text_content()
    expect(tab.page.locator(".choice--first .caution")).to_contain_text("Chocks, brake, battery off")


def test_a_small_phone_shows_part_verdict_kit_seal_and_caution_at_once(open_tab: Callable[..., Tab], site_url: str, fitter: Fitter) -> None:
    """On 360 x 640, above the bar at the thumb."""
    tab = open_tab(viewport={"width": 360, "height": 640})
    shown = 0
    for seat in fitter.seats:
        first = next(
            (one for one in fitter.candidates(seat) if one.kind is VerdictKind.WITH_PARTS and one.needs and one.needs[0].seal), None
        )
        if first is None or shown == 3:
            continue
        tab.page.goto(seat_url(site_url, seat))
        card = tab.page.locator(".choice--first")
        card.wait_for()
        thumb = tab.page.locator(".thumb").bounding_box()
        assert thumb and thumb["y"] + thumb["height"] <= 640.5 and thumb["height"] >= 63
        for piece in (".choice__number", ".badge", ".need", ".caution"):
            box = card.locator(piece).first.bounding_box()
            if box is None and piece == ".need":
                break
            assert box and box["y"] + box["height"] <= thumb["y"] + 0.5, (seat.plug.name, piece, box)
        else:
            shown += 1
    assert shown == 3


def test_what_must_not_be_fitted_stands_in_red_with_its_reason_in_six_words(tab: Tab, site_url: str, fitter: Fitter) -> None:
    """Each part that is refused on the seat, and no other; what speaks against it first is what is said."""
    seat = next(
        seat for seat in fitter.seats if len({group_of(one) for one in fitter.candidates(seat)} & {Group.LOOK_ALIKE, Group.NO}) == 2
    )
    tab.page.goto(seat_url(site_url, seat))
    refused = [one for one in fitter.candidates(seat) if one.kind is VerdictKind.NO]
    expect(tab.page.locator(".beware .beware__one")).to_have_count(len(refused))
    shown = tab.page.locator(".beware .beware__one").evaluate_all(
        "all => all.map(one => [one.dataset.candidate, one.querySelector('.beware__why').textContent])"
    )
    assert [number for number, _ in shown] == [one.part.number for one in refused]
    for (_, words), one in zip(shown, refused, strict=True):
        assert 0 < len(words.split()) <= 6
        said = {brief_words(reason).lower() for reason in one.reasons if reason.outcome is Outcome.AGAINST}
        assert words.lower() in said


def fitted_first(fitter: Fitter) -> list[tuple[Seat, Verdict]]:
    """Each seat on which something may be fitted, with what is fitted first."""
    found = ((seat, next((one for one in fitter.candidates(seat) if group_of(one) is Group.FIT), None)) for seat in fitter.seats)
    return [(seat, first) for seat, first in found if first]


def test_what_goes_wrong_with_a_kit_stands_under_the_answer_that_takes_it(tab: Tab, site_url: str, loaded: Loaded, fitter: Fitter) -> None:
    """Every caution of every kit to order, with its number; and the same on the page of the kit."""
    taken = ((seat, [loaded.book.kits[need.kit] for need in first.needs if need.kit]) for seat, first in fitted_first(fitter))
    seat, kits = next((seat, kits) for seat, kits in taken if any(kit.cautions for kit in kits))
    tab.page.goto(seat_url(site_url, seat))
    expect(tab.page.locator(".wrong li")).to_have_text([f"{kit.number} {text}" for kit in kits for text in kit.cautions])
    kit = next(one for one in kits if one.cautions)
    tab.page.goto(site_url + urls.kit_url(kit.id))
    expect(tab.page.locator("main .cautions li")).to_have_text(list(kit.cautions))


def test_what_is_to_be_done_beside_ordering_is_a_list_of_its_own(tab: Tab, site_url: str, fitter: Fitter) -> None:
    seat, first = next((seat, first) for seat, first in fitted_first(fitter) if any(one.kind == "work" for one in first.also))
    work = [one.what for one in first.also if one.kind == "work"]
    tab.page.goto(seat_url(site_url, seat))
    order = tab.page.locator("#answer-order")
    expect(order.get_by_role("heading", name="To do with it")).to_be_visible()
    expect(order.locator(".order__list")).to_have_count(2)
    expect(order.locator(".order__list").nth(1).locator("li")).to_contain_text(work, ignore_case=True)
    expect(order.locator(".order__list").first.locator("li")).to_have_count(1 + len(first.needs) + len(first.also) - len(work))


def test_the_seal_is_drawn_hole_by_hole(tab: Tab, site_url: str, fitter: Fitter) -> None:
    """A hole for each wire, by the cavity that it goes to, and a blanking plug for each hole too many."""
    seat, verdict = next(
        (seat, one)
        for seat in fitter.seats
        for one in fitter.candidates(seat)[:1]
        if one.needs and one.needs[-1].seal and one.needs[-1].blanks
    )
    tab.page.goto(seat_url(site_url, seat))
    seal = tab.page.locator(".seal__figure")
    expect(seal.locator("svg.seal .wires__label")).to_have_count(len(verdict.moves))
    assert sorted(seal.locator("svg.seal .wires__label").all_text_contents()) == sorted(verdict.moves.values())
    expect(seal.locator(".seal__blank")).to_have_count(verdict.needs[-1].blanks or 0)
    expect(seal).to_contain_text(f"{verdict.needs[-1].seal} holes")


def test_which_plug_is_asked_by_pictures_with_the_difference_marked(tab: Tab, site_url: str, fitter: Fitter) -> None:
    """Of plugs of one connector each cavity is marked that some have a wire in and others not."""
    part = next(part for part in fitter.book.parts if len({len(seat.plug.wires) for seat, _ in fitter.seats_taken_by(part)}) > 1)
    seats = [seat for seat, _ in fitter.seats_taken_by(part)]
    tab.page.goto(f"{site_url}?q={quote(part.number)}")
    rows = tab.page.locator(".plugs .row--answer")
    expect(rows).to_have_count(len(seats))
    wired = [set(seat.plug.wires) for seat in seats if seat.plug.sockets == seats[0].plug.sockets]
    expect(rows.first.locator(".plug .wires__label")).to_have_count(len(seats[0].plug.wires))
    assert rows.first.locator(".plug__mark").count() >= len(set.union(*wired) - set.intersection(*wired))


def test_each_wire_is_drawn_from_the_plug_that_is_there_to_the_new_one(tab: Tab, site_url: str, fitter: Fitter) -> None:
    """The same as the moves say; from the side where the wires go in, so the first cavity of a row is on the right."""
    seat, verdict = next(
        (seat, one) for seat in fitter.seats for one in fitter.candidates(seat)[:1] if one.kind is VerdictKind.WITH_PARTS and one.moves
    )
    tab.page.goto(seat_url(site_url, seat))
    drawing = tab.page.locator("svg.wires[role='img']")
    said = drawing.get_attribute("aria-label") or ""
    for old, new in verdict.moves.items():
        assert f"from {old} to {new}." in said
    apart = [1 for old, new in verdict.moves.items() if old != new]
    expect(drawing.locator(".wires__edge.wires__wire--moves")).to_have_count(len(apart))


def test_plugs_of_several_connectors_are_drawn_below_each_other(tab: Tab, site_url: str, fitter: Fitter) -> None:
    """Each wire at its own place in its own plug, by the cavity's own label; each connector by its name. A lead that only goes between
    changes nothing of that."""
    seats = [seat for seat in fitter.seats if len(seat.plug.sockets) > 1 and not seat.renewal]
    assert seats
    for seat in seats:
        first = next(one for one in fitter.candidates(seat) if group_of(one) is Group.FIT)
        assert not first.moves, "the demo book has no kit that cuts off one of several plugs"
        tab.page.goto(seat_url(site_url, seat))
        drawing = tab.page.locator("svg.wires[role='img']")
        expect(drawing.locator(".wires__name")).to_have_text([socket.name for socket in seat.plug.sockets])
        assert sorted(drawing.locator(".wires__label").all_text_contents()) == sorted(one.partition(".")[2] for one in seat.plug.wires)
        at = drawing.locator(".wires__end").evaluate_all("all => all.map(one => one.getAttribute('cx') + ' ' + one.getAttribute('cy'))")
        assert len(set(at)) == len(seat.plug.wires)
    assert not tab.seen.complaints


def seat_url(site_url: str, seat: Seat) -> str:
    return f"{site_url}?q={quote(seat.original.number)}&seat={quote(_key(seat))}"


def test_an_answer_says_where_it_is_known_from_and_when_it_was_looked_at(tab: Tab, site_url: str, fitter: Fitter) -> None:
    """Kinds of source as the entry has them and the latest day, read from the entry's own text; without a source, hearsay."""
    seat, part = next(
        (seat, one.part) for seat in fitter.seats for one in fitter.candidates(seat) if one.fits and len(one.part.sources) > 1
    )
    tab.page.goto(seat_url(site_url, seat))
    known = tab.page.locator(f".choice[data-candidate='{part.number}'] .choice__known")
    days = [one.on for one in part.sources if one.on]
    expect(known).to_contain_text(f"last looked at {max(days)}")
    for one in part.sources:
        assert {"seen": "een and measured", "hearsay": "earsay", "catalogue": "arts catalogue"}.get(one.kind, "") in known.text_content()
    assert known_words(()) == "No source is stated: treat it as hearsay"
    older, newer = Source("seen", on="2019-02-01", by="a"), Source("bulletin", on="2021-01-01", by="b")
    assert known_words((newer, older, newer)) == "Maker's bulletin and seen and measured; last looked at 2021-01-01, b"
    assert known_words((Source("hearsay"),)) == "Hearsay; day not stated"


def test_not_known_says_what_to_measure_first(tab: Tab, site_url: str, fitter: Fitter) -> None:
    seat, verdict = next(
        (seat, one)
        for seat in fitter.seats
        for one in fitter.candidates(seat)
        if one.measure_first and "meter" in reason_words(one.measure_first)
    )
    tab.page.goto(seat_url(site_url, seat))
    expect(tab.page.locator("[data-later]")).to_have_count(0)
    why = tab.page.locator(f".choice[data-candidate='{verdict.part.number}'] .choice__why")
    assert why.locator("p").first.text_content() == "Measure first:"
    assert verdict.measure_first is not None
    assert why.locator("p").nth(1).text_content().lower() == f"{reason_words(verdict.measure_first).lower()}."


@pytest.mark.parametrize("secure", [True, False], ids=["clipboard", "without a clipboard"])
def test_the_link_to_an_answer_is_copied(open_tab: Callable[..., Tab], site_url: str, fitter: Fitter, secure: bool) -> None:
    """What is pasted afterwards is the address of this very answer, also where the page has no clipboard (an intranet without https)."""
    tab = open_tab(permissions=["clipboard-read", "clipboard-write"])
    if not secure:
        tab.page.add_init_script("Object.defineProperty(navigator, 'clipboard', {value: undefined})")
    seat = fitter.seats[0]
    tab.page.goto(seat_url(site_url, seat))
    tab.page.get_by_text("Send this answer").click()
    tab.page.get_by_role("button", name="Copy the link").click()
    expect(tab.page.locator(".send__says")).to_have_text("Copied")
    tab.page.locator("#q").fill("")
    tab.page.locator("#q").press("Control+V")
    pasted = urlsplit(tab.page.locator("#q").input_value())
    assert parse_qs(pasted.query) == {"q": [seat.original.number], "seat": [_key(seat)]}
    assert f"{pasted.scheme}://{pasted.netloc}{pasted.path}" == site_url


def test_a_number_without_its_suffix_and_with_one_too_many(tab: Tab, site_url: str, fitter: Fitter) -> None:
    """The end of a number left off finds it; an end that the book does not have is no exact hit, and the number is offered."""
    part = next(
        part
        for part in fitter.book.parts
        if len(part.key) > 5 and sum(part.key[:-1] in one.key for one in (*fitter.book.parts, *fitter.book.kits.values())) == 1
    )
    ask(tab.page, site_url, part.key[:-1])
    expect(tab.page.locator(".answer__head h2 .number")).to_have_text(part.number)
    ask(tab.page, site_url, f"{part.number}-XX")
    expect(tab.page.locator("[data-not-in-book]")).to_be_visible()
    assert part.number in tab.page.locator("[data-how='nearest'] .number").all_inner_texts()


def test_what_is_sold_today_comes_first(tab: Tab, site_url: str, fitter: Fitter) -> None:
    """A superseded part that still fits as it is must not be shown before the one that can be bought."""
    seat = next(
        seat
        for seat in fitter.seats
        if seat.original.status == "superseded" and any(one.part.status == "current" and one.fits for one in fitter.candidates(seat))
    )
    tab.page.goto(f"{site_url}?q={quote(seat.original.number)}&seat={quote(urls.seat_key(seat))}")
    first = tab.page.locator(".choice").first
    first.wait_for()
    number = first.get_attribute("data-candidate")
    assert fitter.book.part(number or "").status == "current"


@pytest.mark.parametrize("chosen", range(6))
def test_the_browser_shows_what_was_computed(tab: Tab, site_url: str, fitter: Fitter, chosen: int) -> None:
    """For parts drawn at random (by a fixed seed): every candidate on every seat, with its verdict."""
    part = random.Random(chosen).choice(fitter.book.parts)
    for seat, _ in fitter.seats_taken_by(part):
        tab.page.goto(f"{site_url}?q={quote(part.number)}&seat={quote(urls.seat_key(seat))}")
        tab.page.locator(".seat").wait_for()
        expect(tab.page.locator("[data-later]")).to_have_count(0)
        shown = tab.page.locator("[data-candidate]").evaluate_all("all => all.map(one => [one.dataset.candidate, one.dataset.verdict])")
        assert sorted(map(tuple, shown)) == sorted((one.part.number, str(one.kind)) for one in fitter.candidates(seat))


def test_the_client_data_is_what_was_computed(loaded: Loaded, fitter: Fitter) -> None:
    """Every part of the book: its seats, and on each the candidates with verdict, needs, moves and idle pins."""
    computed = Computed(loaded)
    checked = 0
    for family in loaded.book.families.values():
        data = answers(computed, family)
        for part in family.parts:
            taken = fitter.seats_taken_by(part)
            assert data["parts"][part.key].get("seats", []) == [[_key(seat), how] for seat, how in taken]
            for seat, _ in taken:
                shown = {one["number"]: one for one in data["seats"][_key(seat)]["candidates"]}
                assert shown.keys() == {one.part.number for one in fitter.candidates(seat)}
                for one in fitter.candidates(seat):
                    entry = shown[one.part.number]
                    assert entry["verdict"] == str(one.kind)
                    assert [order["number"] for order in entry.get("orders", [])] == [loaded.book.kits[n.kit].number for n in one.needs]
                    assert {move["old"]: move["new"] for move in entry.get("moves", [])} == dict(one.moves)
                    if one.kind in ("straight", "with_parts", "rewire"):
                        assert tuple(entry.get("idle", ())) == one.unused_pins
                    assert [tuple(check) for check in entry["checks"]] == [(str(r.outcome), r.check, reason_words(r)) for r in one.checked]
                    checked += 1
    assert checked > 300


def _key(seat: Seat) -> str:
    return urls.seat_key(seat)


def test_seats_have_addresses_of_their_own(fitter: Fitter) -> None:
    keys = [_key(seat) for seat in fitter.seats]
    assert len(set(keys)) == len(keys)


def test_numbers_are_compared_as_everywhere_else(tab: Tab, site_url: str, loaded: Loaded) -> None:
    """The browser's way of comparing numbers against Python's."""
    tab.page.goto(site_url)
    texts = [*(part.number for part in loaded.book.parts), "a-b/c. d\t9", "é-1", "0563 17", "ß12", "x--..//  y"]
    found = tab.page.evaluate("async texts => { const m = await import('/book/shared/search.js'); return texts.map(m.normalise); }", texts)
    assert found == [normalise(text) for text in texts]


def test_how_far_two_numbers_are_apart(tab: Tab, site_url: str) -> None:
    """Against the textbook recursion (optimal string alignment: change, put in, take out, swap neighbours), up to its bound."""
    chance = random.Random(7)
    pairs = [tuple("".join(chance.choice("AB12") for _ in range(chance.randint(0, 7))) for _ in range(2)) for _ in range(300)]
    tab.page.goto(site_url)
    found = tab.page.evaluate(
        "async pairs => { const m = await import('/book/shared/search.js'); return pairs.map(([a, b]) => m.distance(a, b, 3)); }", pairs
    )
    assert found == [min(apart(a, b), 4) for a, b in pairs]


@cache
def apart(a: str, b: str) -> int:
    if not a or not b:
        return len(a) + len(b)
    steps = min(apart(a[:-1], b) + 1, apart(a, b[:-1]) + 1, apart(a[:-1], b[:-1]) + (a[-1] != b[-1]))
    if len(a) > 1 and len(b) > 1 and a[-1] == b[-2] and a[-2] == b[-1]:
        steps = min(steps, apart(a[:-2], b[:-2]) + 1)
    return steps


def test_without_a_script_the_lists_are_there(open_tab: Callable[..., Tab], site_url: str, loaded: Loaded) -> None:
    tab = open_tab(java_script_enabled=False)
    tab.page.goto(site_url)
    expect(tab.page.get_by_text("The box needs JavaScript")).to_be_visible()
    tab.page.get_by_role("link", name="all numbers").first.click()
    shown = tab.page.locator("main").inner_text()
    for part in loaded.book.parts:
        assert part.number in shown


def test_a_book_that_cannot_be_loaded_says_so(tab: Tab, site_url: str) -> None:
    tab.page.route("**/data/numbers.json", lambda route: route.abort())
    tab.page.goto(f"{site_url}?q=1234")
    expect(tab.page.get_by_role("button", name="Try again")).to_be_visible()
    tab.page.unroute("**/data/numbers.json")
    tab.page.get_by_role("button", name="Try again").click()
    expect(tab.page.get_by_role("button", name="Try again")).to_have_count(0)


def test_it_works_by_keyboard(tab: Tab, site_url: str, telling: Part) -> None:
    tab.page.goto(site_url)
    tab.page.locator("#q").focus()
    tab.page.keyboard.type(telling.number)
    tab.page.keyboard.press("Enter")
    # A page's policy lets no text be run: playwright's own wait for a condition would be kept from it.
    tab.page.locator("a.row:focus, .choice__number a:focus").wait_for()
    tab.page.keyboard.press("Enter")
    expect(tab.page.locator(".seat")).to_have_count(1)
