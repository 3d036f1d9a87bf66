"""Parts, pieces and work that are needed beside the plug's kits. What a verdict comes to is common practice, no source."""

from __future__ import annotations

import random
from typing import Any

import pytest

from rangebook.desk.fit import as_data, candidate_data, fit
from rangebook.fitting.fitter import Fitter
from rangebook.fitting.standing import Group, group_of
from rangebook.fitting.verdict import RANK, Verdict, VerdictKind
from tests.making import application, connector, family, part, plug, seat_and_parts

PINS = {"1": "start_feed", "2": "start_out", "3": "backup_feed", "4": "backup_out"}
START, BACKUP = {"pins": ["1", "2"], "closed": ["P", "N"]}, {"pins": ["3", "4"], "closed": ["R"]}
MOVED = [{"pins": ["3", "2"], "closed": ["P", "N"]}, {"pins": ["1", "4"], "closed": ["R"]}]
BOLTS: dict[str, Any] = {"item": "bolt", "count": 2, "once": "yes"}
RELEARN = {"work": "relearn", "with": "scan tool"}


def switch(number: str, **more: Any) -> dict[str, Any]:
    return part(number, **{"pins": PINS, "contacts": [START, BACKUP], **more})


def judged(*parts: dict[str, Any], of: str = "B", entries: tuple[dict[str, Any], ...] = ()) -> Verdict:
    """The verdict of a part where the first of them was."""
    facts = {"plugs": {"p": plug(PINS)}, "applications": [application("p", parts[0]["number"])]}
    made, seat, known = seat_and_parts(connector("c", 8), *entries, family("f", parts, **facts))
    return Fitter(made).verdict(seat, known[of])


@pytest.mark.parametrize(
    ("need", "told"),
    [
        (BOLTS, {"item": "bolt", "count": 2, "once": True, "note": None}),
        ({"item": "o-ring"}, {"item": "o-ring", "count": None, "once": None, "note": None}),
        (RELEARN, {"work": "relearn", "with": "scan tool", "note": None}),
        ({"part": "Bracket 7"}, {"part": "Bracket 7", "count": None, "once": None, "note": None}),
        ({"seal": 4}, {"kit": None, "seal": 4, "blanks": None}),
        ({"kit": "not-written-yet"}, {"kit": "not-written-yet", "seal": None, "blanks": None}),
    ],
)
@pytest.mark.parametrize("where", ["part", "succession", "chain"])
def test_a_need_keeps_a_verdict_from_straight(need: dict[str, Any], told: dict[str, Any], where: str) -> None:
    if where == "part":
        found = judged(switch("A"), switch("B", needs=[need]))
    elif where == "succession":
        found = judged(switch("A", superseded_by=[{"number": "B", "needs": [need]}]), switch("B"))
    else:
        links = [switch("A", superseded_by=[{"number": "X", "needs": [need]}]), switch("X", superseded_by=[{"number": "b", "needs": []}])]
        found = judged(*links, switch("B"))
    if where != "part" and "kit" in need:
        # Whether a kit that a link names is needed is seen from the plugs: it goes on without.
        assert (found.kind, found.also) == (VerdictKind.STRAIGHT, ())
        return
    assert found.kind is VerdictKind.WITH_PARTS
    assert candidate_data(found)["needs"] == [told]
    assert "mating.also_needed" in {reason.code for reason in found.reasons}


def test_nobody_is_asked_for_more_where_nothing_is_said() -> None:
    assert judged(switch("A"), switch("B")).kind is VerdictKind.STRAIGHT
    assert judged(switch("A", superseded_by=[{"number": "B", "needs": []}]), switch("B")).kind is VerdictKind.STRAIGHT
    # What the way back, or another part, asks for is not asked of this one.
    assert judged(switch("A"), switch("B", superseded_by=[{"number": "A", "needs": [BOLTS]}])).kind is VerdictKind.STRAIGHT


def test_a_part_with_needs_has_them_on_its_own_seat_too() -> None:
    found = judged(switch("A", needs=[BOLTS, RELEARN]), of="A")
    assert found.kind is VerdictKind.WITH_PARTS
    assert [next(iter(one)) for one in candidate_data(found)["needs"]] == ["item", "work"]


def test_wires_that_move_stay_the_verdict() -> None:
    found = judged(switch("A"), switch("B", pins={**PINS, "1": "backup_feed", "3": "start_feed"}, contacts=MOVED, needs=[BOLTS]))
    assert found.kind is VerdictKind.REWIRE and candidate_data(found)["needs"][0]["item"] == "bolt"


def test_a_need_mends_nothing_and_contradicts_nothing() -> None:
    """By itself it neither refuses a part nor makes a wrong one right; as a property: with needs a verdict is never better, and where it
    goes on it is ``with_parts`` at best."""
    contacts = [START, {"pins": ["1", "2"], "closed": ["P", "N", "D"]}, {"pins": ["1", "2"]}, BACKUP, {"pins": ["3", "4"], "closed": ["D"]}]
    kinds = set()
    for seed in range(60):
        rng = random.Random(seed)
        inside = rng.sample(contacts, 2)
        needs = rng.sample([BOLTS, RELEARN, {"item": "o-ring"}, {"part": "Z-9"}], rng.randint(1, 3))
        bare, asked = (judged(switch("A"), switch("B", contacts=inside, **more)) for more in ({}, {"needs": needs}))
        kinds.add(bare.kind)
        assert RANK[asked.kind] >= max(RANK[bare.kind], RANK[VerdictKind.WITH_PARTS])
        assert asked.kind is (VerdictKind.WITH_PARTS if bare.kind is VerdictKind.STRAIGHT else bare.kind)
    assert kinds == {VerdictKind.STRAIGHT, VerdictKind.NO, VerdictKind.UNKNOWN}


def test_sold_only_in_a_set_or_as_an_assembly() -> None:
    for how in ("set", "assembly"):
        found = judged(switch("A"), switch("B", sold_as={how: "S-100"}))
        assert (found.kind, candidate_data(found)["needs"]) == (VerdictKind.WITH_PARTS, [{how: "S-100"}])


def test_what_a_part_goes_with_is_ordered_with_it_unless_it_is_there() -> None:
    lamp = switch("C", connector="d", mount=None)
    found = judged(switch("A"), switch("B", goes_with=["c"]), lamp, entries=(connector("d", 8),))
    assert found.kind is VerdictKind.WITH_PARTS and candidate_data(found)["needs"][0]["part"] == "c"
    there = judged(switch("A", goes_with=["C"]), switch("B", goes_with=["c"]), lamp, entries=(connector("d", 8),))
    assert there.kind is VerdictKind.STRAIGHT
    itself = judged(switch("A", goes_with=["C"]), lamp, of="A", entries=(connector("d", 8),))
    assert itself.kind is VerdictKind.STRAIGHT


def test_what_the_other_one_does_is_left_to_it_and_nothing_else() -> None:
    """One number became two: this one does not light the lamps, and nobody says how their wires get to the one that does."""

    def found(inside: list[dict[str, Any]], lamp: list[dict[str, Any]] | None) -> Verdict:
        pins = {pin: name for pin, name in PINS.items() if any(pin in one["pins"] for one in inside)}
        other = switch("C", connector="d", mount=None, pins={"3": "backup_feed", "4": "backup_out"}, contacts=lamp)
        return judged(switch("A"), switch("B", contacts=inside, pins=pins, goes_with=["C"]), other, entries=(connector("d", 8),))

    assert found([START], [BACKUP]).kind is VerdictKind.UNKNOWN
    assert {reason.code for reason in found([START], [BACKUP]).reasons} == {"behaviour.left_to_companion"}
    assert found([START], None).kind is VerdictKind.UNKNOWN
    # The other one does something else there, or this one does too much: that is a contradiction.
    assert found([START], [{"pins": ["3", "4"], "closed": ["D"]}]).kind is VerdictKind.NO
    assert found([{"pins": ["1", "2"], "closed": ["P", "N", "D"]}], [BACKUP]).kind is VerdictKind.NO


def test_a_companion_that_nobody_knows_or_that_was_taken_back() -> None:
    assert judged(switch("A"), switch("B", goes_with=["X-1"])).kind is VerdictKind.UNKNOWN
    back = switch("C", status="withdrawn", mount=None)
    for more in ({"goes_with": ["C"]}, {"needs": [{"part": "C"}]}):
        found = judged(switch("A"), switch("B", **more), back)
        assert found.kind is VerdictKind.WITH_PARTS and group_of(found) is Group.WITHDRAWN


def test_loops_of_companions_and_of_chains_end() -> None:
    one, other = switch("B", goes_with=["C"], superseded_by=[{"number": "C", "needs": [BOLTS]}]), switch("C", goes_with=["B"])
    other["superseded_by"] = [{"number": "B", "needs": [RELEARN]}]
    found = judged(switch("A", superseded_by=[{"number": "B", "needs": []}]), one, other)
    assert {next(iter(need)) for need in candidate_data(found)["needs"]} >= {"part", "work"}


KIT = {
    "kind": "kit",
    "id": "k",
    "number": "K-1",
    "title": "k",
    "from": "c",
    "to": "d",
    "moves": {pin: pin for pin in PINS},
}
SEALED = (connector("c", 8, sealed="yes"), connector("d", 8, sealed="yes"))


def with_kit(**kit: Any) -> Verdict:
    facts = {"plugs": {"p": {"connector": "c", "wires": {pin: {"circuit": name, "size_mm2": 4} for pin, name in PINS.items()}}}}
    facts["applications"] = [application("p", "A")]  # type: ignore[assignment]
    fine = connector("d", 8, sealed="yes", seal_wire_mm2=[0.5, 1.5])
    made, seat, known = seat_and_parts(SEALED[0], fine, {**KIT, **kit}, family("f", [switch("A"), switch("B", connector="d")], **facts))
    return Fitter(made).verdict(seat, known["B"])


def test_an_adapter_lead_needs_no_seal_and_cuts_nothing() -> None:
    cut = with_kit()
    assert cut.kind is not VerdictKind.WITH_PARTS, "what seals are in the bag is not stated, and the wires are too thick for them"
    for joins in ("plug_in", "splice"):
        found = with_kit(joins=joins)
        assert found.kind is VerdictKind.WITH_PARTS
        assert candidate_data(found)["needs"] == [{"kit": "k", "seal": None, "blanks": 0}]
    assert dict(with_kit(joins="plug_in").moves) == {}, "no wire is handled"
    assert with_kit(joins="cut").kind is cut.kind


def test_the_wires_of_an_adapter_lead_are_where_it_takes_them() -> None:
    """The lead crosses two wires, and the part wants them crossed."""
    crossed = {"1": "1", "2": "2", "3": "4", "4": "3"}
    assert with_kit(joins="plug_in", moves=crossed).kind is VerdictKind.WITH_PARTS, "a contact has no direction"
    wrong = {"1": "3", "2": "2", "3": "1", "4": "4"}
    found = with_kit(joins="plug_in", moves=wrong)
    assert found.kind is VerdictKind.REWIRE and dict(found.moves), "wires moved in the lead's plug"


def test_a_kit_that_the_part_itself_asks_for() -> None:
    """It goes on as it is, and its maker wants the plug renewed where the vehicle has the old one."""
    kit = {**KIT, "to": "c", "seals": [4], "blanks": 0}
    facts = {"plugs": {"p": plug(PINS)}, "applications": [application("p", "A")]}
    made, seat, known = seat_and_parts(connector("c", 4), kit, family("f", [switch("A"), switch("B", needs=["k"])], **facts))
    found = Fitter(made).verdict(seat, known["B"])
    assert found.kind is VerdictKind.WITH_PARTS and candidate_data(found)["needs"] == [{"kit": "k", "seal": 4, "blanks": 0}]


def test_the_whole_answer_tells_it() -> None:
    facts = {"plugs": {"p": plug(PINS)}, "applications": [application("p", "A")], "fitting": {"set_in": "N", "set_by": "pin"}}
    made, _, _ = seat_and_parts(connector("c", 8), family("f", [switch("A"), switch("B", needs=[BOLTS, RELEARN])], **facts))
    answer = as_data(fit(Fitter(made), "A", "B"))
    (seat,) = answer["seats"]
    assert seat["candidates"][0]["verdict"] == "with_parts" and seat["offered"] == ["B"]
    assert seat["fitting"]["B"]["set_by"] == "pin"
