"""Two parts laid over each other on a plug: the figures against networkx, the marks against figures typed by hand, the page in Chromium.

Source: networkx (see tests/electrics/test_meter.py, from where the reckoning comes); the hand-typed ones are read off the entries.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any
from urllib.parse import urlencode

import networkx as nx
import pytest
from playwright.sync_api import Page, expect
from tests.electrics.test_meter import by_networkx
from tests.site.conftest import DESK, PHONE, Tab

from rangebook.book.load import Loaded
from rangebook.book.model import CASE, Part
from rangebook.electrics.relation import JOINED, OPEN, UNKNOWN, PathKind, Relation
from rangebook.fitting.check_needs import together
from rangebook.fitting.fitter import Fitter
from rangebook.fitting.overlay import marks
from rangebook.fitting.verdict import VerdictKind
from rangebook.site.data.compare import compares
from rangebook.site.facts.computed import Computed
from rangebook.site.shared.urls import seat_key
from rangebook.words.book import verdict_words

SEAT = "tamblin-lever/late-thirteen-TB12415"


@pytest.fixture(scope="module")
def data(loaded: Loaded, fitter: Fitter) -> dict[str, dict[str, Any]]:
    """Every seat of the demo book, by its key, as the browser gets it."""
    computed = Computed(loaded, fitter)
    return {key: seat for family in loaded.book.families.values() for key, seat in compares(computed, family)["seats"].items()}


def conducts(part: Part, a: str, b: str, position: str) -> tuple[bool, bool]:
    """Whether current gets from the first pin to the second, and back, by what is closed there: a diode lets it through from its ``a``."""
    graph = nx.DiGraph()
    graph.add_nodes_from([*part.pins, CASE])
    for one in part.contacts:
        if one.closed is not None and position in one.closed:
            graph.add_edge(one.a, one.b)
            if not one.one_way:
                graph.add_edge(one.b, one.a)
    return nx.has_path(graph, a, b), nx.has_path(graph, b, a)


def test_what_is_between_two_wires_is_what_networkx_reckons(data: dict[str, dict[str, Any]], loaded: Loaded, fitter: Fitter) -> None:
    """Every part on every plug of the demo book. Left to other tests: pins that nothing is stated about."""
    compared = 0
    for seat in fitter.seats:
        shown = data[seat_key(seat)]
        rows = {(a, b): (cells, of) for a, b, cells, _, of in shown["pairs"]}
        terminals = [*seat.plug.wires, CASE]
        for number, facts in shown["parts"].items():
            part = loaded.book.part(number)
            own = loaded.book.family_of(part).positions
            # With what has to go on beside it: where that has plugs of its own, its pins are among those of the whole.
            part = together(loaded.book, seat, part)
            if "place" not in facts or part.contacts is None or part.pins is None:
                continue
            listed = {end for one in part.contacts for end in (one.a, one.b)} | {CASE}
            pin_of = {**dict(zip(seat.plug.wires, facts["place"], strict=True)), CASE: CASE}
            for at, a in enumerate(terminals):
                for b in terminals[at + 1 :]:
                    pins = pin_of[a], pin_of[b]
                    if any(pin is not None and pin in (*part.pins, CASE) and pin not in listed for pin in pins):
                        continue
                    cells, of = rows.get((a, b), ([["open"] * len(seat.positions)], {number: 0}))
                    for position, words in zip(seat.positions, cells[of[number]], strict=True):
                        where = (seat_key(seat), number, a, b, position, words)
                        if position not in own:
                            assert words == "no such position", where
                        elif any(pin is None or pin not in (*part.pins, CASE) for pin in pins):
                            assert words == "open", where
                        else:
                            ohms = by_networkx(part, *pins, position)
                            there, back = conducts(part, *pins, position)
                            if ohms == 0 and there != back:
                                first, second = (a, b) if there else (b, a)
                                assert words.replace("housing", CASE) == f"one way, {first} to {second}", where
                                compared += 1
                                continue
                            kinds = {None: "not stated", 0.0: "closed", float("inf"): "open"}
                            assert words == kinds.get(ohms) or (ohms not in kinds and "Ω" in words), where
                        compared += 1
    assert compared > 5_000


def test_where_a_part_fits_nothing_is_marked_as_different(data: dict[str, dict[str, Any]], fitter: Fitter) -> None:
    """The verdicts and the marks come by different ways from the same facts. A ladder that the module still reads right may differ."""
    fitting = apart = 0
    for seat in fitter.seats:
        shown = data[seat_key(seat)]
        came = seat.original.number
        for verdict in fitter.candidates(seat):
            number = verdict.part.number
            if number == came or "place" not in shown["parts"][number]:
                continue
            said = {
                mark
                for a, b, _, table, of in shown["pairs"]
                for mark in table[of[came]][of[number]]
                if {a, b} != set(seat.plug.reads.pins if seat.plug.reads else ())
            }
            said |= {"!" if sure else "?" for _, _, sure in shown["parts"][number]["powered"]}
            if verdict.kind in (VerdictKind.STRAIGHT, VerdictKind.WITH_PARTS, VerdictKind.REWIRE):
                assert said <= {"="}, (seat_key(seat), number)
                fitting += 1
            elif said <= {"="} and verdict.kind is VerdictKind.NO and shown["parts"][number]["kits"] == "":
                # All the same on the wires: it is something else that speaks against it.
                others = {one.code for one in verdict.reasons if one.check != "behaviour"} | {"behaviour.condition_not_met"}
                assert others & {one.code for one in verdict.reasons} or seat.plug.reads, (seat_key(seat), number)
            apart += "!" in said
    assert fitting > 20 and apart > 10


def ohms(value: float, tolerance: float = 5.0) -> Relation:
    return Relation(PathKind.OHMS, value, tolerance)


@pytest.mark.parametrize(
    ("one", "other", "said"),
    [
        ((JOINED, OPEN), (JOINED, OPEN), "=="),
        ((JOINED, OPEN), (OPEN, JOINED), "!!"),
        ((UNKNOWN, OPEN), (OPEN, UNKNOWN), "??"),
        ((UNKNOWN,), (UNKNOWN,), "?"),
        # 5 % of 1,000 ohms: 1,050 is inside, 1,051 is not, whatever the other part's own tolerance.
        ((ohms(1000), ohms(1000)), (ohms(1050, 1.0), ohms(1051, 20.0)), "=!"),
        ((None, None, OPEN), (None, OPEN, None), "=!!"),
    ],
)
def test_marks(one: tuple, other: tuple, said: str) -> None:
    assert marks(one, other) == said


def open_compare(page: Page, site_url: str, **facts: str) -> None:
    page.goto(f"{site_url}compare/?{urlencode(facts)}")
    page.locator("[data-card]").first.wait_for()


def test_two_parts_of_the_demo_book_read_off_the_entry_by_hand(tab: Tab, site_url: str) -> None:
    """TB-12340 has no pin in 4, 5, 11 and 12. With TB-12433 each of these is joined to 7 and the housing in one position: 4 in P (to 14
    too, which is at the housing then), 11 in R, 12 in D, 5 in 2."""
    open_compare(tab.page, site_url, a="tb12340", b="TB 12433", seat=SEAT)
    pairs = tab.page.locator("[data-differ] [data-pair]")
    apart = {}
    for row in pairs.all():
        last = row.locator("tr").nth(1).locator("td")
        apart[row.get_attribute("data-pair")] = [at for at, one in enumerate(last.all()) if one.get_attribute("data-mark") == "different"]
    shift_lock, others = {"4 7": [0], "4 14": [0], "4 case": [0]}, {"7 11": [1], "11 case": [1], "7 12": [3], "12 case": [3]}
    assert apart == {**shift_lock, **others, "5 7": [4], "5 case": [4]}
    wires = tab.page.locator("[data-wire]").evaluate_all("all => Object.fromEntries(all.map(one => [one.dataset.wire, one.dataset.mark]))")
    assert {name for name, kind in wires.items() if kind == "different"} == {"4", "5", "7", "11", "12", "14"}
    assert {name for name, kind in wires.items() if kind == "same"} == {"1", "2", "3", "6", "8", "9", "10"}
    expect(tab.page.locator("[data-compare-sum]")).to_contain_text("7 wires the same, 6 different, 0 not known")
    row = tab.page.locator("[data-wire='4']")
    expect(row).to_contain_text("no pin")
    expect(row).to_contain_text("shift lock")
    expect(row).to_contain_text("different"), "a word, a sign and a colour"
    expect(row).to_contain_text("≠")
    marked = tab.page.locator(".compare__face .compare__at--different").evaluate_all("all => all.map(one => one.dataset.cavity)")
    assert sorted(marked) == ["11", "12", "14", "4", "5", "7"]
    assert not tab.seen.complaints


def test_the_verdicts_are_those_of_the_answer(tab: Tab, site_url: str, fitter: Fitter) -> None:
    seat = next(one for one in fitter.seats if seat_key(one) == SEAT)
    for verdict in fitter.candidates(seat):
        open_compare(tab.page, site_url, a=seat.original.number, b=verdict.part.number, seat=SEAT)
        card = tab.page.locator(f"[data-card='{verdict.part.number}']").last
        expect(card.locator(".badge")).to_contain_text(verdict_words(verdict.kind))


def test_what_is_not_computed_says_so(tab: Tab, site_url: str, data: dict[str, dict[str, Any]], loaded: Loaded, fitter: Fitter) -> None:
    strange = next(one for one in loaded.book.parts if one.number not in data[SEAT]["parts"])
    open_compare(tab.page, site_url, a="TB-12415", b=strange.number, seat=SEAT)
    expect(tab.page.locator(f"[data-card='{strange.number}']")).to_contain_text("Not compared on this plug")
    expect(tab.page.locator("[data-not-laid]")).to_contain_text(strange.number)
    assert tab.page.locator("[data-wire]").count() == 0
    unlaid = next(((key, number) for key, seat in data.items() for number, facts in seat["parts"].items() if "place" not in facts), None)
    assert unlaid, "the demo book has a part that the plug does not go on"
    open_compare(tab.page, site_url, a=data[unlaid[0]]["came_with"], b=unlaid[1], seat=unlaid[0])
    expect(tab.page.locator("[data-not-laid]")).to_contain_text(unlaid[1])
    unstated = next(
        (key, number)
        for key, seat in data.items()
        for number, facts in seat["parts"].items()
        if None in facts.get("pins", []) and facts["place"][0]
    )
    open_compare(tab.page, site_url, a=data[unstated[0]]["came_with"], b=unstated[1], seat=unstated[0])
    expect(tab.page.locator("[data-wire]").first).to_contain_text("not stated")
    expect(tab.page.locator("[data-wire][data-mark='unknown']").first).to_contain_text("not known")


def test_the_original_beside_itself_differs_nowhere(tab: Tab, site_url: str) -> None:
    open_compare(tab.page, site_url, a="TB-12415", b="TB-12415", seat=SEAT)
    expect(tab.page.locator("[data-all-same]")).to_be_visible()
    expect(tab.page.locator("[data-wire]:not([data-mark='same'])")).to_have_count(0)


def test_choosing_by_keyboard_and_the_way_in_without_a_plug(open_tab: Callable[..., Tab], site_url: str) -> None:
    page = open_tab(viewport=DESK).page
    page.goto(f"{site_url}compare/?a=TB-12415")
    page.get_by_role("link", name="Corran Delver 2.4 2012-2018").first.focus()
    page.keyboard.press("Enter")
    page.locator("[data-card]").first.wait_for()
    choice = page.get_by_label("Second part")
    choice.select_option("TB-12433")
    expect(page.locator("[data-card]").nth(1)).to_have_attribute("data-card", "TB-12433")
    assert "b=TB-12433" in page.url
    page.reload()
    expect(page.locator("[data-card]").nth(1)).to_have_attribute("data-card", "TB-12433")
    page.goto(f"{site_url}compare/?a=ZZ-99990")
    expect(page.locator("[data-not-in-book]")).to_contain_text("ZZ-99990")


def test_it_fits_a_phone(tab: Tab, site_url: str, fitter: Fitter) -> None:
    for seat in fitter.seats:
        last = fitter.candidates(seat)[-1].part.number
        open_compare(tab.page, site_url, a=seat.original.number, b=last, seat=seat_key(seat))
        assert tab.page.evaluate("document.documentElement.scrollWidth") <= PHONE["width"], (seat_key(seat), last)
    assert not tab.seen.complaints
