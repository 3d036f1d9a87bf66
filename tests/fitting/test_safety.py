"""The law of the safety check on random books, held against networkx: what goes on lets no output of the starter touch anything in gear.

Sources: 49 CFR 571.102 S3.1.3 (the starter is inoperative in the forward and reverse positions); 49 CFR 571.108 Table I-a (backup lamps).
"""

from __future__ import annotations

import random
from dataclasses import replace
from typing import Any

import networkx as nx
import pytest

from rangebook.fitting.fitter import Fitter
from rangebook.fitting.judge import judge
from rangebook.fitting.seats import find_seats
from rangebook.fitting.verdict import GOES_ON, Verdict, VerdictKind
from rangebook.schema.store import Schemas, load_schemas
from tests.fitting.reckoning import CASE, CAVITIES, POSITIONS, look_alike, network, random_part
from tests.making import application, book, connector, family, part, plug, seat_and_parts

GUARDED = {"start_out": {"P", "N"}, "park_neutral": {"P", "N"}, "backup_out": {"R"}}
OTHERS = ["supply", "lamp_feed", "ground", "signal_ground", "shift_lock", "start_feed", "common_feed", "display", "drive_signal"]


def ask(original: dict, candidate: dict, wires: Any, app: dict | None = None, **fam: Any) -> Verdict:
    listed = [original] if candidate is original else [original, candidate]
    apps = [application("p", original["number"], **(app or {}))]
    made, seat, parts = seat_and_parts(connector("c", 8), family("f", listed, plugs={"p": plug(wires)}, applications=apps, **fam))
    return judge(made, seat, parts[candidate["number"]])


@pytest.mark.parametrize("chunk", range(8))
def test_what_goes_on_touches_nothing_where_it_must_not(chunk: int) -> None:
    went, refused = 0, 0
    for number in range(40):
        rng = random.Random(130_000 + chunk * 40 + number)
        original = random_part(rng, pins=rng.randint(3, 6))
        names = {pin: rng.choice([*GUARDED, *OTHERS]) for pin in original["pins"]}
        # Not all that anybody calls a wire is said by everybody.
        original["pins"] = {pin: name if rng.random() < 0.8 else "display" for pin, name in names.items()}
        for contact in original["contacts"] if rng.random() < 0.7 else ():
            if "closed" in contact:
                contact["closed"] = rng.choice([["P", "N"], ["R"], ["P"]])
        candidate = look_alike(rng, original)
        wires = {pin: name if rng.random() < 0.9 else None for pin, name in names.items() if rng.random() < 0.8}
        wires = wires or dict(list(names.items())[:1])
        found = ask(original, candidate, wires)
        if found.kind not in GOES_ON:
            refused += any(one.check == "safety" for one in found.reasons)
            continue
        went += 1
        place = {wire: found.moves.get(wire, wire) for wire in wires}
        for position in POSITIONS:
            joins, resistors = network(candidate, position)
            graph = nx.Graph([*joins, *((a, b) for a, b, _, _ in resistors)])
            graph.add_nodes_from([*CAVITIES, CASE])
            for wire, pin in place.items():
                called = {wires[wire], original["pins"].get(wire), candidate["pins"].get(pin)}
                if any(name in GUARDED and position not in GUARDED[name] for name in called):
                    there = (nx.node_connected_component(graph, pin) - {pin}) & {*place.values(), CASE}
                    assert not there, (chunk, number, wire, position, there)
    assert went and refused


PINS = {"1": "start_feed", "2": "start_out", "7": "ground"}
START = {"pins": ["1", "2"], "closed": ["P", "N"]}
EARTH = {"pins": ["7", CASE], "closed": ["P", "R", "N", "D"]}


@pytest.mark.parametrize("out", ["start_out", "park_neutral"])
@pytest.mark.parametrize("other", [*OTHERS, CASE])
@pytest.mark.parametrize("who", ["wire", "original", "candidate"])
def test_whatever_it_touches_and_whoever_says_what_it_is(out: str, other: str, who: str) -> None:
    """The original has the same fault; the candidate is refused by safety alone."""
    end = CASE if other == CASE else "1"
    pins = {"1": "display" if other == CASE else other, "2": "display"}
    contacts = [{"pins": [end, "2"], "ohms": {"P": 0, "R": "open", "N": 0, "D": 4700}}]
    if end == CASE:
        contacts.append({"pins": ["1", "7"], "closed": []})
    named = {**pins, "2": out}
    original = part("A", pins=named if who == "original" else pins, contacts=contacts)
    candidate = part("B", pins=named if who == "candidate" else pins, contacts=contacts)
    found = ask(original, candidate, named if who == "wire" else pins)
    assert found.kind is VerdictKind.NO and {one.check for one in found.reasons} == {"safety"}


def test_a_way_over_pins_without_a_wire_counts() -> None:
    pins = {**PINS, "8": "display"}
    over = [START, EARTH, {"pins": ["2", "8"], "closed": ["D"]}, {"pins": ["8", "7"], "closed": ["D"]}]
    one = part("A", pins=pins, contacts=over)
    assert ask(one, {**one, "number": "B"}, PINS).kind is VerdictKind.NO
    # Joined to a pin that has no wire and leads nowhere: nothing is touched.
    dead = part("A", pins=pins, contacts=over[:3])
    # The linter takes every pin for one with a wire, so what is stated of the part is in doubt.
    found = ask(dead, {**dead, "number": "B"}, PINS)
    assert found.kind is VerdictKind.UNKNOWN and {one.code for one in found.reasons} == {"safety.facts_contradict"}


def test_a_contact_that_is_not_stated_is_not_known() -> None:
    one = part("A", pins=PINS, contacts=[START, EARTH, {"pins": ["2", "7"]}])
    assert ask(one, {**one, "number": "B"}, PINS).kind is VerdictKind.UNKNOWN


@pytest.mark.parametrize(("in_gear", "kind"), [(12, VerdictKind.NO), (6, VerdictKind.UNKNOWN), (0, VerdictKind.STRAIGHT)])
def test_electronics_that_drive_an_output(in_gear: float, kind: VerdictKind) -> None:
    pins = {"1": "supply", "2": "start_out", "7": "signal_ground"}
    values = {"P": 12, "R": 0, "N": 12, "D": in_gear}
    signal = {"pin": "2", "supply": "1", "ground": "7", "kind": "volts", "values": values, "tolerance": 0.2}
    one = part("A", pins=pins, contacts=[], signals=[signal])
    found = ask(one, {**one, "number": "B"}, pins)
    safety = [one for one in found.checked if one.check == "safety" and one.code != "safety.facts_contradict"]
    assert [str(one.outcome) for one in safety] == {"no": ["against"], "unknown": ["missing"]}.get(kind, []), (found, kind)


def test_a_wire_that_nobody_names() -> None:
    one = part("A", connector="c", contacts=[{"pins": ["1", "2"], "closed": ["P", "R", "N", "D"]}])
    other = {**one, "number": "B"}
    assert ask(one, one, ["1", "2"]).kind is VerdictKind.STRAIGHT, "it came with the car"
    assert ask(one, other, ["1", "2"]).kind is VerdictKind.UNKNOWN
    assert ask(one, {**other, "pins": {"1": "display", "2": "ground"}}, ["1", "2"]).kind is not VerdictKind.NO
    assert ask(one, other, {"1": "display", "2": "ground"}).kind is VerdictKind.STRAIGHT


@pytest.mark.parametrize("lever", [["P", "N", "D"], ["P", "R", "N"], ["R", "N", "D"], ["P", "R", "D"], ["P", "N"]])
def test_a_lever_that_cannot_be_the_vehicle_s(lever: list[str]) -> None:
    one = part("A", pins=PINS, contacts=[START, EARTH])
    other = {**one, "number": "B"}
    assert ask(one, other, PINS).kind is VerdictKind.STRAIGHT
    assert {ask(one, each, PINS, {"lever": lever}).kind for each in (one, other)} == {VerdictKind.UNKNOWN}
    bad = {**other, "contacts": [{"pins": ["1", "2"], "closed": ["P", "R", "N"]}, EARTH]}
    assert ask(one, bad, PINS, {"lever": lever}).kind is VerdictKind.NO


def test_a_position_that_the_lever_is_said_to_lack() -> None:
    contacts = [{"pins": ["1", "2"], "closed": ["P", "N", "2"]}, EARTH]
    one = part("A", pins=PINS, contacts=contacts)
    found = ask(one, {**one, "number": "B"}, PINS, {"lever": ["P", "R", "N", "D"]}, positions=["P", "R", "N", "D", "2"])
    assert found.kind is VerdictKind.NO and {each.check for each in found.reasons} == {"safety"}


OWN = {"role": "output", "name": "brake lock", "safety": True}


@pytest.mark.parametrize(
    ("joined_in", "kind"),
    [
        (["P"], VerdictKind.STRAIGHT),
        ("any", VerdictKind.STRAIGHT),
        (["N"], VerdictKind.NO),
        ([], VerdictKind.NO),
        (None, VerdictKind.UNKNOWN),
    ],
)
def test_a_circuit_of_a_book_s_own(joined_in: Any, kind: VerdictKind) -> None:
    shipped = load_schemas().files
    own = {**OWN, **({} if joined_in is None else {"joined_in": joined_in})}
    circuits = Schemas({**shipped, "circuits": {"circuits": {**shipped["circuits"]["circuits"], "brake_lock": own}}}).circuits
    pins = {**PINS, "3": "brake_lock"}
    one = part("A", pins=pins, contacts=[START, EARTH, {"pins": ["3", "7"], "closed": ["P"]}])
    facts = {"plugs": {"p": plug(pins)}, "applications": [application("p", "A")]}
    made = replace(book(connector("c", 8), family("f", [one, {**one, "number": "B"}], **facts)), circuits=circuits)
    (seat,) = find_seats(made)
    assert Fitter(made).verdict(seat, made.by_number["B"]).kind is kind


def test_a_book_s_own_list_cannot_make_the_guard_wider() -> None:
    shipped = load_schemas().files
    for own in ({"safety": False}, {"safety": True, "joined_in": "any"}, {"safety": True, "joined_in": ["P", "N", "R"]}, {"safety": True}):
        listed = {"start_out": {"role": "output", "name": "start", **own}}
        assert Schemas({**shipped, "circuits": {"circuits": listed}}).circuits["start_out"].joined_in == {"P", "N"}
    narrower = {"start_out": {"role": "output", "name": "start", "safety": True, "joined_in": ["P"]}}
    assert Schemas({**shipped, "circuits": {"circuits": narrower}}).circuits["start_out"].joined_in == {"P"}
