"""Powered outputs: supplies against what the vehicle gives, output stages, outputs that go with their supply, serial data."""

from __future__ import annotations

import random
from typing import Any

import pytest

from rangebook.fitting.judge import judge
from rangebook.fitting.verdict import RANK, Verdict, VerdictKind
from tests.making import application, connector, family, part, plug, seat_and_parts

STRAIGHT, NO, UNKNOWN = VerdictKind.STRAIGHT, VerdictKind.NO, VerdictKind.UNKNOWN
WIRED = {"5": "range_signal", "7": "supply", "8": "signal_ground"}
VOLTS = {"pin": "5", "supply": "7", "ground": "8", "kind": "volts", "values": {"P": 1, "R": 2, "N": 3, "D": 4}, "tolerance": 0.1}
SERIAL = {"pin": "5", "supply": "7", "ground": "8", "kind": "serial"}


def ask(one: dict[str, Any], other: dict[str, Any], given: Any = None) -> Verdict:
    """Two parts with one output each on a plug whose supply is said to give so many volts."""
    wires = plug(WIRED)
    if given is not None:
        wires["wires"]["7"]["gives_volts"] = given
    listed = [part(number, pins=WIRED, contacts=[], signals=[signal]) for number, signal in (("A", one), ("B", other))]
    facts = {"plugs": {"p": wires}, "applications": [application("p", "A")]}
    made, seat, parts = seat_and_parts(connector("c", 8), family("f", listed, **facts))
    return judge(made, seat, parts["B"])


def volts(**more: Any) -> dict[str, Any]:
    return {**VOLTS, **more}


def serial(**more: Any) -> dict[str, Any]:
    return {**SERIAL, **more}


WIDE, NARROW, LOW = {"min": 8, "max": 18}, [10, 14], [4.5, 5.5]


@pytest.mark.parametrize(
    ("given", "original", "candidate", "kind"),
    [
        # against what the vehicle gives
        ([11, 15], WIDE, WIDE, STRAIGHT),
        ([11, 15], WIDE, NARROW, NO),
        ([11, 13.5], WIDE, NARROW, STRAIGHT),
        (12, WIDE, LOW, NO),
        (12, WIDE, 12, STRAIGHT),
        (12, WIDE, 5, NO),
        (12, None, WIDE, STRAIGHT),
        (12, WIDE, None, UNKNOWN),
        (12, None, None, UNKNOWN),
        # what the vehicle gives is not stated: it is something that the original works with
        (None, NARROW, WIDE, STRAIGHT),
        (None, WIDE, NARROW, UNKNOWN),
        (None, WIDE, LOW, NO),
        (None, 5, LOW, STRAIGHT),
        (None, WIDE, 12, UNKNOWN),
        (None, 12, WIDE, STRAIGHT),
        (None, WIDE, None, UNKNOWN),
        (None, None, WIDE, UNKNOWN),
        (None, None, None, STRAIGHT),
    ],
)
def test_the_supply(given: Any, original: Any, candidate: Any, kind: VerdictKind) -> None:
    one, other = (volts() if value is None else volts(supply_volts=value) for value in (original, candidate))
    assert ask(one, other, given).kind is kind


def test_the_vehicle_s_own_part_on_a_supply_that_it_is_not_made_for_is_a_contradiction() -> None:
    found = ask(volts(supply_volts=5), volts(supply_volts=WIDE), 12)
    assert found.kind is UNKNOWN and "safety.facts_contradict" in {reason.code for reason in found.reasons}


def test_what_is_asked_for_is_measured_at_the_plug() -> None:
    (reason,) = ask(volts(supply_volts=WIDE), volts(supply_volts=NARROW)).reasons
    assert (reason.code, reason.subject.side, reason.subject.names) == ("behaviour.supply_volts_not_stated", "plug", ("7",))


@pytest.mark.parametrize("seed", range(200))
def test_it_goes_on_where_it_works_with_all_that_the_vehicle_may_give(seed: int) -> None:
    """By trying: the candidate works with each voltage that the vehicle gives, where that is stated, else with each that the original
    works with."""
    rng = random.Random(seed)

    def some() -> Any:
        low = rng.randint(3, 20)
        return rng.choice([low, [low, low + rng.randint(0, 12)]])

    def works(made_for: Any, at: float) -> bool:
        low, high = made_for if isinstance(made_for, list) else (made_for * 0.9, made_for * 1.1)
        return low - 1e-6 <= at <= high + 1e-6

    original, candidate, given = some(), some(), some() if rng.random() < 0.5 else None
    steps = [at / 20 for at in range(20, 800)]
    # Single voltages are nominal: against each other they are the same within the tolerance of either.
    if given is None and not isinstance(original, list) and not isinstance(candidate, list):
        expected = STRAIGHT if abs(original - candidate) <= max(original, candidate) * 0.1 + 1e-9 else NO
    else:
        if given is None:
            may = [at for at in steps if works(original, at)]
        else:
            least, most = given if isinstance(given, list) else (given, given)
            may = [at for at in steps if least <= at <= most]
        if given is not None and not all(works(original, at) for at in may):
            return  # the book contradicts itself
        good = [at for at in may if works(candidate, at)]
        expected = STRAIGHT if len(good) == len(may) else NO if given is not None or not good else UNKNOWN
    assert ask(volts(supply_volts=original), volts(supply_volts=candidate), given).kind is expected, (original, candidate, given)


@pytest.mark.parametrize(("one", "other"), [("push_pull", "open_low"), ("open_low", "open_high"), ("open_high", "push_pull")])
def test_the_output_stage(one: str, other: str) -> None:
    assert ask(volts(output=one), volts(output=one)).kind is STRAIGHT
    assert ask(volts(output=one), volts(output=other)).kind is NO
    assert ask(volts(output=one), volts()).kind is UNKNOWN
    assert ask(volts(), volts(output=one)).kind is UNKNOWN


def test_an_output_that_goes_with_its_supply() -> None:
    at_five = volts(ratiometric=True, supply_volts=5)
    assert ask(at_five, at_five).kind is STRAIGHT
    assert ask(at_five, volts(ratiometric=False, supply_volts=5)).kind is NO
    assert ask(at_five, volts(supply_volts=5)).kind is UNKNOWN
    # Looked at with 4.8 V it gives 4.8/5 of what it gives at 5 V.
    shared = {at: value * 0.96 for at, value in VOLTS["values"].items()}
    assert ask(at_five, volts(ratiometric=True, supply_volts=4.8, values=shared)).kind is STRAIGHT
    assert ask(at_five, volts(ratiometric=True, supply_volts=4.8)).kind is NO
    assert ask(volts(supply_volts=5), volts(supply_volts=4.8, values=shared)).kind is NO


HOUSE = {"protocol": "house wire", "supply_volts": WIDE}


@pytest.mark.parametrize(
    ("one", "other", "kind"),
    [
        (HOUSE, HOUSE, STRAIGHT),
        (HOUSE, {**HOUSE, "protocol": "House-Wire"}, STRAIGHT),
        (HOUSE, {**HOUSE, "protocol": "house wire 2"}, NO),
        (HOUSE, {**HOUSE, "supply_volts": LOW}, NO),
        (HOUSE, {"protocol": "house wire"}, UNKNOWN),
        (HOUSE, {"supply_volts": WIDE}, UNKNOWN),
        ({"supply_volts": WIDE}, {"supply_volts": WIDE}, UNKNOWN),
        ({"protocol": "house wire"}, {"protocol": "house wire"}, UNKNOWN),
        ({}, {}, UNKNOWN),
        ({**HOUSE, "values": {"P": 1, "R": 2, "N": 3, "D": 4}}, HOUSE, UNKNOWN),
        ({**HOUSE, "values": {"P": 1, "R": 2, "N": 3, "D": 4}}, {**HOUSE, "values": {"P": 2, "R": 1, "N": 3, "D": 4}}, NO),
    ],
)
def test_serial_data(one: dict[str, Any], other: dict[str, Any], kind: VerdictKind) -> None:
    assert ask(serial(**one), serial(**other)).kind is kind


def test_serial_data_in_the_place_of_a_voltage() -> None:
    assert ask(volts(), serial(**HOUSE)).kind is NO
    assert ask(serial(**HOUSE), volts()).kind is NO


def test_serial_data_on_the_starter_s_output_are_not_known_to_be_safe() -> None:
    pins = {**WIRED, "5": "start_out"}
    listed = [part(number, pins=pins, contacts=[], signals=[serial(**HOUSE)]) for number in "AB"]
    facts = {"plugs": {"p": plug(pins)}, "applications": [application("p", "A")]}
    made, seat, parts = seat_and_parts(connector("c", 8), family("f", listed, **facts))
    found = judge(made, seat, parts["B"])
    assert found.kind is UNKNOWN and "safety.driven_not_known" in {reason.code for reason in found.reasons}


@pytest.mark.parametrize("seed", range(60))
def test_a_fact_left_out_never_makes_it_better_than_it_is(seed: int) -> None:
    """What goes on with a fact left out of the candidate goes on with the fact; but where neither part states it nobody asks."""
    rng = random.Random(seed)
    facts = {
        "supply_volts": [WIDE, NARROW, 12, 5],
        "output": ["push_pull", "open_low"],
        "ratiometric": [True, False],
        "pull_up_ohms": [1000, 4700],
        "polarity": ["high", "low"],
    }
    one = volts(**{key: rng.choice(values) for key, values in facts.items()})
    other = volts(**{key: one[key] if rng.random() < 0.8 else rng.choice(values) for key, values in facts.items()})
    whole = ask(one, other)
    for key in facts:
        lacking = ask(one, {name: value for name, value in other.items() if name != key})
        assert lacking.kind in (UNKNOWN, NO)
        assert RANK[lacking.kind] >= RANK[whole.kind] or whole.kind is NO
