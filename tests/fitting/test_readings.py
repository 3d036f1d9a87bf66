"""What a module reads, what drives a powered output, and what a contact is made for: what must not go on, and what must."""

from __future__ import annotations

from typing import Any

import pytest

from rangebook.fitting.judge import judge
from rangebook.fitting.verdict import Verdict, VerdictKind
from tests.making import application, connector, family, part, plug, seat_and_parts

STRAIGHT, REWIRE, NO, UNKNOWN = VerdictKind.STRAIGHT, VerdictKind.REWIRE, VerdictKind.NO, VerdictKind.UNKNOWN
PINS = {"1": "start_feed", "2": "start_out", "3": "backup_feed", "4": "backup_out", "5": "range_signal", "6": "range_return"}
START, BACKUP = {"pins": ["1", "2"], "closed": ["P", "N"]}, {"pins": ["3", "4"], "closed": ["R"]}
FAR = {"P": 4300, "R": 2000, "N": 1100, "D": 620}
NEAR = {"P": 4300, "R": 2000, "N": 1750, "D": 620}
FOUR = {cavity: PINS[cavity] for cavity in "1234"}
READS = {"reads": {"pins": ["5", "6"], "pull_up_ohms": 1000, "volts": 5}}


def ladder(ohms: dict[str, Any] = FAR, percent: float | None = 5, pins: tuple[str, str] = ("5", "6")) -> dict[str, Any]:
    return {"pins": list(pins), "ohms": ohms, **({} if percent is None else {"tolerance_percent": percent})}


def made(number: str, *contacts: dict[str, Any], pins: dict[str, str] | None = PINS, **more: Any) -> dict[str, Any]:
    return part(number, pins=pins, contacts=list(contacts) if contacts else None, **more)


def ask(original: dict[str, Any], candidate: dict[str, Any], wires: Any = PINS, **more: Any) -> Verdict:
    facts = {"plugs": {"p": plug(wires, **more)}, "applications": [application("p", original["number"])]}
    listed = [original] if original["number"] == candidate["number"] else [original, candidate]
    book, seat, parts = seat_and_parts(connector("c", 10), family("f", listed, **facts))
    return judge(book, seat, parts[candidate["number"]])


def codes(found: Verdict) -> set[str]:
    return {reason.code for reason in found.reasons}


def ladders(one: dict[str, Any], other: dict[str, Any], **more: Any) -> Verdict:
    return ask(made("A", START, BACKUP, one), made("B", START, BACKUP, other), **more)


# Ladders ----------------------------------------------------------------------------------------------------------------


def test_the_reading_is_asked_of_equal_ladders_too() -> None:
    found = ladders(ladder(), ladder(), **READS)
    assert found.kind is STRAIGHT and "behaviour.ladder_read_right" in codes(found)


def test_equal_ladders_that_leave_the_module_too_little() -> None:
    # 2000 and 1750 ohm against 1 kohm: 3.33 and 3.18 V. At 5 percent each the windows overlap.
    found = ladders(ladder(NEAR), ladder(NEAR), **READS)
    assert found.kind is UNKNOWN and codes(found) == {"behaviour.ladder_unsure"}


def test_windows_that_overlap_where_nothing_is_stated_of_the_module() -> None:
    found = ladders(ladder({**FAR, "N": 1900}), ladder({**FAR, "N": 1900}))
    assert found.kind is UNKNOWN and codes(found) == {"behaviour.readings_overlap", "safety.facts_contradict"}


@pytest.mark.parametrize("reads", [{}, READS])
@pytest.mark.parametrize("percent", [30, 50, 90])
def test_a_tolerance_of_the_candidate_that_says_nothing(percent: float, reads: dict[str, Any]) -> None:
    assert ladders(ladder(), ladder(percent=percent), **reads).kind is UNKNOWN


@pytest.mark.parametrize("percent", [30, 50, 100])
def test_a_tolerance_of_the_original_does_not_take_in_any_resistance(percent: float) -> None:
    one = {"P": 500, "R": "open", "N": "open", "D": "open"}
    assert ladders(ladder(one, percent), ladder({**one, "P": 380})).kind is NO
    assert ladders(ladder(one, percent), ladder({**one, "P": 450})).kind is UNKNOWN


def test_a_wider_tolerance_that_still_keeps_each_position_on_its_side() -> None:
    assert ladders(ladder(), ladder(percent=20)).kind is STRAIGHT


def test_a_wider_tolerance_that_reaches_half_way_to_the_next() -> None:
    close = {"P": 4300, "R": 2000, "N": 1450, "D": 620}
    assert ladders(ladder(close), ladder(close)).kind is STRAIGHT
    assert ladders(ladder(close), ladder(close, 20)).kind is UNKNOWN


def test_taken_wrongly_at_nominal_is_no() -> None:
    found = ladders(ladder(), ladder({**FAR, "P": 2000, "R": 4300}), **READS)
    assert found.kind is NO and codes(found) == {"behaviour.ladder_misread"}


def test_taken_wrongly_only_at_the_worst_is_not_known() -> None:
    found = ladders(ladder(), ladder({**FAR, "N": 1380}), **READS)
    assert found.kind is UNKNOWN and codes(found) == {"behaviour.ladder_unsure"}


def test_an_open_ladder_is_a_broken_wire_to_a_module() -> None:
    assert ladders(ladder({**FAR, "P": 40_000}), ladder({**FAR, "P": "open"}), **READS).kind is NO


def test_a_module_that_reads_where_there_is_no_wire() -> None:
    wires = {cavity: name for cavity, name in PINS.items() if cavity != "6"}
    found = ask(made("A", START, BACKUP, ladder()), made("B", START, BACKUP, ladder()), wires, **READS)
    assert found.kind is UNKNOWN and codes(found) == {"behaviour.ladder_without_wire", "safety.facts_contradict"}


def test_the_ladder_that_shares_its_return_is_read_over_the_whole_network() -> None:
    earthed = {"pins": ["6", "case"], "closed": ["P", "R", "N", "D"]}
    found = ask(made("A", START, BACKUP, ladder(), earthed), made("B", START, BACKUP, ladder(), earthed), **READS)
    assert found.kind is STRAIGHT and "behaviour.ladder_read_right" in codes(found)
    found = ask(made("A", START, BACKUP, ladder(NEAR), earthed), made("B", START, BACKUP, ladder(NEAR), earthed), **READS)
    assert found.kind is UNKNOWN


def test_the_original_in_its_own_place_came_with_the_vehicle() -> None:
    """Its reading is not held against it; that its windows overlap is: what is stated of it cannot all be so."""
    whole = made("A", START, BACKUP, ladder(percent=20))
    assert ask(whole, whole, reads={**READS["reads"], "pull_up_ohms": 100_000}).kind is STRAIGHT
    blurred = made("A", START, BACKUP, ladder(NEAR, 50))
    assert codes(ask(blurred, blurred, **READS)) == {"safety.facts_contradict"}


# Closed is under 1 ohm ---------------------------------------------------------------------------------------------------


def typed(ohms: float) -> dict[str, Any]:
    return {"pins": ["1", "2"], "ohms": {"P": ohms, "R": "open", "N": ohms, "D": "open"}}


@pytest.mark.parametrize("ohms", [0, 0.3, 0.99])
def test_closed_is_under_one_ohm_however_it_is_written(ohms: float) -> None:
    for one, other in ((START, typed(ohms)), (typed(ohms), START), (typed(ohms), typed(0.1))):
        assert ask(made("A", one, BACKUP), made("B", other, BACKUP), ["1", "2", "3", "4"]).kind is STRAIGHT


def test_from_one_ohm_on_it_is_a_resistance() -> None:
    found = ask(made("A", START, BACKUP, pins=FOUR), made("B", typed(1), BACKUP, pins=FOUR), FOUR)
    assert found.kind is NO and codes(found) == {"behaviour.differs"}


def test_each_contact_of_a_chain_is_judged_by_itself() -> None:
    chain = [
        {"pins": ["1", "7"], "ohms": dict.fromkeys("PRND", 0.6)},
        {"pins": ["7", "2"], "ohms": {"P": 0.6, "R": "open", "N": 0.6, "D": "open"}},
    ]
    found = ask(made("A", START), made("B", *chain, pins={**PINS, "7": "common_feed"}), ["1", "2"])
    assert found.kind is STRAIGHT


# Powered outputs --------------------------------------------------------------------------------------------------------

WIRED = {"5": "range_signal", "7": "supply", "8": "signal_ground"}
SIGNAL = {
    "pin": "5",
    "supply": "7",
    "ground": "8",
    "kind": "duty_percent",
    "values": {"P": 10, "R": 20, "N": 30, "D": 40},
    "tolerance": 2,
}


def powered(one: dict[str, Any], other: dict[str, Any] | None, wires: Any = WIRED, **more: Any) -> Verdict:
    return ask(
        part("A", pins=WIRED, contacts=[], signals=[{**SIGNAL, **one}]),
        part("B", **{"pins": WIRED, "contacts": [], "signals": None if other is None else [{**SIGNAL, **other}], **more}),
        wires,
    )


FACTS = [
    ("supply_volts", 5, 12),
    ("frequency_hz", 100, 250),
    ("pull_up_ohms", 1000, 4700),
    ("pull_up_volts", 5, 12),
    ("polarity", "high", "low"),
]


@pytest.mark.parametrize(("fact", "one", "other"), FACTS)
def test_what_drives_a_powered_output(fact: str, one: Any, other: Any) -> None:
    assert powered({fact: one}, {fact: one}).kind is STRAIGHT
    assert powered({fact: one}, {fact: other}).kind is NO
    assert powered({fact: one}, {}).kind is UNKNOWN
    assert powered({}, {fact: one}).kind is UNKNOWN
    assert powered({}, {}).kind is STRAIGHT


def test_the_same_part_whose_supply_has_no_wire() -> None:
    assert powered({}, {}, ["5", "8"]).kind is STRAIGHT
    assert powered({}, {"supply": "9"}, ["5", "8"], pins={**WIRED, "9": "supply"}).kind is UNKNOWN


@pytest.mark.parametrize(
    "stated",
    [
        {"pins": None, "contacts": None},
        {"pins": WIRED, "contacts": None},
        {"pins": WIRED},
        {"pins": {**WIRED, "1": "start_feed", "2": "start_out"}, "contacts": [START]},
    ],
)
def test_a_part_of_which_nothing_is_stated_there(stated: dict[str, Any]) -> None:
    assert powered({}, None, **stated).kind is UNKNOWN


@pytest.mark.parametrize(
    "stated",
    [
        {"pins": {"7": "supply", "8": "signal_ground"}},
        {"contacts": [{"pins": ["5", "8"], "closed": ["P"]}]},
        {"pins": {**WIRED, "5": "not_connected"}, "contacts": [{"pins": ["7", "8"], "closed": ["P"]}]},
    ],
)
def test_a_part_that_surely_gives_no_signal(stated: dict[str, Any]) -> None:
    assert powered({}, None, **stated).kind is NO


def test_a_second_signal_for_one_pin_leaves_it_unknown() -> None:
    twice = part("B", pins=WIRED, contacts=[], signals=[SIGNAL, {**SIGNAL, "kind": "volts"}])
    assert ask(part("A", pins=WIRED, contacts=[], signals=[SIGNAL]), twice, WIRED).kind is UNKNOWN
    assert ask({**twice, "number": "A"}, twice, WIRED).kind is UNKNOWN


def test_a_tolerance_wider_than_the_distance_of_the_values() -> None:
    assert powered({"tolerance": 15}, {"tolerance": 15}).kind is UNKNOWN
    assert powered({}, {"tolerance": 8}).kind is UNKNOWN
    # 20 where the original gives 10 is what the original gives in R, however wide its tolerance.
    assert powered({"tolerance": 15}, {"values": {"P": 20, "R": 20, "N": 30, "D": 40}}).kind is NO


# What a contact is made for -----------------------------------------------------------------------------------------------


def rated(amps: float | None, contact: dict[str, Any] = START) -> dict[str, Any]:
    return contact if amps is None else {**contact, "rated_a": amps}


def carried(carries: dict[str, float], names: dict[str, str] = FOUR) -> dict[str, Any]:
    return {
        "connector": "c",
        "wires": {at: {"circuit": name, **({"carries_a": carries[at]} if at in carries else {})} for at, name in names.items()},
    }


def contact_rating(original: float | None, candidate: float | None, carries: dict[str, float], **pins: str) -> Verdict:
    named = {**FOUR, **{key[1:]: name for key, name in pins.items()}}
    one = made("A", rated(original), BACKUP, pins=FOUR)
    other = made("B", rated(candidate), BACKUP, pins=named)
    facts = {"plugs": {"p": carried(carries)}, "applications": [application("p", "A")]}
    book, seat, parts = seat_and_parts(connector("c", 10), family("f", [one, other], **facts))
    return judge(book, seat, parts["B"])


@pytest.mark.parametrize(
    ("original", "candidate", "carries", "kind"),
    [
        (None, 8, {"1": 6, "2": 6}, STRAIGHT),
        (None, 6, {"1": 6, "2": 6}, STRAIGHT),
        (None, 4, {"1": 6, "2": 6}, NO),
        (None, 4, {"2": 6}, NO),
        (8, 4, {"1": 10, "2": 3}, STRAIGHT),  # the feed carries more than goes through this contact
        (8, 8, {}, STRAIGHT),
        (8, 4, {}, UNKNOWN),
        (8, None, {}, STRAIGHT),
        (8, None, {"2": 6}, STRAIGHT),
        (None, None, {}, STRAIGHT),
    ],
)
def test_what_a_contact_is_made_for(original: float | None, candidate: float | None, carries: dict[str, float], kind: VerdictKind) -> None:
    found = contact_rating(original, candidate, carries)
    assert found.kind is kind, found.reasons
    assert ("behaviour.rating_compare" in codes(found)) is (kind is STRAIGHT)  # the backup contact is not rated


@pytest.mark.parametrize(("candidate", "kind"), [(8, STRAIGHT), (4, UNKNOWN)])
def test_the_original_s_rating_is_that_of_the_pins_which_the_wires_meet(candidate: float, kind: VerdictKind) -> None:
    """The plug goes on the original by a map: its 1 and 2 meet 9 and 8."""
    back = {str(at): str(10 - at) for at in range(1, 10)}
    turned = [{**rated(8), "pins": ["9", "8"]}, {**BACKUP, "pins": [back[end] for end in BACKUP["pins"]]}]
    one = {**made("A", *turned, pins={back[at]: name for at, name in FOUR.items()}), "connector": "d"}
    alike = {"terminal": {"style": "blade", "width_mm": 2.8, "on_switch": "male"}, "sealed": "no"}
    other = connector("d", 9, **alike, mates=[{"connector": "c", "cavities": back}])
    facts = {"plugs": {"p": carried({})}, "applications": [application("p", "A")]}
    parts = [one, made("B", rated(candidate), BACKUP, pins=FOUR)]
    book, seat, known = seat_and_parts(connector("c", 9, **alike), other, family("f", parts, **facts))
    assert seat.meets["1"] == "9"
    found = judge(book, seat, known["B"])
    assert found.kind is kind, found.reasons


@pytest.mark.parametrize(
    ("original", "candidate", "carries", "kind"),
    [
        (None, None, {}, UNKNOWN),
        (8, None, {}, UNKNOWN),
        (None, None, {"2": 6}, UNKNOWN),
        (None, 8, {"2": 6}, STRAIGHT),
        (8, 8, {}, STRAIGHT),
        (None, 8, {}, UNKNOWN),
    ],
)
def test_what_a_contact_is_made_for_where_the_names_differ(
    original: float | None, candidate: float | None, carries: dict[str, float], kind: VerdictKind
) -> None:
    # A contact for a module's signal where a solenoid's current may go.
    assert contact_rating(original, candidate, carries, _2="park_neutral").kind is kind


def test_contacts_in_a_row_are_as_strong_as_the_weakest_and_side_by_side_as_the_strongest() -> None:
    def row(first: float, second: float) -> list[dict[str, Any]]:
        return [
            {"pins": ["1", "7"], "closed": ["P", "R", "N", "D"], "rated_a": first},
            {"pins": ["7", "2"], "closed": ["P", "N"], "rated_a": second},
        ]

    def judged(*contacts: dict[str, Any]) -> VerdictKind:
        facts = {"plugs": {"p": carried({"1": 6, "2": 6}, {"1": "start_feed", "2": "start_out"})}, "applications": [application("p", "A")]}
        pins = {"1": "start_feed", "2": "start_out", "7": "common_feed"}
        listed = [made("A", START, pins=FOUR), made("B", *contacts, pins=pins)]
        book, seat, parts = seat_and_parts(connector("c", 10), family("f", listed, **facts))
        return judge(book, seat, parts["B"]).kind

    assert judged(*row(8, 8)) is STRAIGHT
    assert judged(*row(8, 4)) is NO
    assert judged(*row(4, 8)) is REWIRE, "the feed's wire on 7 leaves out the weak one"
    assert judged(rated(4), *row(8, 8)) is STRAIGHT


# Moving wires -----------------------------------------------------------------------------------------------------------


def test_an_idle_wire_may_go_to_a_pin_whose_partner_has_no_wire() -> None:
    original = made("A", START, pins={"1": "start_feed", "2": "start_out", "3": "not_connected", "4": "not_connected"})
    # Two wires that the original joins to nothing have to make room, and there is one cavity without anything behind it.
    candidate = made(
        "B",
        {"pins": ["3", "4"], "closed": ["P", "N"]},
        {"pins": ["1", "5"], "closed": ["D"]},
        pins={"1": "ground", "2": "not_connected", "3": "start_feed", "4": "start_out", "5": "ground"},
    )
    wires = {"1": "start_feed", "2": "start_out", "3": "display", "4": "cruise_cutout"}
    facts = {"plugs": {"p": plug(wires)}, "applications": [application("p", "A")]}
    book, seat, parts = seat_and_parts(connector("c", 5), family("f", [original, candidate], **facts))
    found = judge(book, seat, parts["B"])
    assert found.kind is REWIRE and len(found.moves) == 4, found.reasons
    assert {found.moves["1"], found.moves["2"]} == {"3", "4"} and "2" in (found.moves["3"], found.moves["4"])


@pytest.mark.usefixtures("contradictions_apart")
def test_no_fewer_will_do_is_said_only_where_it_is_so() -> None:
    def moved(first: dict[str, Any]) -> bool:
        pins = {str(at): "display" for at in range(1, 8)}
        last = {"pins": ["3", "4"], "closed": ["D"]}
        idle = [{"pins": [pin, "case"], "closed": []} for pin in "27"]
        original = made("A", {"pins": ["1", "2"], "closed": ["R"]}, last, pins=pins)
        candidate = made("B", first, last, {"pins": ["5", "6"], "closed": ["R"]}, *idle, pins=pins)
        found = ask(original, candidate, {str(at): "display" for at in range(1, 5)})
        assert found.kind is REWIRE
        (needed,) = (one.detail for one in found.reasons if one.code == "behaviour.moves_needed")
        return needed.fewest

    assert moved({"pins": ["1", "2"], "closed": ["N"]})
    # What is between 1 and 7 may turn out to be what is between 1 and 2 of the original: then one wire would do.
    assert not moved({"pins": ["1", "7"], "ohms": {"P": "open", "N": "open", "D": "open"}})


def test_all_stated_goes_by_the_lever() -> None:
    """What the contact between 3 and 4 does in D nobody says, and no other contact names D either."""
    names = ("range_signal", "range_return")
    original = made(
        "A", {"pins": ["1", "2"], "ohms": {"P": 500, "R": "open", "N": 500, "D": "open"}}, pins=dict(zip("12", names, strict=True))
    )
    candidate = made("B", {"pins": ["3", "4"], "ohms": {"P": 500, "R": "open", "N": 500}}, pins=dict(zip("34", names, strict=True)))
    found = ask(original, candidate, {"1": "range_signal", "2": "range_return"})
    assert found.kind is UNKNOWN and "behaviour.moves_uncertain" in codes(found)


def test_a_position_that_nobody_metered_is_no_reason_to_refuse_the_others() -> None:
    """The module may read them right: with one resistance left out the answer is what is missing, not that the rest differ."""
    less = {at: ohms * 1.03 for at, ohms in FAR.items() if at != "P"}
    assert ladders(ladder(percent=1), ladder(less, 1), **READS).kind is UNKNOWN
    assert ladders(ladder(less, 1), ladder(percent=1), **READS).kind is UNKNOWN
    assert ladders(ladder(percent=1), ladder({**less, "R": 600}, 1), **READS).kind is NO, "this one is taken for D, whatever P reads"
