"""Parts that do the work of one together, each on plugs of its own: one network. Common practice, no source."""

from __future__ import annotations

import random
from typing import Any

from rangebook.desk.fit import as_data, candidate_data, fit
from rangebook.desk.proof_sheets import sheets
from rangebook.fitting.fitter import Fitter
from rangebook.fitting.overlay import lay
from rangebook.fitting.provenance import provenances
from rangebook.fitting.verdict import Verdict, VerdictKind
from tests.making import MOUNT, application, book, connector, family, mount_for, part, plug

WIRES = {"main.1": "start_feed", "main.2": "start_out", "lamp.1": "backup_feed", "lamp.2": "backup_out"}
START, BACKUP = {"pins": ["1", "2"], "closed": ["P", "N"]}, {"pins": ["1", "2"], "closed": ["R"]}
OLD = part(
    "A",
    connector=None,
    connectors={"main": "c", "lamp": "d"},
    pins=WIRES,
    contacts=[{"pins": ["main.1", "main.2"], "closed": ["P", "N"]}, {"pins": ["lamp.1", "lamp.2"], "closed": ["R"]}],
)


def main(number: str = "B", **more: Any) -> dict[str, Any]:
    return part(number, **{"pins": {"1": "start_feed", "2": "start_out"}, "contacts": [START], "goes_with": ["C"], **more})


def lamp(number: str = "C", **more: Any) -> dict[str, Any]:
    return part(number, **{"connector": "d", "mount": None, "pins": {"1": "backup_feed", "2": "backup_out"}, "contacts": [BACKUP], **more})


def fitter(*parts: dict[str, Any], of: str = "A", plugs: dict[str, Any] | None = None, **facts: Any) -> Fitter:
    its = plugs or {**plug(WIRES), "connectors": {"main": "c", "lamp": "d"}}
    its = {key: value for key, value in its.items() if key != "connector" or "connectors" not in its}
    housings = connector("c", 4), connector("d", 2, outline="round")
    return Fitter(book(*housings, family("f", parts, plugs={"p": its}, applications=[application("p", of)], **facts)))


def judged(*parts: dict[str, Any], number: str = "B", of: str = "A") -> Verdict:
    made = fitter(*parts, of=of)
    (seat,) = made.seats
    found = made.book.part(number)
    assert found is not None
    return made.verdict(seat, found)


def test_one_number_became_two() -> None:
    found = judged(OLD, main(), lamp())
    assert found.kind is VerdictKind.WITH_PARTS
    assert [need["part"] for need in candidate_data(found)["needs"]] == ["C"]
    assert judged(OLD, main(goes_with=[]), lamp()).kind is VerdictKind.NO, "nothing is on the lamps' plug"
    assert judged(OLD, main(), lamp(), number="C").kind is not VerdictKind.WITH_PARTS


def test_the_maker_s_link_says_so() -> None:
    links = [{"number": "B", "needs": [{"part": "C"}]}]
    assert judged({**OLD, "superseded_by": links}, main(goes_with=[]), lamp()).kind is VerdictKind.WITH_PARTS
    assert judged(OLD, main(goes_with=[], needs=[{"part": "C"}]), lamp()).kind is VerdictKind.WITH_PARTS


def test_what_either_does_wrong_counts() -> None:
    assert judged(OLD, main(), lamp(contacts=[{**BACKUP, "closed": ["R", "D"]}])).kind is VerdictKind.NO
    assert judged(OLD, main(), lamp(contacts=None)).kind is VerdictKind.UNKNOWN
    assert judged(OLD, main(), lamp(pins=None)).kind is VerdictKind.UNKNOWN
    assert judged(OLD, main(), lamp(connector=None)).kind is VerdictKind.UNKNOWN, "on which plug it goes is not known"
    assert judged(OLD, main(goes_with=["Z-9"])).kind is VerdictKind.UNKNOWN, "it may have a connector for the plug that hangs"
    assert judged(OLD, main(goes_with=[], needs=[{"part": "Z-9"}])).kind is VerdictKind.NO, "a bracket has none"
    assert judged(OLD, main(contacts=[{**START, "closed": ["P", "N", "D"]}]), lamp()).kind is VerdictKind.NO
    # Both are bolted to one gearbox: a path over the metal of the two is one.
    grounded = [{"pins": ["2", "case"], "closed": ["P", "R", "N", "D"]}]
    assert judged(OLD, main(contacts=[START, *grounded]), lamp(contacts=[BACKUP, *grounded])).kind is VerdictKind.NO


def test_the_other_one_s_needs_are_needs_too() -> None:
    found = judged(OLD, main(), lamp(needs=[{"item": "bolt", "count": 2}], sold_as={"set": "S-1"}))
    assert [next(iter(one)) for one in candidate_data(found)["needs"]] == ["part", "item", "set"]


def test_two_became_one_and_one_of_two_became_another() -> None:
    """What the vehicle was built with are two; the one that stays on it stays."""
    of = {"of": "B"}
    assert judged(main(), lamp(), OLD, number="B", **of).kind is VerdictKind.STRAIGHT
    assert judged(main(), lamp(), OLD, number="A", **of).kind is VerdictKind.STRAIGHT
    assert judged(main(), lamp(), main("E", goes_with=[]), number="E", **of).kind is VerdictKind.STRAIGHT
    assert judged(main(), lamp(), main("E"), number="E", **of).kind is VerdictKind.STRAIGHT, "what is there need not be ordered"
    wrong = main("E", contacts=[{**START, "closed": ["P"]}])
    assert judged(main(), lamp(), wrong, number="E", **of).kind is VerdictKind.NO
    another = judged(main(), lamp(), main("E", goes_with=["F"]), lamp("F"), number="E", **of)
    assert another.kind is VerdictKind.WITH_PARTS


def test_a_part_that_has_all_plugs_itself_is_judged_by_itself() -> None:
    more = {**OLD, "number": "B", "goes_with": ["C"]}
    assert judged(OLD, more, lamp()).kind is VerdictKind.WITH_PARTS


def test_what_is_shown_of_them() -> None:
    made = fitter(OLD, main(sources=[{"kind": "seen"}]), lamp(sources=[{"kind": "hearsay"}]))
    (seat,), two = made.seats, made.book.part("B")
    assert two is not None
    verdict = made.verdict(seat, two)
    row = lay(made.book, seat, verdict).row(("lamp.1", "lamp.2"), seat.positions)
    assert row is not None and [one.path.name for one in row if one] == ["OPEN", "JOINED", "OPEN", "OPEN"]
    assert {"B", "C"} <= {one.of for one in provenances(made.book, seat, verdict)}
    (shown,) = as_data(fit(made, "A", "B"))["seats"]
    assert shown["candidates"][0]["verdict"] == "with_parts"
    built = fitter(main(), lamp(), of="B")
    (first,) = built.book.parts[:1]
    assert len(sheets(built, first)) == 2, "the bench, and the vehicle's wires"


SHAFTED = {"shaft": {"shape": "square", "across_mm": 8}}


def of_two(old: str | None, new: str | None, number: str = "E", main_mount: str = "boss", **more: Any) -> Verdict:
    """In the place of B and C stand E and F; C and F are mounted as told."""
    mounts = {"boss": mount_for(["P", "R", "N", "D"]), "like": mount_for(["P", "R", "N", "D"]), "square": SHAFTED}
    its = {**plug(WIRES), "connectors": {"main": "c", "lamp": "d"}}
    listed = [main(), lamp(mount=old), main("E", goes_with=["F"], mount=main_mount), lamp("F", mount=new, **more)]
    plugs = {"p": {key: value for key, value in its.items() if key != "connector"}}
    entry = family("f", listed, plugs=plugs, applications=[application("p", "B")], mounts=mounts)
    made = Fitter(book(connector("c", 4), connector("d", 2, outline="round"), entry))
    (seat,), found = made.seats, made.book.part(number)
    assert found is not None
    return made.verdict(seat, found)


def test_the_mount_of_what_goes_along_is_looked_at_where_the_old_one_s_is_stated() -> None:
    assert of_two(None, None).kind is of_two("boss", None).kind is of_two(None, "square").kind is VerdictKind.WITH_PARTS
    assert of_two("boss", "boss").kind is of_two("boss", "like").kind is VerdictKind.WITH_PARTS
    found = of_two("boss", "square")
    assert found.kind is VerdictKind.NO and "mount.companion_differs" in {one.code for one in found.reasons}
    assert judged(OLD, main(), lamp(mount="boss")).kind is VerdictKind.WITH_PARTS, (
        "beside the one that did the work alone it has a new place"
    )


def test_it_does_not_matter_of_which_of_the_two_one_asks() -> None:
    """Each is held against what it takes the plugs of: the lamps' switch against the old one, not against what sat on the shaft."""
    for new, kind, code in (("like", "with_parts", ""), ("square", "no", "mount.taken_place_differs")):
        for number in "EF":
            found = of_two("boss", new, number=number, goes_with=["E"])
            assert found.kind == kind
            codes = {one.code for one in found.reasons}
            assert ("mount.companion_fits" in codes) is (number == "F" and kind == "with_parts")
            assert number == "E" or not code or code in codes
    # What is stated of neither nobody asks.
    assert (
        of_two(None, None, number="F", goes_with=["E"]).kind
        is of_two("boss", None, number="F", goes_with=["E"]).kind
        is (VerdictKind.WITH_PARTS)
    )
    # In the place of the one that sits on the shaft has to sit what goes on it, whichever is asked about.
    for number in "EF":
        found = of_two(None, None, number=number, goes_with=["E"], main_mount="square")
        assert found.kind is VerdictKind.NO


def test_of_two_in_the_place_of_one_the_one_that_bolts_on_sits_there() -> None:
    for number, mounts, kind in (
        ("B", ("boss", None), "with_parts"),
        ("C", ("boss", None), "with_parts"),
        ("B", ("square", None), "unknown"),
        ("C", ("square", None), "unknown"),
        ("B", ("square", "square"), "no"),
        ("C", ("square", "square"), "no"),
        ("C", (None, None), "unknown"),
    ):
        named = lamp(goes_with=["B"], mount=mounts[1]), main(mount=mounts[0])
        made = fitter(OLD, *named, mounts={"boss": MOUNT, "square": SHAFTED})
        (seat,), found = made.seats, made.book.part(number)
        assert found is not None and made.verdict(seat, found).kind == kind, (number, mounts)
    # What does not name the other one is a companion, and nobody asks for its mount.
    made = fitter(OLD, lamp(), main(mount="square"), mounts={"boss": MOUNT, "square": SHAFTED})
    (seat,), found = made.seats, made.book.part("B")
    assert found is not None and made.verdict(seat, found).kind is VerdictKind.NO


def test_a_part_of_which_no_plug_is_on_a_connector_does_not_do_the_work() -> None:
    """What it goes with has all plugs, and the part asked about would lie beside the gearbox."""
    all_in_one = {**OLD, "number": "C"}
    assert judged(OLD, main(connector="e"), all_in_one).kind is VerdictKind.NO


def test_what_comes_along_takes_the_place_of_what_was_along() -> None:
    """The vehicle's C stays where the new part brings none of its own; where it brings F, F is what counts, right or wrong."""
    wrong = lamp("F", contacts=[{**BACKUP, "closed": ["D"]}])
    assert judged(main(), lamp(), main("E", goes_with=[]), wrong, number="E", of="B").kind is VerdictKind.STRAIGHT
    assert judged(main(), lamp(), main("E", goes_with=["F"]), wrong, number="E", of="B").kind is VerdictKind.NO


def test_what_goes_along_has_a_plating_of_its_own() -> None:
    for pins, ends, kind in (("tin", "tin", "with_parts"), ("gold", "gold", "with_parts"), ("tin", "gold", "no"), ("gold", "tin", "no")):
        plugs = {"p": {**plug(WIRES), "connectors": {"main": "c", "lamp": "d"}, "plating": ends}}
        plugs["p"].pop("connector")
        listed = [{**OLD, "plating": ends}, main(plating=ends), lamp(plating=pins)]
        entry = family("f", listed, plugs=plugs, applications=[application("p", "A")])
        made = Fitter(book(connector("c", 4), connector("d", 2, outline="round"), entry))
        (seat,), found = made.seats, made.book.part("B")
        assert found is not None and made.verdict(seat, found).kind == kind
    # Of those that the connector says nothing of, each goes by what it says itself.
    housings = connector("c", 4, terminal={"plating": "gold"}), connector("d", 2, outline="round", terminal={"plating": "tin"})
    plugs = {"p": {key: value for key, value in {**plug(WIRES), "connectors": {"main": "c", "lamp": "d"}}.items() if key != "connector"}}
    for own, kind in ((None, "with_parts"), ("tin", "with_parts"), ("silver", "no")):
        entry = family("f", [OLD, main(), lamp(plating=own)], plugs=plugs, applications=[application("p", "A")])
        made = Fitter(book(*housings, entry))
        (seat,), found = made.seats, made.book.part("B")
        assert found is not None and made.verdict(seat, found).kind == kind


def revised(*contacts: Any, **when: Any) -> dict[str, Any]:
    return {"revisions": [{"when": {"marked": "a green dot", **when}, "contacts": list(contacts)}]}


def test_the_design_of_what_goes_along_is_asked_for_where_it_matters() -> None:
    unsafe = {**BACKUP, "closed": ["R", "D"]}
    assert judged(OLD, main(), lamp(**revised(BACKUP))).kind is VerdictKind.WITH_PARTS
    assert judged(OLD, main(), lamp(contacts=[unsafe], **revised(unsafe))).kind is VerdictKind.NO
    for stated in (lamp(**revised(unsafe, stamped_at="lid")), lamp(contacts=[unsafe], **revised(BACKUP, stamped_at="lid"))):
        found = judged(OLD, main(), stated)
        assert found.kind is VerdictKind.UNKNOWN
        (reason,) = [one for one in found.reasons if one.code == "behaviour.companion_depends"]
        assert (reason.detail.number, [one.stamped_at for one in reason.detail.read]) == ("C", ["lid"])
        assert {one.verdict for one in reason.detail.cases} == {"with_parts", "no"}
    # What stays on the vehicle is of one design or the other just as well.
    both = main(), lamp(**revised(unsafe)), {**OLD, "number": "E"}
    assert judged(*both, number="E", of="B").kind is VerdictKind.UNKNOWN
    assert judged(main(), lamp(**revised(BACKUP)), {**OLD, "number": "E"}, number="E", of="B").kind is VerdictKind.STRAIGHT


def test_two_that_name_each_other_and_are_of_two_designs_each() -> None:
    found = judged(OLD, main(contacts=None, **revised(START)), lamp(goes_with=["B"], contacts=None, **revised(BACKUP)))
    assert found.kind is VerdictKind.UNKNOWN


def test_what_stays_along_goes_by_what_its_positions_mean() -> None:
    """The vehicle's lamp switch stays; the new part is of a family that calls its reverse otherwise. Without the meaning nobody knows."""
    lever = ["P", "RX", "N", "D"]
    its = {key: value for key, value in {**plug(WIRES), "connectors": {"main": "c", "lamp": "d"}}.items() if key != "connector"}
    built = family("f", [main(), lamp()], plugs={"p": its}, applications=[application("p", "B")])
    for means, kind in (({"means": {"RX": "R"}}, "straight"), ({}, "no")):
        other = family("g", [main("E", goes_with=[])], positions=lever, mounts={"boss": mount_for(lever)}, **means)
        made = Fitter(book(connector("c", 4), connector("d", 2, outline="round"), built, other))
        (seat,), found = made.seats, made.book.part("E")
        assert found is not None and made.verdict(seat, found).kind == kind


def test_of_an_original_whose_connectors_nobody_states_it_is_not_known_which_plugs_its_companion_had() -> None:
    unsaid = main(connector=None, pins={"main.1": "start_feed", "main.2": "start_out"}, contacts=[{**START, "pins": ["main.1", "main.2"]}])
    assert judged(unsaid, lamp(), {**OLD, "number": "E"}, number="E", of="B").kind is VerdictKind.UNKNOWN


def test_of_what_stays_along_the_connector_is_asked_for_too() -> None:
    assert judged(main(), lamp(connector=None), main("E", goes_with=[]), number="E", of="B").kind is VerdictKind.UNKNOWN


def test_what_cannot_be_told_from_another_by_its_number_does_not_go_along() -> None:
    twice = lamp("F", also_numbered=[{"number": "c"}])
    found = judged(OLD, main(), lamp(), twice)
    assert found.kind is VerdictKind.UNKNOWN and "safety.facts_contradict" in {one.code for one in found.reasons}


def test_two_are_one_whatever_their_halves_are_called() -> None:
    """As a property: a part cut in two, each half on its own plug, comes to what the whole one comes to, but for the order."""
    positions = ["P", "R", "N", "D"]
    kinds = set()
    for seed in range(80):
        rng = random.Random(seed)
        starts = [{"pins": ["1", "2"], "closed": rng.choice([["P", "N"], ["P", "N"], ["P"], rng.sample(positions, 2)])}]
        lamps: Any = rng.choice([[BACKUP], [BACKUP], [{**BACKUP, "closed": rng.sample(positions, 1)}], None, []])

        def on(name: str, contacts: Any) -> Any:
            return [{**one, "pins": [f"{name}.{pin}" for pin in one["pins"]]} for one in contacts]

        whole = {**OLD, "number": "B", "contacts": None if lamps is None else [*on("main", starts), *on("lamp", lamps)]}
        one = judged(OLD, {key: value for key, value in whole.items() if value is not None})
        two = judged(OLD, main(contacts=starts), lamp(contacts=lamps))
        kinds.add(one.kind)
        if lamps is None:  # of the whole part nothing is known then, of the two only the one half
            assert two.kind in (VerdictKind.UNKNOWN, VerdictKind.NO)
        else:
            assert two.kind is (VerdictKind.WITH_PARTS if one.kind is VerdictKind.STRAIGHT else one.kind), seed
    assert kinds >= {VerdictKind.STRAIGHT, VerdictKind.NO, VerdictKind.UNKNOWN}
