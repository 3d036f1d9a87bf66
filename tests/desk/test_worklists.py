"""The worklists: what each one names, and that measuring what they ask for settles what they promise.

The promise is checked by doing it: the missing fact is put into the book and the verdicts are computed anew.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from pathlib import Path
from types import MappingProxyType
from typing import Any

import pytest
from tests.making import MOUNT, application, book, connector, family, part, plug

from rangebook.book.book import Book
from rangebook.book.load import load
from rangebook.book.model import CASE, NOT_CONNECTED, Contact, Part, Plug
from rangebook.desk.worklists import (
    Measurement,
    Work,
    checked_long_ago,
    measurements,
    open_chains,
    without_jumpers,
    without_pinout,
    without_source,
)
from rangebook.fitting.fitter import Fitter
from rangebook.fitting.verdict import VerdictKind
from rangebook.words.reasons import reason_words_with

ROOT = Path(__file__).resolve().parents[2]
SEEN = {"kind": "seen", "on": "2026-02-11"}
PINS = {"1": "start_feed", "2": "start_out"}
CONTACTS = [{"pins": ["1", "2"], "closed": ["P", "N"]}]
WHOLE: dict[str, Any] = {"pins": PINS, "contacts": CONTACTS}


@pytest.fixture(scope="module")
def demo() -> Book:
    return load(ROOT).book


def asked(of: Book) -> list[Measurement]:
    fitter = Fitter(of)
    return measurements((seat, verdict) for seat in fitter.seats for verdict in fitter.candidates(seat))


def named(one: Measurement) -> str:
    return one.name


def how(one: Measurement) -> str:
    """As the page says it."""
    seat, verdict = one.waits[0]
    return reason_words_with(one.how, seat.original.number, verdict.part.number)


def one_seat(*parts: dict[str, Any]) -> Book:
    """A family with one vehicle that was built with the first of the parts."""
    more = {"plugs": {"p": plug(PINS)}, "applications": [application("p", parts[0]["number"])]}
    return book(connector("c", 2, sources=[SEEN]), family("f", parts, **more))


def test_parts_without_a_pinout() -> None:
    found = without_pinout(
        one_seat(
            part("A-1", **WHOLE),
            part("A-2", pins=PINS),
            part("A-3", contacts=CONTACTS),
            part("A-4"),
            part("A-5", pins=PINS, contacts=[]),
            part("A-6", pins=PINS, signals=[{"pin": "1", "kind": "volts", "values": {"P": 1}}]),
        )
    )
    assert [(one.part.number, one.lacks) for one in found] == [("A-2", ("contacts",)), ("A-3", ("pins",)), ("A-4", ("pins", "contacts"))]


def test_no_contact_at_all_is_known_and_not_missing() -> None:
    assert without_pinout(one_seat(part("A-1", pins=PINS, contacts=[]))) == []


def test_what_no_source_stands_for() -> None:
    stated = [{**SEEN, "for": ["pins", "connector"]}]
    made = book(
        connector("c", 2),
        family("f", [part("A-1", sources=[SEEN], **WHOLE), part("A-2", **WHOLE), part("A-3", sources=stated, **WHOLE)], sources=[SEEN]),
    )
    found = without_source(made)
    assert [(getattr(one.owner, "number", None) or one.owner.id, one.facts) for one in found] == [  # type: ignore[union-attr]
        ("A-2", ()),
        ("A-3", ("contacts", "mount")),
        ("c", ()),
    ]


def test_checked_too_long_ago() -> None:
    on = lambda day: [{"kind": "seen", "on": day}]  # noqa: E731
    parts = [part("A-1", sources=on("2021-02-11")), part("A-2", sources=on("2021-02-10")), part("A-3", sources=[{"kind": "seen"}])]
    parts += [part("A-4", sources=[*on("2001-01-01"), *on("2025-01-01")]), part("A-5")]
    found = checked_long_ago(book(connector("c", 2, sources=on("2020-01-01")), family("f", parts, sources=[SEEN])), "2026-02-11")
    named = [(getattr(one.owner, "number", None) or one.owner.id, one.on) for one in found]  # type: ignore[union-attr]
    assert named == [("A-3", None), ("c", "2020-01-01"), ("A-2", "2021-02-10")], "five years to the day are not too long"


def test_the_years_are_those_of_the_calendar() -> None:
    """Source: Python's own calendar; a leap day five years on is no day."""
    day = date(2024, 2, 29)
    of = [{"kind": "seen", "on": "2019-02-28"}]
    found = checked_long_ago(
        book(connector("c", 2, sources=of), family("f", [part("A-1", sources=[SEEN])], sources=[SEEN])), day.isoformat()
    )
    assert [one.on for one in found] == ["2019-02-28"]


def test_plugs_that_nobody_looked_into_for_jumpers() -> None:
    pins = {**PINS, "3": "backup_feed", "4": "not_connected"}
    inside = [*CONTACTS, {"pins": ["3", "1"], "closed": ["R"]}]

    def asked(facts: dict[str, Any], **plug_facts: Any) -> list[tuple[str, tuple[str, ...]]]:
        more = {"plugs": {"p": plug(PINS, **plug_facts)}, "applications": [application("p", "A-1")]}
        made = book(connector("c", 4), family("f", [part("A-1", **facts)], **more))
        return [(one.seat.plug.name, one.pins) for one in without_jumpers(Fitter(made).seats)]

    wider = {"pins": pins, "contacts": inside}
    assert asked(wider) == [("p", ("3",))], "4 is a pin with nothing behind it"
    assert asked(wider, loops=[]) == asked(wider, loops=[["3", "2"]]) == []
    assert asked(WHOLE) == asked({"pins": pins}) == [], "no pin without a wire, or nobody knows what is behind one"


def test_chains_without_an_end() -> None:
    link = lambda number: [{"number": number}]  # noqa: E731
    made = one_seat(
        part("A-1", superseded_by=link("A-2"), status="superseded"),
        part("A-2", status="discontinued"),
        part("B-1", superseded_by=link("B-2"), status="superseded"),
        part("B-2", superseded_by=link("B-1"), status="superseded"),
        part("C-1", superseded_by=link("C-9"), status="superseded"),
        part("D-1", superseded_by=link("D-2"), status="superseded"),
        part("D-2", status="current"),
        part("E-1", superseded_by=link("E-2"), status="superseded"),
        part("E-2", status=None),
    )
    found = {one.part.number: (one.end, one.why) for one in open_chains(made)}
    assert found == {
        "A-1": ("A-2", "discontinued"),
        "B-1": ("B-1", "loops"),
        "B-2": ("B-2", "loops"),
        "C-1": ("C-9", "not_in_book"),
        "E-1": ("E-2", "status not stated"),
    }


def test_the_one_measurement_that_settles_most_stands_first() -> None:
    found = asked(one_seat(part("A-1", **WHOLE), part("A-2", mount=None, **WHOLE), part("A-3", mount=None, pins=PINS)))
    assert [(one.name, one.what, len(one.settles), len(one.waits)) for one in found] == [
        ("A-2", Work.MOUNT, 1, 1),
        ("A-3", Work.MOUNT, 0, 1),
        ("A-3", Work.CONTACTS, 0, 1),
    ]
    assert "A-2" in how(found[0]) and "this one" not in how(found[0])


def test_what_is_missing_of_the_original_is_asked_of_the_original() -> None:
    found = asked(one_seat(part("A-1", pins=PINS), part("A-2", **WHOLE), part("A-3", **WHOLE)))
    assert [(one.name, one.what, len(one.settles)) for one in found] == [("A-1", Work.CONTACTS, 2)]


def test_a_plug_whose_connector_is_missing_from_the_book_is_listed_and_not_the_candidate() -> None:
    """The candidate states its housing. What nobody can tell is what the plug looks like."""
    more = {"plugs": {"p": plug(PINS, of="lost-9")}, "applications": [application("p", "A-1")]}
    found = asked(book(connector("c", 2), family("f", [part("A-1", connector=None, **WHOLE), part("A-2", **WHOLE)], **more)))
    assert [(named(one), one.what) for one in found] == [("lost-9", Work.ABSENT_CONNECTOR)]
    assert "lost-9" in how(found[0]) and "A-2" not in how(found[0])


def test_a_housing_that_is_missing_from_the_book_is_listed_once_for_all_that_have_it() -> None:
    parts = [part("A-1", **WHOLE), part("A-2", connector="lost-9", **WHOLE), part("A-3", connector="lost-9", **WHOLE)]
    found = asked(one_seat(*parts))
    assert [(named(one), one.what, len(one.settles)) for one in found] == [("lost-9", Work.ABSENT_CONNECTOR, 2)]


def test_spacers_that_the_original_lacks_are_asked_of_the_original() -> None:
    """The candidate states its spacers; measuring it once more would settle nothing."""
    bare = {**MOUNT, "bolts": [{key: value for key, value in bolt.items() if key != "spacer_mm"} for bolt in MOUNT["bolts"]]}
    parts = [part("A-1", mount="bare", **WHOLE), part("A-2", **WHOLE)]
    more = {"plugs": {"p": plug(PINS)}, "applications": [application("p", "A-1")], "mounts": {"boss": MOUNT, "bare": bare}}
    found = asked(book(connector("c", 2), family("f", parts, **more)))
    assert [(named(one), one.what) for one in found] == [("A-1", Work.MOUNT)]
    # The other way round it is the candidate's.
    more["applications"] = [application("p", "A-2")]
    found = asked(book(connector("c", 2), family("f", parts, **more)))
    assert [(named(one), one.what) for one in found] == [("A-1", Work.MOUNT)]


def test_a_signal_that_the_original_does_not_state_is_asked_of_the_original() -> None:
    stated = {"pin": "1", "kind": "volts", "values": {"P": 1, "R": 2, "N": 3, "D": 4}, "supply": "2", "ground": "3"}
    pins = {"1": "range_signal", "2": "start_feed", "3": "ground"}
    vague = {**stated, "values": {"P": 1, "R": 2, "N": 3}}
    more = {"plugs": {"p": plug(pins)}, "applications": [application("p", "A-1")]}
    parts = [part("A-1", pins=pins, signals=[vague], contacts=[]), part("A-2", pins=pins, signals=[stated], contacts=[])]
    found = asked(book(connector("c", 3), family("f", parts, **more)))
    assert [(named(one), one.what) for one in found] == [("A-1", Work.CONTACTS)]


def test_an_answer_that_is_known_asks_for_nothing() -> None:
    assert asked(one_seat(part("A-1", **WHOLE), part("A-2", **WHOLE))) == []


def settled(of: Book, measured: Measurement) -> Book:
    """The book with what was asked for put in, whatever it is: here that the part bolts on like its family's first mount, that nothing
    closes in it, that every vehicle has all wires, or that the part is of its first design."""
    old = measured.owner
    if measured.what == Work.CONDITION:
        home = of.families[old.family]
        if isinstance(old, Part):
            one = replace(old.designs[0], revisions=(), path=old.path)
            parts = tuple(one if part is old else part for part in home.parts)
            return replace(of, families=MappingProxyType({**of.families, home.id: replace(home, parts=parts)}))
        assert isinstance(old, Plug) and {reading.what for reading in measured.how.detail.read} == {"wires"}
        sure = tuple(replace(one, optional_cavities=() if one.plug == old.name else one.optional_cavities) for one in home.applications)
        return replace(of, families=MappingProxyType({**of.families, home.id: replace(home, applications=sure)}))
    assert isinstance(old, Part)
    home = of.families[old.family]
    if measured.what == Work.MOUNT:
        new = replace(old, mount=next(iter(home.mounts)))
    else:
        assert measured.what == Work.CONTACTS
        housing = of.connectors[old.connector or ""]
        pins = old.pins or dict.fromkeys(housing.cavities, NOT_CONNECTED)
        never = tuple(Contact(pin, CASE, frozenset(), None, None, (), ()) for pin in pins)
        new = replace(old, pins=MappingProxyType(dict(pins)), contacts=never, signals=())
    parts = tuple(new if one is old else one for one in home.parts)
    return replace(of, families=MappingProxyType({**of.families, home.id: replace(home, parts=parts)}))


def words(of: Book) -> dict[tuple[Any, str], VerdictKind]:
    fitter = Fitter(of)
    return {(seat.key, one.key): fitter.verdict(seat, one).kind for seat in fitter.seats for one in of.parts}


@pytest.mark.slow
def test_measuring_settles_what_the_list_promises(demo: Book) -> None:
    """Every measurement of the demo book, carried out: the answers that it settles are then known, whatever was found."""
    found = asked(demo)
    assert sum(len(one.settles) for one in found) >= 20
    for one in found:
        fitter = Fitter(settled(demo, one))
        seats = {seat.key: seat for seat in fitter.seats}
        for seat, verdict in one.settles:
            # Vehicles that nothing tells apart any more share a seat.
            there = seats.get(seat.key) or seats[seat.family.id, seat.plug.name, *seat.key[2:]]
            part = fitter.book.by_number[verdict.part.key]
            assert fitter.verdict(there, part).kind is not VerdictKind.UNKNOWN, (one.name, one.what, seat.key)


def test_measuring_one_of_two_things_leaves_it_open() -> None:
    made = one_seat(part("A-1", **WHOLE), part("A-3", mount=None, pins=PINS))
    both = asked(made)
    assert len(both) == 2 and not any(one.settles for one in both)
    after = words(settled(made, next(one for one in both if one.what == Work.MOUNT)))
    assert VerdictKind.UNKNOWN in after.values(), "the contacts are still missing"


@pytest.mark.slow
def test_every_unknown_answer_of_the_demo_book_waits_for_something(demo: Book) -> None:
    fitter = Fitter(demo)
    unknown = {(seat.key, one.part.key) for seat in fitter.seats for one in fitter.candidates(seat) if one.kind is VerdictKind.UNKNOWN}
    waits = {(seat.key, verdict.part.key) for one in asked(demo) for seat, verdict in one.waits}
    assert waits == unknown and unknown
