"""The schematic with its lever: every reading on the page against networkx, and the page under thumb and keyboard.

Source: networkx, ``resistance_distance`` (see tests/electrics/test_meter.py, from where the reckoning comes).
"""

from __future__ import annotations

import re
from collections.abc import Callable
from urllib.parse import parse_qs, quote, urlencode, urlsplit

import pytest
from playwright.sync_api import Page, expect
from tests.electrics.test_meter import by_networkx
from tests.site.conftest import DESK, PHONE, Tab

from rangebook.book.load import Loaded
from rangebook.book.model import CASE, Part
from rangebook.desk.prove import parse_ohms
from rangebook.fitting.fitter import Fitter
from rangebook.site.data.lever import levers, ohms_words
from rangebook.site.facts.computed import Computed
from rangebook.site.shared.urls import seat_key

ALL_READINGS = """() => {
    const found = [];
    const buttons = [...document.querySelectorAll('.terminal')];
    const stops = [...document.querySelectorAll('.stop')];
    const lead = name => buttons.find(one => one.dataset.lead === name);
    for (const first of buttons) for (const second of buttons) {
        if (first === second) continue;
        // A tap on a pin that a probe is on takes that probe up; the next tap puts it down.
        if (lead('one') !== first) { if (lead('two') !== first) { lead('one').click(); first.click(); } }
        const other = lead('one') === first ? 'two' : 'one';
        if (lead(other) !== second) { lead(other).click(); second.click(); }
        for (const stop of stops) {
            stop.click();
            found.push([first.dataset.terminal, second.dataset.terminal, stop.querySelector('b').textContent,
                document.querySelector('[data-meter]').dataset.state, document.querySelector('.meter__reading').textContent]);
        }
    }
    return found;
}"""
"""Hold the meter to each two pins in each position, and write down what it shows."""


def ladder(part: Part) -> bool:
    return bool(part.pins and part.contacts and not part.signals and any(one.ohms for one in part.contacts))


@pytest.fixture(scope="module")
def part(loaded: Loaded) -> Part:
    """A part with a resistance ladder and several contacts."""
    return max((one for one in loaded.book.parts if ladder(one)), key=lambda one: len(one.contacts or ()))


def open_part(page: Page, site_url: str, number: str, **more: str) -> None:
    page.goto(f"{site_url}lever/?{urlencode({'part': number, **more})}")
    page.locator("[data-meter]").wait_for()


@pytest.mark.parametrize("which", ["ladder", "star", "current"])
def test_every_reading_on_the_page_is_what_networkx_reckons(tab: Tab, site_url: str, loaded: Loaded, part: Part, which: str) -> None:
    wholly = [one for one in loaded.book.parts if one.pins and one.contacts and not one.signals]
    shown = {
        "ladder": part,
        "star": max(wholly, key=lambda one: max(sum(end in (two.a, two.b) for two in one.contacts) for end in one.pins)),
        "current": next(one for one in wholly if one.status == "current" and one.family != part.family),
    }[which]
    open_part(tab.page, site_url, shown.number)
    found = tab.page.evaluate(ALL_READINGS)
    positions = loaded.book.family_of(shown).positions
    assert len(found) == (len(shown.pins) + 1) * len(shown.pins) * len(positions)
    listed = {end for one in shown.contacts for end in (one.a, one.b)} | {CASE}
    for a, b, position, state, words in found:
        ohms = by_networkx(shown, a, b, position) if {a, b} <= listed else None
        kind = "unknown" if ohms is None else {0.0: "closed", float("inf"): "open"}.get(ohms, "ohms")
        assert state == kind, (a, b, position, words)
        if kind == "ohms":
            figure, least, most = (parse_ohms(one) for one in re.findall(r"[0-9.]+k?", words))
            assert figure == pytest.approx(ohms, rel=1e-3) and least < ohms < most
        else:
            assert words == {"unknown": "not stated", "closed": "closed", "open": "open"}[kind]
    assert not tab.seen.complaints


def test_the_contacts_move_with_the_lever_as_the_entry_says(tab: Tab, site_url: str, loaded: Loaded, part: Part) -> None:
    open_part(tab.page, site_url, part.number)
    for at, position in enumerate(loaded.book.family_of(part).positions):
        tab.page.locator("[data-lever-slide]").evaluate("(one, at) => { one.value = at; one.dispatchEvent(new Event('input')); }", at)
        wanted = []
        for one in part.contacts:
            if one.closed is not None:
                wanted.append("closed" if position in one.closed else "open")
            else:
                wanted.append("unknown" if position not in (one.ohms or {}) else "open" if one.ohms[position] is None else "ohms")
        seen = tab.page.locator(".sch__contact").evaluate_all("all => all.map(one => one.dataset.state)")
        assert seen == wanted
        expect(tab.page.locator(".levers__now")).to_contain_text(f"Closed in {position}:")
    arms = tab.page.locator(".sch__contact[data-state='open'] .sch__arm path").first
    assert arms.evaluate("one => getComputedStyle(one).transform") != "none", "an open contact stands off"


def test_by_keyboard_alone_and_the_address_keeps_it(open_tab: Callable[..., Tab], site_url: str, loaded: Loaded, part: Part) -> None:
    page = open_tab(viewport=DESK).page
    open_part(page, site_url, part.number)
    positions = loaded.book.family_of(part).positions
    slide = page.get_by_role("slider", name="Lever")
    slide.focus()
    page.keyboard.press("End")
    expect(slide).to_have_attribute("aria-valuetext", positions[-1])
    page.keyboard.press("ArrowLeft")
    expect(slide).to_have_attribute("aria-valuetext", positions[-2])
    page.locator(".terminal[data-lead='one']").focus()
    page.keyboard.press("Enter")
    page.locator(f".terminal[data-terminal='{CASE}']").focus()
    page.keyboard.press("Space")
    expect(page.locator("[data-meter]")).to_contain_text("housing")
    kept = parse_qs(urlsplit(page.url).query)
    assert kept["at"] == [positions[-2]] and CASE in (kept["a"] + kept["b"])
    before = page.locator("[data-meter]").text_content()
    page.reload()
    expect(page.locator("[data-meter]")).to_have_text(before or "")


def test_on_a_plug_each_wire_has_its_colour_and_where_it_goes(tab: Tab, site_url: str, fitter: Fitter, loaded: Loaded) -> None:
    seat = next(
        one
        for one in fitter.seats
        if set(one.original.pins or ()) - set(one.plug.wires) and all(wire.colour for wire in one.plug.wires.values())
    )
    open_part(tab.page, site_url, seat.original.number, seat=seat_key(seat))
    computed = Computed(loaded, fitter)
    for cavity, wire in seat.plug.wires.items():
        row = tab.page.locator(f".terminal[data-terminal='{cavity}']")
        expect(row).to_contain_text(computed.circuit(wire.circuit))
        base = tab.page.locator(f".terminal[data-terminal='{cavity}'] .swatch rect").first
        expect(base).to_have_class(f"rb-wire-{wire.colour[:2].lower()}")
    idle = next(pin for pin in seat.original.pins if pin not in seat.plug.wires)
    expect(tab.page.locator(f".terminal[data-terminal='{idle}']")).to_contain_text("no wire in this plug, and that is right")
    stops = tab.page.locator(".stop b").all_text_contents()
    assert tuple(stops) == seat.positions


def test_what_the_thumb_touches_is_large_and_in_reach(tab: Tab, site_url: str, loaded: Loaded) -> None:
    """WCAG 2.2, 2.5.5 target size (enhanced): 44 CSS px. The lever is at the foot of a phone, whatever is scrolled."""
    for one in loaded.book.parts:
        if one.pins is None:
            continue
        open_part(tab.page, site_url, one.number)
        boxes = tab.page.locator(".terminal, .stop, .lever__slide, .levers__plug").evaluate_all(
            "all => all.map(one => [one.className, one.getBoundingClientRect().width, one.getBoundingClientRect().height])"
        )
        assert [box for box in boxes if min(box[1:]) < 44] == [], one.number
        slide = tab.page.locator(".lever__slide").bounding_box()
        assert slide and PHONE["height"] - 80 < slide["y"] + slide["height"] <= PHONE["height"]
        assert tab.page.evaluate("document.documentElement.scrollWidth") <= PHONE["width"], one.number
    assert not tab.seen.complaints


def test_reduced_motion_is_respected(open_tab: Callable[..., Tab], site_url: str, part: Part) -> None:
    for motion, moves in (("reduce", False), ("no-preference", True)):
        page = open_tab(reduced_motion=motion).page
        open_part(page, site_url, part.number)
        took = page.locator(".sch__arm path").first.evaluate("one => getComputedStyle(one).transitionDuration")
        assert (took != "0s") == moves


def test_a_powered_output_is_told_and_an_ohmmeter_is_not_asked(tab: Tab, site_url: str, loaded: Loaded) -> None:
    one = next(one for one in loaded.book.parts if one.signals and one.signals[0].supply and one.signals[0].ground)
    signal = one.signals[0]
    open_part(tab.page, site_url, one.number, a=signal.pin, b=signal.supply or "")
    expect(tab.page.locator("[data-meter]")).to_have_attribute("data-state", "unknown")
    for position, value in signal.values.items():
        tab.page.get_by_role("button", name=f"Lever in {position}:").click()
        expect(tab.page.locator(".levers .box", has_text="Under power")).to_contain_text(f"{value:g} in {position}")


def test_a_part_that_is_not_there_and_one_without_a_pin_out(tab: Tab, site_url: str, loaded: Loaded) -> None:
    tab.page.goto(f"{site_url}lever/?part=ZZ-99990")
    expect(tab.page.locator("[data-not-in-book]")).to_contain_text("ZZ-99990")
    blank = [one for one in loaded.book.parts if one.pins is None]
    for one in blank:
        tab.page.goto(f"{site_url}lever/?part={quote(one.number)}")
        expect(tab.page.locator("[data-lever-place]")).to_contain_text("not in the book")


def test_the_file_of_a_family_is_small(loaded: Loaded, fitter: Fitter) -> None:
    """Two terminals that no pair names are open: only what is ever anything else is written down."""
    computed = Computed(loaded, fitter)
    for family in loaded.book.families.values():
        data = levers(computed, family)
        for key, one in data["parts"].items():
            for a, b, row in one["pairs"]:
                assert a < b < len(one["terminals"]) and row < len(one["rows"]), key
                assert any(data["readings"][at][0] != 0 for at in one["rows"][row])


@pytest.mark.parametrize(
    "address",
    ["?q=TB-11568", "lever/?part=TB-12433", "prove/?part=TB-12415", "identify/", "job/?seat=tamblin-lever/nine-wire-TB11568&fit=TB-12415"],
)
def test_nothing_jumps_while_a_page_is_put_together(open_tab: Callable[..., Tab], site_url: str, address: str) -> None:
    """Cumulative layout shift at most 0.1. Source: web.dev, Core Web Vitals, the bound for "good" (from memory); figures by Chromium."""
    page = open_tab(reduced_motion="reduce").page
    page.add_init_script(
        """window.shifts = 0;
        const add = list => list.getEntries().forEach(one => { window.shifts += one.hadRecentInput ? 0 : one.value; });
        new PerformanceObserver(add).observe({type: 'layout-shift', buffered: true});"""
    )
    # Slow enough for the empty page to be painted first.
    page.route("**/data/**", lambda route: (page.wait_for_timeout(150), route.continue_()))
    page.goto(site_url + address)
    page.wait_for_load_state("networkidle")
    page.wait_for_timeout(300)
    assert page.evaluate("window.shifts") <= 0.1


@pytest.mark.parametrize(
    ("ohms", "words"), [(4700, "4.7k"), (1000, "1k"), (999, "999"), (12345, "12.345k"), (0.5, "0.5"), (2.2e6, "2.2M"), (150.25, "150.25")]
)
def test_ohms_are_written_short_and_nothing_is_rounded_away(ohms: float, words: str) -> None:
    assert ohms_words(ohms) == words
