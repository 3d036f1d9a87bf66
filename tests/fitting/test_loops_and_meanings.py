"""Jumpers in a plug, contacts that overlap, what positions mean, and where the engine cranks.

The safety laws are those of 49 CFR 571.102 S3.1.3 and 571.108 Table I-a; the books are invented.
"""

from __future__ import annotations

import copy
import random
from typing import Any

import pytest

from rangebook.electrics.safety import hazards
from rangebook.fitting.cranking import said_of
from rangebook.fitting.fitter import Fitter
from rangebook.fitting.on_lever import with_loops
from rangebook.fitting.verdict import Verdict, VerdictKind
from rangebook.reasons.reason import Check, Outcome
from tests.fitting import worlds
from tests.making import application, book, connector, family, mount_for, part, plug

PINS = {"1": "start_feed", "2": "start_out", "3": "backup_feed", "4": "backup_out", "5": "range_signal", "6": "range_return"}
IDLE = {**PINS, "5": "not_connected", "6": "not_connected"}
WIRED = {cavity: PINS[cavity] for cavity in "1234"}
START, BACKUP = {"pins": ["1", "2"], "closed": ["P", "N"]}, {"pins": ["3", "4"], "closed": ["R"]}
LADDER = {"pins": ["5", "6"], "ohms": {"P": 4300, "R": 2000, "N": 1100, "D": 620}, "tolerance_percent": 5}
BLADE = {"terminal": {"style": "blade", "width_mm": 2.8, "on_switch": "male"}, "sealed": "yes"}


def switch(number: str, *contacts: dict[str, Any], pins: Any = IDLE, **more: Any) -> dict[str, Any]:
    return part(number, pins=dict(pins), contacts=list(contacts), **more)


def kit(**more: Any) -> dict[str, Any]:
    moves = {str(at): str(at) for at in range(1, 9)}
    facts = {"number": "K-1", "title": "renewal", "from": "c", "to": "d", "moves": moves, "seals": [1, 2, 3, 4, 5, 6, 7, 8], "blanks": 8}
    return {"kind": "kit", "id": "k", **facts, **more}


def verdict(entries: list[dict[str, Any]], number: str, seat: int = 0) -> Verdict:
    made = book(*entries)
    fitter = Fitter(made)
    return fitter.verdict(fitter.seats[seat], made.by_number[number])


def one_family(
    *parts: dict[str, Any], wires: Any = PINS, of: str = "c", app: Any = None, more: Any = None, **facts: Any
) -> list[dict[str, Any]]:
    applied = [application("p", parts[0]["number"], **(app or {}))]
    listed = family("f", parts, plugs={"p": plug(wires, of=of, **facts)}, applications=applied, **(more or {}))
    return [connector("c", 8), connector("d", 8), listed]


def codes(found: Verdict) -> set[str]:
    return {reason.code for reason in found.checked}


# Jumpers ------------------------------------------------------------------------------------------------------------------

THROUGH = [{"pins": ["1", "5"], "closed": ["P", "N"]}, {"pins": ["6", "2"], "closed": ["P", "N"]}, BACKUP]
NEITHER = {**PINS, "5": "neutral_signal", "6": "park_signal"}
"""The start path leads through a jumper between 5 and 6 of the plug."""


def test_a_jumper_is_a_contact_of_the_plug() -> None:
    whole, through = switch("A", START, BACKUP), switch("B", *THROUGH, pins=NEITHER)
    assert verdict(one_family(whole, through, wires=WIRED), "B").kind is not VerdictKind.STRAIGHT
    assert verdict(one_family(whole, through, wires=WIRED, loops=[["5", "6"]]), "B").kind is VerdictKind.STRAIGHT
    assert verdict(one_family(through, whole, wires=WIRED, loops=[["5", "6"]]), "B").kind is VerdictKind.STRAIGHT
    assert verdict(one_family(through, whole, wires=WIRED, loops=[["5", "6"]]), "A").kind is VerdictKind.STRAIGHT


def test_a_jumper_across_the_start_contact_is_told_of_the_original_too() -> None:
    entries = one_family(switch("A", START, BACKUP), switch("B", START, BACKUP), wires=WIRED, loops=[["1", "2"]])
    for number in "AB":
        found = verdict(entries, number)
        assert found.kind is VerdictKind.NO and "safety.path" in codes(found)


def test_a_jumper_makes_the_engine_crank_in_gear_with_this_part_only() -> None:
    """5 is joined to the feed in this one, and in the original nothing is behind it; the jumper ties it to the starter's wire."""
    inside = [START, BACKUP, {"pins": ["1", "5"], "closed": ["P", "R", "N", "D"]}]
    entries = one_family(switch("A", START, BACKUP), switch("B", *inside, pins=NEITHER), wires=WIRED)
    assert verdict(entries, "B").kind is VerdictKind.STRAIGHT
    entries = one_family(switch("A", START, BACKUP), switch("B", *inside, pins=NEITHER), wires=WIRED, loops=[["2", "5"]])
    assert verdict(entries, "A").kind is VerdictKind.STRAIGHT
    assert not verdict(entries, "B").fits
    assert "start-path" not in {one.detail.contradiction for one in verdict(entries, "B").checked if one.code == "safety.facts_contradict"}


def test_a_jumper_joins_two_wires_where_the_part_has_no_pin() -> None:
    pins = {cavity: PINS[cavity] for cavity in "1234"}
    same = switch("A", START, BACKUP, pins=pins), switch("B", START, BACKUP, pins=pins)
    wires = {**WIRED, "5": "ground", "6": "supply"}
    assert verdict(one_family(*same, wires=wires, loops=[["5", "6"]]), "B").kind is VerdictKind.STRAIGHT
    wires = {**WIRED, "5": "start_out", "6": "start_feed"}
    assert verdict(one_family(*same, wires=wires, loops=[["5", "6"]]), "B").kind is VerdictKind.NO


def test_a_jumper_says_nothing_of_what_is_inside_a_pin() -> None:
    """Of pin 5 nothing is stated: a jumper to it makes what is joined to 6 as little known, and never more."""
    unstated = switch("B", START, BACKUP, {"pins": ["6", "case"], "closed": []}, pins=NEITHER)
    stated = switch("A", START, BACKUP, {"pins": ["6", "case"], "closed": []}, {"pins": ["5", "case"], "closed": []}, pins=NEITHER)
    wires = {**WIRED, "6": "ground"}
    assert verdict(one_family(stated, unstated, wires=wires), "B").kind is VerdictKind.STRAIGHT
    assert verdict(one_family(stated, unstated, wires=wires, loops=[["5", "6"]]), "B").kind is VerdictKind.UNKNOWN
    unstated_start = switch("B", {"pins": ["1", "case"], "closed": []}, BACKUP)
    made = book(*one_family(switch("A", START, BACKUP), unstated_start, wires=WIRED, loops=[["1", "2"]]))
    (seat,) = Fitter(made).seats
    inside = with_loops(made.by_number["B"], (("1", "2"),), seat.positions)
    found = hazards(inside, seat.meets, seat.named, seat.positions)
    assert ("2", "1", ("R", "D")) in {(one.out, one.other, one.positions) for one in found if one.sure}, (
        "the jumper joins them all the same"
    )


def test_a_part_of_which_no_contact_is_stated_stays_unknown_with_a_jumper() -> None:
    bare = part("B", pins=dict(PINS))
    assert verdict(one_family(switch("A", START, BACKUP), bare, wires=WIRED, loops=[["5", "6"]]), "B").kind is VerdictKind.UNKNOWN


@pytest.mark.parametrize(("loops", "fits"), [(None, False), ([["5", "6"]], True), ([["7", "8"]], False)])
def test_a_kit_without_the_jumper_loses_it(loops: Any, fits: bool) -> None:
    entries = one_family(
        switch("A", *THROUGH, pins=NEITHER), switch("B", *THROUGH, pins=NEITHER, connector="d"), wires=WIRED, loops=[["5", "6"]]
    )
    found = verdict([*entries, kit(**({"loops": loops} if loops else {}))], "B")
    assert (found.kind is VerdictKind.WITH_PARTS) is fits
    assert fits or "behaviour.moves_uncertain" in codes(found), "it might do with the starter's wire in the place of the jumper's end"


def test_an_adapter_lead_leaves_the_jumper_where_it_is() -> None:
    entries = one_family(
        switch("A", *THROUGH, pins=NEITHER), switch("B", *THROUGH, pins=NEITHER, connector="d"), wires=WIRED, loops=[["5", "6"]]
    )
    assert verdict([*entries, kit(joins="plug_in")], "B").kind is VerdictKind.WITH_PARTS
    assert verdict([*entries, kit(joins="cut")], "B").kind is not VerdictKind.WITH_PARTS


def test_a_kit_with_a_jumper_across_the_start_contact_is_refused() -> None:
    entries = one_family(switch("A", START, BACKUP), switch("B", START, BACKUP, connector="d"), wires=WIRED)
    assert verdict([*entries, kit()], "B").kind is VerdictKind.WITH_PARTS
    found = verdict([*entries, kit(loops=[["1", "2"]])], "B")
    assert found.kind is VerdictKind.NO and "safety.path" in codes(found)


def test_jumpers_go_by_the_map_of_a_mate() -> None:
    """A plug of c on a housing of d, on which 5 and 6 meet 7 and 8."""
    places = {str(at): str(at) for at in range(1, 5)} | {"5": "7", "6": "8"}
    housing = connector("d", 8, mates=[{"connector": "c", "cavities": places}], **BLADE)
    pins = {**WIRED, "7": "range_signal", "8": "range_return"}
    moved = [{"pins": ["1", "7"], "closed": ["P", "N"]}, {"pins": ["8", "2"], "closed": ["P", "N"]}, BACKUP]
    entries = one_family(
        switch("A", *THROUGH, pins=NEITHER), switch("B", *moved, pins=pins, connector="d"), wires=WIRED, loops=[["5", "6"]]
    )
    entries[0:2] = [connector("c", 8, **BLADE), housing]
    assert verdict(entries, "B").kind is VerdictKind.STRAIGHT
    del places["6"]
    entries[1] = connector("d", 8, mates=[{"connector": "c", "cavities": places}], **BLADE)
    assert verdict(entries, "B").kind is not VerdictKind.STRAIGHT


def test_a_jumper_in_a_cavity_that_is_not_there_settles_nothing() -> None:
    found = verdict(one_family(switch("A", START, BACKUP), switch("B", START, BACKUP), wires=WIRED, loops=[["5", "9"]]), "B")
    assert found.kind is VerdictKind.UNKNOWN and "safety.facts_contradict" in codes(found)


def test_a_renewed_plug_has_the_kit_s_jumpers() -> None:
    """What came off has the kit's plug on it: the next one is looked at with that plug."""
    entries = one_family(
        switch("A", *THROUGH, pins=NEITHER),
        switch("B", *THROUGH, pins=NEITHER, connector="d"),
        switch("C", START, BACKUP, connector="d"),
        wires=WIRED,
        loops=[["5", "6"]],
    )
    made = book(*entries, kit(loops=[["5", "6"]]))
    fitter = Fitter(made)
    ((now, _),) = [(seat, how) for seat, how in fitter.seats_taken_by(made.by_number["B"]) if seat.renewal]
    assert fitter.verdict(now, made.by_number["B"]).kind is VerdictKind.STRAIGHT
    assert fitter.verdict(now, made.by_number["C"]).kind is VerdictKind.STRAIGHT


def test_wires_find_their_way_past_a_jumper() -> None:
    """The start contact sits between 5 and 6 in this one: its wires move, and the jumper of the plug that lies there speaks against it."""
    pins = {**{cavity: PINS[cavity] for cavity in "34"}, "1": "not_connected", "2": "not_connected", "5": "start_feed", "6": "start_out"}
    other = switch("B", {"pins": ["5", "6"], "closed": ["P", "N"]}, BACKUP, pins=pins)
    idle = switch("A", START, BACKUP)
    assert verdict(one_family(idle, other, wires=WIRED), "B").kind is VerdictKind.REWIRE
    assert verdict(one_family(idle, other, wires=WIRED, loops=[["5", "6"]]), "B").kind is VerdictKind.NO


# Overlaps -----------------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("into", [["R"], ["D"], ["R", "D"]])
def test_a_start_contact_that_overlaps_into_gear_is_unsafe(into: list[str]) -> None:
    wide = {**START, "overlaps": into}
    found = verdict(one_family(switch("A", START, BACKUP), switch("B", wide, BACKUP), wires=WIRED), "B")
    assert found.kind is VerdictKind.NO and "safety.path" in codes(found)
    own = verdict(one_family(switch("A", wide, BACKUP), switch("B", wide, BACKUP), wires=WIRED), "A")
    assert own.kind is VerdictKind.NO and "safety.path" in codes(own)


def test_a_backup_contact_that_overlaps_into_neutral_is_unsafe() -> None:
    found = verdict(one_family(switch("A", START, BACKUP), switch("B", START, {**BACKUP, "overlaps": ["N"]}), wires=WIRED), "B")
    assert found.kind is VerdictKind.NO and "safety.path" in codes(found)


def test_an_overlap_is_judged_in_both() -> None:
    pins, wires = {**PINS, "5": "drive_signal", "6": "ground"}, {**WIRED, "5": "drive_signal", "6": "ground"}
    sharp, wide, closed = (
        {"pins": ["5", "6"], "closed": ["P", "R"]},
        {"pins": ["5", "6"], "closed": ["P", "R"], "overlaps": ["N"]},
        {"pins": ["5", "6"], "closed": ["P", "R", "N"]},
    )
    for one in (sharp, wide, closed):
        for other in (sharp, wide, closed):
            found = verdict(one_family(*(switch(n, START, BACKUP, x, pins=pins) for n, x in (("A", one), ("B", other))), wires=wires), "B")
            assert found.kind is (VerdictKind.STRAIGHT if one is other else VerdictKind.NO)


@pytest.mark.parametrize("into", [["P"], ["R"], ["D"]])
def test_an_overlap_that_is_not_next_to_it_settles_nothing(into: list[str]) -> None:
    pins, wires = {**PINS, "5": "drive_signal", "6": "ground"}, {**WIRED, "5": "drive_signal", "6": "ground"}
    odd = {"pins": ["5", "6"], "closed": ["P", "R"], "overlaps": into}
    found = verdict(one_family(*(switch(n, START, BACKUP, odd, pins=pins) for n in "AB"), wires=wires), "B")
    assert found.kind is VerdictKind.UNKNOWN and "safety.facts_contradict" in codes(found)


# What positions mean ------------------------------------------------------------------------------------------------------


def two_families(
    lever: list[str], means: Any, other: list[str], other_means: Any, *, closed: Any = None, other_closed: Any = None, **facts: Any
) -> list[dict[str, Any]]:
    """Two families of one make, whose lever positions go by other names; each with a start, a backup and a `drive_signal` contact."""

    def made(number: str, at: list[str], said: Any) -> dict[str, Any]:
        start, backup, code = said
        return switch(
            number,
            {"pins": ["1", "2"], "closed": start},
            {"pins": ["3", "4"], "closed": backup},
            {"pins": ["5", "6"], "closed": code},
            pins={**PINS, "5": "drive_signal", "6": "ground"},
        )

    first = family(
        "f",
        [made("A", lever, closed)],
        positions=lever,
        plugs={"p": plug({**WIRED, "5": "drive_signal", "6": "ground"}, **facts)},
        applications=[application("p", "A")],
        **({"means": means} if means else {}),
    )
    second = family("g", [made("B", other, other_closed)], positions=other, **({"means": other_means} if other_means else {}))
    return [connector("c", 8), first, second]


PLAIN = (["P", "N"], ["R"], ["1"])
FIRST = ["P", "R", "N", "D", "1"]
LOW = ["P", "R", "N", "D", "L"]


def test_names_that_mean_one_thing_agree_either_way() -> None:
    low = (["P", "N"], ["R"], ["L"])
    entries = two_families(LOW, {"L": "1"}, FIRST, None, closed=low, other_closed=PLAIN)
    assert verdict(entries, "B").kind is VerdictKind.STRAIGHT
    entries = two_families(FIRST, None, LOW, {"L": "1"}, closed=PLAIN, other_closed=low)
    assert verdict(entries, "B").kind is VerdictKind.STRAIGHT
    entries = two_families(FIRST, {"1": "L"}, LOW, None, closed=PLAIN, other_closed=low)
    assert verdict(entries, "B").kind is VerdictKind.STRAIGHT
    assert verdict(two_families(LOW, None, FIRST, None, closed=low, other_closed=PLAIN), "B").kind is VerdictKind.NO


def test_what_only_one_of_two_says_of_a_name_that_both_have_speaks_against_nothing() -> None:
    low = (["P", "N"], ["R"], ["L"])
    assert verdict(two_families(LOW, {"L": "1"}, LOW, None, closed=low, other_closed=low), "B").kind is VerdictKind.STRAIGHT
    assert verdict(two_families(LOW, {"L": "1"}, LOW, {"L": "2"}, closed=low, other_closed=low), "B").kind is VerdictKind.NO


def test_a_position_that_may_be_one_of_two_is_not_known() -> None:
    both = ["P", "R", "N", "D", "1", "L"]
    low = (["P", "N"], ["R"], ["L"])
    found = verdict(two_families(LOW, {"L": "1"}, both, None, closed=low, other_closed=low), "B")
    assert found.kind in (VerdictKind.UNKNOWN, VerdictKind.NO) and "behaviour.positions_unclear" in codes(found)


TWO_REVERSES = ["P", "R1", "R2", "N", "D"]
MEANS = {"R1": "R", "R2": "R"}


def test_two_reverses_are_guarded_as_reverse() -> None:
    good = (["P", "N"], ["R1", "R2"], ["D"])
    entries = two_families(TWO_REVERSES, MEANS, TWO_REVERSES, MEANS, closed=good, other_closed=good)
    assert verdict(entries, "B").kind is VerdictKind.STRAIGHT and verdict(entries, "A").kind is VerdictKind.STRAIGHT
    unsaid = two_families(TWO_REVERSES, None, TWO_REVERSES, None, closed=good, other_closed=good)
    assert verdict(unsaid, "B").kind is not VerdictKind.STRAIGHT, "a backup lamp in what nobody says is reverse"
    for start in (["P", "R1", "N"], ["P", "N", "R2"], ["P", "N", "D"]):
        entries = two_families(TWO_REVERSES, MEANS, TWO_REVERSES, MEANS, closed=(start, *good[1:]), other_closed=(start, *good[1:]))
        for number in "AB":
            found = verdict(entries, number)
            assert found.kind is VerdictKind.NO and "safety.path" in codes(found)


def test_a_part_with_one_reverse_has_no_second() -> None:
    good, one = (["P", "N"], ["R1", "R2"], ["D"]), (["P", "N"], ["R"], ["D"])
    found = verdict(two_families(TWO_REVERSES, MEANS, ["P", "R", "N", "D"], None, closed=good, other_closed=one), "B")
    assert found.kind is VerdictKind.NO and "behaviour.positions_lacking" in codes(found)


def test_taps_can_be_written() -> None:
    taps = ["P", "R", "N", "D", "M+", "M", "M-"]
    means, closed = {"M+": "M", "M-": "M"}, (["P", "N"], ["R"], ["M+", "M", "M-"])
    assert verdict(two_families(taps, means, taps, means, closed=closed, other_closed=closed), "B").kind is VerdictKind.STRAIGHT
    start = (["P", "N", "M+"], *closed[1:])
    assert verdict(two_families(taps, means, taps, means, closed=start, other_closed=start), "A").kind is VerdictKind.NO


@pytest.mark.parametrize(
    "means", [{"R": "N"}, {"D": "N"}, {"1": "P"}, {"D": "X", "X": "N"}, {"M+": "N"}, {"-": "P"}, {"D3": "N"}, {"2L": "P"}]
)
def test_no_meaning_makes_a_gear_neutral(means: dict[str, str]) -> None:
    start = (["P", "N", *means], ["R"], ["1"])
    lever = list(dict.fromkeys([*FIRST, "X", *means]))
    entries = two_families(lever, means, lever, means, closed=start, other_closed=start)
    for number in "AB":
        found = verdict(entries, number)
        assert found.kind in (VerdictKind.NO, VerdictKind.UNKNOWN) and "safety.path" in codes(found)


def test_a_neutral_by_another_name_is_neutral() -> None:
    lever, means = ["P", "R", "0", "D"], {"0": "N"}
    closed = (["P", "0"], ["R"], ["D"])
    plain = (["P", "N"], ["R"], ["D"])
    mounts = {"mounts": {"boss": mount_for(["P", "R", "N", "D"])}}
    zero = copy.deepcopy(mounts)
    zero["mounts"]["boss"]["hub"]["position"] = "0"
    entries = two_families(lever, means, ["P", "R", "N", "D"], None, closed=closed, other_closed=plain)
    entries[1].update(zero)
    assert verdict(entries, "B").kind is VerdictKind.STRAIGHT and verdict(entries, "A").kind is VerdictKind.STRAIGHT
    entries = two_families(["P", "R", "N", "D"], None, lever, means, closed=plain, other_closed=closed)
    entries[2].update(zero)
    assert verdict(entries, "B").kind is VerdictKind.STRAIGHT
    wrong = (["P", "D"], ["R"], ["D"])
    found = verdict(two_families(["P", "R", "N", "D"], None, lever, means, closed=plain, other_closed=wrong), "B")
    assert found.kind is VerdictKind.NO and "safety.path" in codes(found)


def test_a_position_that_the_lever_has_not_is_guarded_by_what_its_own_family_says() -> None:
    """The part has a second reverse that this lever never reaches: a start contact in it is told all the same."""
    lever, more = ["P", "R", "N", "D"], ["P", "R", "R2", "N", "D"]
    one = (["P", "N"], ["R"], ["D"])
    for reverse, unsafe in ((["R"], False), (["R", "R2"], False)):
        found = verdict(two_families(lever, None, more, {"R2": "R"}, closed=one, other_closed=(["P", "N"], reverse, ["D"])), "B")
        assert ("safety.path" in codes(found)) is unsafe
    found = verdict(two_families(lever, None, more, {"R2": "R"}, closed=one, other_closed=(["P", "N", "R2"], ["R"], ["D"])), "B")
    assert "safety.path" in codes(found)


# Where it cranks ----------------------------------------------------------------------------------------------------------

PARK = {"pins": ["1", "2"], "closed": ["P"]}


def test_park_alone_cranks_where_that_is_said() -> None:
    parts = switch("A", PARK, BACKUP), switch("B", PARK, BACKUP)
    assert verdict(one_family(*parts, wires=WIRED), "B").kind is VerdictKind.UNKNOWN
    assert verdict(one_family(*parts, wires=WIRED, cranks={"in": ["P"]}), "B").kind is VerdictKind.STRAIGHT
    assert verdict(one_family(*parts, wires=WIRED, app={"cranks": {"in": ["P"]}}), "B").kind is VerdictKind.STRAIGHT
    wide = switch("A", PARK, BACKUP), switch("B", START, BACKUP)
    assert verdict(one_family(*wide, wires=WIRED, cranks={"in": ["P"]}), "B").kind is VerdictKind.NO


@pytest.mark.parametrize(("written", "typed"), [("NB-1042", "nb 1042"), ("NB 1042", "NB1042"), ("nb.1042", "NB/1042")])
def test_what_came_with_is_the_same_number_in_any_spelling(written: str, typed: str) -> None:
    """A vehicle that says where it cranks is one of a part's own, however its number is typed there."""
    wide = [switch(written, START, BACKUP), switch("B", START, BACKUP)]
    entries = one_family(*wide, wires=WIRED, cranks={"in": ["P"]})
    entries[-1]["applications"] = [application("p", typed, cranks={"in": ["P", "N"]}), application("p", "B")]
    made = book(*entries).families["f"]
    assert [one and one.positions for one in said_of(made, made.parts[0])] == [("P", "N")]
    assert [one and one.positions for one in said_of(made, made.parts[1])] == [("P",)]


def test_a_design_of_a_number_came_with_the_vehicles_of_that_number() -> None:
    """A revision is a part of the same number: what is asked of it is what its vehicles say."""
    whole = switch("A", START, BACKUP, revisions=[{"when": {"marked": "B"}, "contacts": [PARK, BACKUP]}])
    entries = one_family(whole, wires=WIRED, app={"cranks": {"in": ["P"]}})
    made = book(*entries).families["f"]
    assert [said_of(made, one) for one in made.designs] == [said_of(made, made.parts[0])] * 2


GROUNDED = {"1": "common_feed", "2": "start_out", "3": "backup_feed", "4": "backup_out", "5": "ground", "6": "drive_signal"}
AT_GROUND = [{"pins": ["2", "5"], "closed": ["P", "N"]}, {"pins": ["1", "6"], "closed": ["D"]}, BACKUP]


@pytest.mark.parametrize("end", ["5", "case"])
@pytest.mark.parametrize("words", [{"cranks": {"side": "ground"}}, {"side": "ground"}])
def test_an_interlock_on_the_ground_side_is_joined_to_the_ground(words: dict[str, Any], end: str) -> None:
    """The other end of the coil is fed; the part has a common feed for its signals, and that is not the starter's."""
    bonded = [{"pins": ["5", "case"], "closed": ["P", "R", "N", "D"]}] if end == "case" else []
    inside = [{**AT_GROUND[0], "pins": ["2", end]}, *AT_GROUND[1:], *bonded]
    parts = switch("A", *inside, pins=GROUNDED), switch("B", *inside, pins=GROUNDED)
    entries = one_family(*parts, wires=GROUNDED)
    assert verdict(entries, "B").kind is VerdictKind.UNKNOWN, "nobody says that the ground is switched: the feed's path is not there"
    its = entries[-1]["plugs"]["p"]
    its.update(words) if "cranks" in words else its["wires"]["2"].update(words)
    assert verdict(entries, "B").kind is VerdictKind.STRAIGHT
    its["wires"]["2"]["side"] = "feed"
    assert verdict(entries, "B").kind is VerdictKind.UNKNOWN
    for open_in in (["P", "N", "D"], ["P"]):
        other = [{**inside[0], "closed": open_in}, *inside[1:]]
        its["wires"]["2"]["side"] = "ground"
        entries[-1]["parts"][1]["contacts"] = other
        assert verdict(entries, "B").kind is VerdictKind.NO, "it is guarded on either side"


def test_the_road_check_looks_where_the_vehicle_cranks_and_never_in_gear() -> None:
    for cranks, looked in (
        ({"in": ["P"]}, ("P",)),
        ({"in": ["P", "R"]}, ("P",)),
        ({"by": "module", "in": ["P", "N", "D"], "sources": [{"kind": "service-manual"}]}, ("P", "N")),
        ({"by": "module"}, ("P", "N")),
        (None, ("P", "N")),
    ):
        facts = {"cranks": cranks} if cranks else {}
        made = book(*one_family(switch("A", START, BACKUP), switch("B", START, BACKUP), wires=WIRED, **facts))
        assert [seat.cranks_in for seat in Fitter(made).seats] == [looked]


@pytest.mark.parametrize(
    ("lever", "means", "cranks", "lamps"),
    [
        (["P", "R", "N", "D"], {}, ("P", "N"), ("R",)),
        (["R", "N", "D", "1"], {}, ("N",), ("R",)),
        (["P", "R1", "R2", "0", "D"], {"R1": "R", "R2": "R", "0": "N"}, ("P", "0"), ("R1", "R2")),
    ],
)
def test_the_road_check_goes_by_the_lever_s_own_names(lever: Any, means: Any, cranks: tuple[str, ...], lamps: tuple[str, ...]) -> None:
    """A box without park is not asked for it."""
    entries = one_family(switch("A", START, BACKUP), more={"positions": lever, "means": means, "mounts": {"boss": {}}})
    entries[-1]["parts"][0]["contacts"] = [{"pins": ["1", "2"], "closed": list(cranks)}]
    (seat,) = Fitter(book(*entries)).seats
    assert (seat.cranks_in, seat.reverse) == (cranks, lamps)


SOURCED = [{"kind": "service-manual"}]


@pytest.mark.parametrize(
    ("cranks", "in_gear"),
    [
        ({"in": ["P", "N", "D"]}, "D"),
        ({"by": "switch", "in": ["P", "N", "D"], "sources": SOURCED}, "D"),
        ({"by": "module", "in": ["P", "N", "D"]}, "D"),
        ({"by": "module", "in": ["P", "N", "R"], "sources": SOURCED}, "R"),
        ({"by": "module", "in": ["P", "N"], "sources": SOURCED}, "D"),
        ({"by": "module", "sources": SOURCED}, "D"),
    ],
)
def test_nothing_that_is_said_of_cranking_lets_it_crank_in_gear(cranks: dict[str, Any], in_gear: str) -> None:
    unsafe = {"pins": ["1", "2"], "closed": ["P", "N", in_gear]}
    found = verdict(one_family(switch("A", unsafe, BACKUP), switch("B", unsafe, BACKUP), wires=WIRED, cranks=cranks), "B")
    assert found.kind is VerdictKind.NO and "safety.path" in codes(found)


def test_where_a_module_is_said_to_crank_in_drive_it_is_not_known_and_never_straight() -> None:
    cranks = {"by": "module", "in": ["P", "N", "D"], "sources": SOURCED}
    wide = {"pins": ["1", "2"], "closed": ["P", "N", "D"]}
    for number in "AB":
        found = verdict(one_family(switch("A", wide, BACKUP), switch("B", wide, BACKUP), wires=WIRED, cranks=cranks), number)
        assert found.kind is VerdictKind.UNKNOWN and "safety.module_cranks" in codes(found) and "safety.path" not in codes(found)
    assert (
        verdict(one_family(switch("A", START, BACKUP), switch("B", wide, BACKUP), wires=WIRED, cranks=cranks), "B").kind is VerdictKind.NO
    )
    assert (
        verdict(one_family(switch("A", START, BACKUP), switch("B", START, BACKUP), wires=WIRED, cranks=cranks), "B").kind
        is VerdictKind.STRAIGHT
    )


# Laws ---------------------------------------------------------------------------------------------------------------------


def unsafe(found: Verdict) -> set[tuple[str, str]]:
    """What surely must not be, by terminal and position: more of it is never better."""
    return {
        (getattr(reason.detail, "out_cavity", ""), position)
        for reason in found.checked
        if reason.check is Check.SAFETY and reason.outcome is Outcome.AGAINST
        for position in getattr(reason.detail, "positions", ())
    }


def safety_rank(found: Verdict) -> int:
    outcomes = {reason.outcome for reason in found.checked if reason.check is Check.SAFETY}
    return 2 if Outcome.AGAINST in outcomes else 1 if Outcome.MISSING in outcomes else 0


def drawn(seed: int) -> tuple[random.Random, list[dict[str, Any]]]:
    rng = random.Random(seed)
    true = worlds.world(rng)
    return rng, worlds.book_of(rng, true, rng.choice([0.0, 0.05, 0.15]))


def every(entries: list[dict[str, Any]]) -> dict[tuple[str, str, str], Verdict]:
    made = book(*entries)
    fitter = Fitter(made)
    return {(seat.family.id, seat.original.number, one.number): fitter.verdict(seat, one) for seat in fitter.seats for one in made.parts}


@pytest.mark.parametrize("seed", range(12))
def test_a_jumper_or_an_overlap_more_never_makes_safety_better(seed: int) -> None:
    """Where the wires stay in their places: moved wires meet other pins."""
    rng, entries = drawn(seed)
    before = every(entries)
    more = copy.deepcopy(entries)
    for one in more:
        if one["kind"] == "switch":
            if rng.random() < 0.7:
                one["plugs"]["p"]["loops"] = [rng.sample(worlds.CAVITIES, 2)]
            for node in one["parts"]:
                for contact in node.get("contacts", ()):
                    if "closed" in contact and rng.random() < 0.2:
                        at = one["positions"].index(rng.choice(contact["closed"] or ["N"]))
                        contact["overlaps"] = [one["positions"][min(at + 1, len(one["positions"]) - 1)]]
        if one["kind"] == "kit" and rng.random() < 0.7:
            one["loops"] = [rng.sample(worlds.CAVITIES, 2)]
    compared = 0
    for key, now in every(more).items():
        was = before[key]
        if VerdictKind.REWIRE in (was.kind, now.kind) or was.moves != now.moves:
            continue
        compared += 1
        if was.kind is VerdictKind.NO and unsafe(was):
            assert not now.goes_on, key
        if {reason.check for reason in was.checked} == {reason.check for reason in now.checked}:
            assert unsafe(was) <= unsafe(now), key
            assert safety_rank(was) <= safety_rank(now), key
    assert compared > 20


@pytest.mark.parametrize("seed", range(12))
def test_a_jumper_is_a_contact_of_every_part(seed: int) -> None:
    """The same verdict as in a book whose parts have the jumper inside, closed in every position, where the plug goes on as it is."""
    rng, entries = drawn(seed)
    entries = [one for one in entries if one["kind"] != "kit" and one.get("id") not in ("d", "e")]
    for one in entries:
        if one["kind"] == "switch":
            one["parts"] = [{**node, "connector": "c"} for node in one["parts"] if "pins" in node and "contacts" in node]
            one["plugs"]["p"]["connector"] = "c"
            one["applications"] = [
                each for each in one["applications"] if any(each["came_with"] == node["number"] for node in one["parts"])
            ]
    a, b = rng.sample(worlds.CAVITIES, 2)
    plugs, insides = copy.deepcopy(entries), copy.deepcopy(entries)
    for one in plugs:
        if one["kind"] == "switch":
            one["plugs"]["p"]["loops"] = [[a, b]]
    for one in insides:
        if one["kind"] == "switch":
            for node in one["parts"]:
                for end in (a, b):
                    node["pins"].setdefault(end, "park_signal")
                node["contacts"].append({"pins": [a, b], "closed": list(one["positions"])})
    of_plug, of_part = every(plugs), every(insides)
    assert of_plug
    for key, found in of_plug.items():
        other = of_part[key]
        if "safety.facts_contradict" in codes(other) or "safety.facts_contradict" in codes(found):
            continue
        if VerdictKind.REWIRE in (found.kind, other.kind):
            continue  # a jumper of the plug stays where it is, and one of the part as well; the wires that meet them differ
        assert found.kind is other.kind or other.kind is VerdictKind.UNKNOWN or found.kind is VerdictKind.UNKNOWN, key
        assert (found.kind is VerdictKind.NO and unsafe(found) != set()) == (other.kind is VerdictKind.NO and unsafe(other) != set()) or (
            VerdictKind.UNKNOWN in (found.kind, other.kind)
        ), key


@pytest.mark.parametrize("seed", range(8))
def test_a_lever_by_other_names_has_the_same_verdicts(seed: int) -> None:
    """Every position of the second family is called otherwise, and `means` says what: not one answer changes."""
    _, entries = drawn(seed)
    before = every(entries)
    renamed = copy.deepcopy(entries)
    other = renamed[-1]
    names = {position: f"{position}X" for position in other["positions"] if position not in ("P", "R", "N")} | {"N": "0", "R": "RX"}

    def by(node: Any) -> Any:
        if isinstance(node, dict):
            return {names.get(key, key): by(value) for key, value in node.items()}
        return [by(one) for one in node] if isinstance(node, list) else names.get(node, node) if isinstance(node, str) else node

    other["positions"] = by(other["positions"])
    other["means"] = {name: position for position, name in names.items()}
    for mount in other["mounts"].values():
        if "hub" in mount:
            mount["hub"]["position"] = by(mount["hub"]["position"])
    for node in other["parts"]:
        for contact in node.get("contacts", ()):
            for key in ("closed", "ohms"):
                if key in contact:
                    contact[key] = by(contact[key])
    after = every(renamed)
    assert {key: found.kind for key, found in after.items()} == {key: found.kind for key, found in before.items()}


# Tried on purpose -----------------------------------------------------------------------------------------------------------

INSIDE = {
    "5 joined to the feed": {"pins": ["1", "5"], "closed": ["P", "R", "N", "D"]},
    "in D only": {"pins": ["1", "5"], "closed": ["D"]},
    "into R": {"pins": ["1", "5"], "closed": ["N"], "overlaps": ["R"]},
    "to the housing": {"pins": ["5", "case"], "closed": ["D"]},
    "over ohms": {"pins": ["1", "5"], "ohms": {"P": "open", "R": 15000, "N": "open", "D": "open"}},
    "one way": {"pins": ["1", "5"], "closed": ["R"], "one_way": True},
    "the other way": {"pins": ["5", "1"], "closed": ["R"], "one_way": True},
}
LED = {**{at: at for at in "1234"}, "7": "5", "8": "6", "5": "7", "6": "8"}


@pytest.mark.parametrize("inside", INSIDE.values(), ids=INSIDE)
def test_no_jumper_wherever_it_hides_lets_a_start_path_in_gear_go_on(inside: dict[str, Any]) -> None:
    """What the contact does is closed onto the starter's wire by a jumper: of the plug, in a chain of several, of a kit, of either of two
    leads, or led through a lead that moves its ends."""
    for loops in ([["2", "5"]], [["2", "6", "5"]], [["2", "7"], ["7", "8"], ["8", "5"]]):
        parts = switch("A", START, BACKUP), switch("B", START, BACKUP, inside, pins=NEITHER)
        assert not verdict(one_family(*parts, wires=WIRED, loops=loops), "B").goes_on, loops
    far = switch("A", START, BACKUP), switch("B", START, BACKUP, inside, pins=NEITHER, connector="d")
    plain, jumped = one_family(*far, wires=WIRED), one_family(*far, wires=WIRED, loops=[["2", "5"]])
    assert not verdict([*plain, kit(loops=[["2", "5"]])], "B").goes_on
    assert not verdict([*jumped, kit(joins="plug_in")], "B").goes_on
    assert not verdict([*one_family(*far, wires=WIRED, loops=[["2", "7"]]), kit(joins="plug_in", moves=LED)], "B").goes_on
    farther = one_family(far[0], switch("B", START, BACKUP, inside, pins=NEITHER, connector="e"), wires=WIRED)
    second = {**kit(joins="plug_in"), "id": "k2", "number": "K-2", "from": "d", "to": "e"}
    for one, other in (({}, {"loops": [["2", "5"]]}), ({"loops": [["2", "5"]]}, {})):
        leads = [connector("e", 8), kit(joins="plug_in", **one), {**second, **other}]
        assert not verdict([*farther, *leads], "B").goes_on


@pytest.mark.parametrize("means", [{"S": "N", "X": "D"}, {"S": "D", "X": "N"}])
def test_meanings_that_are_swapped_swap_what_cranks(means: dict[str, str]) -> None:
    neutral = next(name for name, one in means.items() if one == "N")
    lever = ["P", "R", *sorted(means, key=lambda one: one != neutral)]
    good, wrong = ([["P", one], ["R"], []] for one in (neutral, *[one for one in means if one != neutral]))
    for closed, goes_on in ((good, True), (wrong, False)):
        entries = two_families(lever, means, lever, means, closed=good, other_closed=closed)
        for one in entries[1:]:
            one["mounts"]["boss"] = mount_for(lever) | {"hub": {**mount_for(["P", "R", "N", "D"])["hub"], "position": "P"}}
        assert verdict(entries, "B").goes_on is goes_on
