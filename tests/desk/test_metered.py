"""What was measured, as contacts: what is written down reads as the switch in the hand did, and claims nothing that was not read."""

from __future__ import annotations

import random
from dataclasses import replace
from math import inf
from pathlib import Path
from typing import Any

import pytest
from tests.making import book, connector, family, part
from tests.site.node import evaluate, needs_node

from rangebook.book.load import load
from rangebook.book.model import Contact, Part
from rangebook.desk.metered import stated, told_by
from rangebook.desk.proof_sheets import bench_pins, sheets
from rangebook.desk.prove import reading_rules
from rangebook.electrics.bundles import contact_ohms
from rangebook.fitting.fitter import Fitter

ROOT = Path(__file__).resolve().parents[2]
LEVER = ["P", "R", "N", "D"]
MODULES = {"records": "records/measured.js"}


def made(contacts: list[dict[str, Any]]) -> Part:
    pins = {str(one): f"code_{one}" for one in range(1, 7)}
    return book(connector("c", 6), family("f", [part("A-1", pins=pins, contacts=contacts)])).parts[0]


def test_a_line_tells_of_the_contacts_in_series_on_the_only_way() -> None:
    joined = {"closed": LEVER}
    one = made(
        [
            {"pins": ["1", "2"], **joined},
            {"pins": ["2", "3"], **joined},
            # A ring: no contact in it is read by itself.
            *({"pins": pair, **joined} for pair in (["4", "5"], ["5", "6"], ["6", "4"])),
        ]
    )
    lines = [("1", "2"), ("1", "3"), ("4", "5"), ("1", "4"), ("1", "7")]
    assert told_by(one, one, bench_pins(one), lines) == [(0, (0,)), (1, (0, 1))]


def test_what_else_is_joined_there_and_diodes_tell_of_nothing() -> None:
    one = made([{"pins": ["1", "2"], "closed": ["P"]}, {"pins": ["3", "4"], "closed": ["P"], "one_way": "yes"}])
    assert one.contacts is not None
    beside = replace(one.contacts[0], path=("parts", 9, "contacts", 0))
    here = replace(one, contacts=(*one.contacts, beside))
    lines = [("1", "2"), ("3", "4")]
    assert told_by(one, one, bench_pins(one), lines) == [(0, (0,))]
    assert told_by(one, here, bench_pins(one), lines) == []


def test_what_is_stated_of_each_contact() -> None:
    one = made(
        [
            {"pins": ["1", "2"], "closed": ["P"], "overlaps": ["R"]},
            {"pins": ["3", "case"], "ohms": {"P": 4300, "N": "open"}},
            {"pins": ["4", "5"]},
        ]
    )
    assert stated(one, LEVER) == [
        {"pins": ["1", "2"], "closed": ["P"], "overlaps": ["R"], "states": [0, 0, "open", "open"]},
        {"pins": ["3", "case"], "ohms": [["P", 4300], ["N", "open"]], "states": [4300, None, "open", None]},
        {"pins": ["4", "5"], "states": [None, None, None, None]},
    ]


def measured(contacts: list[dict[str, Any]], readings: list[dict[str, Any]], positions: list[str] = LEVER) -> Any:
    given = [contacts, positions, readings, reading_rules()]
    infinite = "given[2].map((one) => ({ ...one, ohms: one.ohms ?? Infinity }))"
    return evaluate(MODULES, f"records.measured(given[0], given[1], {infinite}, given[3])", given)


SWITCH = {"pins": ["1", "2"], "closed": ["P", "N"], "rated_a": 8, "states": [0, "open", 0, "open"]}
LADDER = {"pins": ["3", "4"], "ohms": [["P", 4300], ["R", 2000]], "tolerance_percent": 5, "states": [4300, 2000, None, None]}


def read(way: list[int], *ohms: float | None, fits: bool = True) -> list[dict[str, Any]]:
    return [{"way": way, "at": at, "ohms": None if one == inf else one, "fits": fits} for at, one in enumerate(ohms)]


@needs_node
@pytest.mark.parametrize(
    ("contacts", "readings", "expected"),
    [
        # As stated: nothing of it is taken for another figure. What was not stated is what was read.
        ([SWITCH], read([0], 0.3, inf, 0.2, inf), ([SWITCH], [], [])),
        ([LADDER], read([0], 4280, 1990, 996, inf), ([{**LADDER, "ohms": [["P", 4300], ["R", 2000], ["N", 996], ["D", "open"]]}], [], [])),
        (
            [{"pins": ["1", "2"], "states": [None] * 4}],
            read([0], 0.3, inf, 0.2, inf),
            ([{"pins": ["1", "2"], "closed": ["P", "N"]}], [], []),
        ),
        # Not each position was read: the others stay not known.
        (
            [{"pins": ["1", "2"], "states": [None] * 4}],
            read([0], 0.3, inf),
            ([{"pins": ["1", "2"], "ohms": [["P", 0], ["R", "open"]]}], [], []),
        ),
        # Otherwise than stated, in one position.
        ([SWITCH], read([0], 0.3, 0.2, fits=False), ([{**SWITCH, "closed": ["P", "R", "N"]}], [[["1", "2"], ["R"]]], [])),
        # Two in series: which of them is open nobody can tell, until the other is read by itself.
        ([SWITCH, {**SWITCH, "pins": ["2", "5"]}], read([0, 1], inf, fits=False) + read([0], 0.2)[:0], None),
        (
            [SWITCH, {**SWITCH, "pins": ["2", "5"]}],
            [*read([0, 1], inf, fits=False), *read([0], 0.2)],
            ([SWITCH, {**SWITCH, "pins": ["2", "5"], "closed": ["N"]}], [[["2", "5"], ["P"]]], []),
        ),
        (
            [SWITCH, {**SWITCH, "pins": ["2", "5"]}, LADDER],
            [*read([0, 1], inf, fits=False), *read([2], 4310)],
            ([SWITCH, {**SWITCH, "pins": ["2", "5"]}, LADDER], [], [0]),
        ),
    ],
)
def test_readings_as_contacts(contacts: list[dict[str, Any]], readings: list[dict[str, Any]], expected: Any) -> None:
    found = measured(contacts, readings)
    if expected is None:
        assert found is None
        return
    bare = [{key: value for key, value in one.items() if key != "states"} for one in expected[0]]
    assert (found["contacts"], found["differs"], found["unsettled"]) == (bare, expected[1], expected[2])


def _worn(drawn: random.Random, one: Contact, positions: tuple[str, ...]) -> list[float]:
    """What a contact does in a switch in the hand: as stated, or in one position otherwise."""
    states = [ohms if (ohms := contact_ohms(one, at)) is not None else drawn.choice([0.0, inf]) for at in positions]
    if drawn.random() < 0.3:
        at = drawn.randrange(len(states))
        states[at] = drawn.choice([0.0, inf, 777.0])
    return states


@needs_node
def test_what_is_written_reads_as_the_switch_in_the_hand_did() -> None:
    """Over the demo book's parts on the bench: each contact that stands alone on a line comes out as it is in the hand, and one of which no
    reading tells as it was stated. The switch in the hand is reckoned here: contacts in series add up."""
    drawn = random.Random(17)
    fitter = Fitter(load(ROOT).book)
    given, expected = [], []
    for one in [each for each in fitter.book.parts if each.contacts][::3]:
        positions = fitter.book.family_of(one).positions
        (sheet, *_) = sheets(fitter, one)
        told = told_by(one, one, bench_pins(one), [(line.a, line.b) for line in sheet.proof.lines])
        hand = [_worn(drawn, contact, positions) for contact in one.contacts or ()]
        said = stated(one, positions)
        readings = []
        for _, way in told:
            for at in range(len(positions)):
                ohms, was = sum(hand[place][at] for place in way), [said[place]["states"][at] for place in way]
                good = None not in was and sum(inf if state == "open" else state for state in was) == ohms
                readings.append({"way": list(way), "at": at, "ohms": None if ohms == inf else ohms, "fits": good})
        given.append([said, list(positions), readings, reading_rules()])
        expected.append((said, hand, [way for _, way in told], positions))
    infinite = "one[2].map((each) => ({ ...each, ohms: each.ohms ?? Infinity }))"
    found = evaluate(MODULES, f"given.map((one) => records.measured(one[0], one[1], {infinite}, one[3]))", given)
    seen = 0
    for result, (said, hand, ways, positions) in zip(found, expected, strict=True):
        for place, contact in enumerate(said):
            if not any(place in way for way in ways):
                assert result["contacts"][place] == {key: value for key, value in contact.items() if key != "states"}
            elif [place] in [list(way) for way in ways]:
                seen += 1
                assert _states(result["contacts"][place], positions) == hand[place], (contact, hand[place])
    assert seen > 80


def _states(contact: dict[str, Any], positions: tuple[str, ...]) -> list[float]:
    """What a contact of an entry does in each position."""
    if "closed" in contact:
        return [0.0 if at in contact["closed"] or at in contact.get("overlaps", ()) else inf for at in positions]
    ohms = dict(contact["ohms"])
    return [inf if ohms[at] == "open" else float(ohms[at]) for at in positions]
