"""Verdicts worked out by hand: what the trade knows, what the design asks, and the laws that must hold."""

from __future__ import annotations

import random

import networkx as nx
import pytest

from rangebook.fitting.judge import judge
from rangebook.fitting.verdict import FITS, VerdictKind
from rangebook.reasons.reason import Outcome
from rangebook.words.reasons import reason_words
from tests.fitting.reckoning import CASE, look_alike, network, random_part
from tests.making import MOUNT, application, connector, family, part, plug, seat_and_parts

START, BACKUP = {"pins": ["1", "2"], "closed": ["P", "N"]}, {"pins": ["3", "4"], "closed": ["R"]}
LADDER = {"pins": ["5", "6"], "ohms": {"P": 9100, "R": 3900, "N": 1800, "D": 910}, "tolerance_percent": 5}
PINS = {"1": "start_feed", "2": "start_out", "3": "backup_feed", "4": "backup_out", "5": "range_signal", "6": "range_return"}


def ask(original: dict, candidate: dict, wires=None, *, more=(), app=None, fam=None, of="c", plug_more=None):
    """The verdict of one candidate on the one seat of a small book."""
    wires = PINS if wires is None else wires
    made, seat, parts = seat_and_parts(
        connector("c", 9),
        *more,
        family(
            "f",
            [original, candidate],
            plugs={"p": plug(wires, of=of, **(plug_more or {}))},
            applications=[application("p", original["number"], **(app or {}))],
            **(fam or {}),
        ),
    )
    return judge(made, seat, parts[candidate["number"]])


def switch(number: str, *contacts: dict, pins=None, **more) -> dict:
    return part(number, pins=PINS if pins is None else pins, contacts=list(contacts), **more)


A = switch("A", START, BACKUP, LADDER)


def texts(verdict, says: Outcome) -> str:
    return " | ".join(reason_words(reason) for reason in verdict.checked if reason.outcome is says)


def test_pins_that_no_wire_meets_are_idle_and_that_is_right() -> None:
    # Common practice, no source. Here thirteen pins on a plug of nine wires.
    nine = {**PINS, "7": "ground", "8": "display", "9": "shift_lock"}
    thirteen = {str(n): "not_connected" for n in range(10, 14)} | nine
    contacts = [START, BACKUP, LADDER, {"pins": ["7", CASE], "closed": ["P", "R", "N", "D"]}]
    made, seat, parts = seat_and_parts(
        connector("c", 14),
        family(
            "f",
            [part("MORE", pins=thirteen, contacts=contacts)],
            plugs={"p": plug(nine)},
            applications=[application("p", "MORE")],
        ),
    )
    verdict = judge(made, seat, parts["MORE"])
    assert verdict.kind is VerdictKind.STRAIGHT
    assert verdict.unused_pins == ("10", "11", "12", "13")
    assert "that is right" in texts(verdict, Outcome.FOR)


def test_a_part_with_more_pins_takes_the_place_of_parts_with_fewer() -> None:
    # Common practice, no source: a different pin count alone is never a reason to refuse. Here nine for four and for six; the four
    # have a fifth that is joined to nothing, where the nine has one too.
    four = {key: PINS[key] for key in "1234"} | {"8": "not_connected"}
    to_case = {"pins": ["7", CASE], "closed": ["P", "R", "N", "D"]}
    nine = {**PINS, "7": "ground", "8": "not_connected", "9": "not_connected"}
    for fewer, contacts in ((four, [START, BACKUP]), (PINS, [START, BACKUP, LADDER])):
        verdict = ask(
            part("OLD", pins=fewer, contacts=contacts),
            part("NEW", pins=nine, contacts=[START, BACKUP, LADDER, to_case]),
            {key: name for key, name in fewer.items() if name != "not_connected"},
        )
        assert verdict.kind is VerdictKind.STRAIGHT, verdict


def test_an_old_plug_needs_a_kit_or_does_not_go_on() -> None:
    # Common practice, no source: the newer generation changed from an oval to a rectangular housing.
    new = switch("NEW", START, BACKUP, LADDER, connector="rect")
    rect = connector("rect", 8, outline="rectangular")
    kit = {
        "kind": "kit", "id": "k", "number": "K-1", "title": "renewal", "from": "c", "to": "rect",
        "moves": {key: key for key in PINS}, "seals": [4, 6, 8], "blanks": 2,
    }  # fmt: skip
    without = ask(A, new, more=[rect])
    assert without.kind is VerdictKind.NO and [reason.check for reason in without.reasons] == ["mating"]
    with_kit = ask(A, new, more=[rect, kit])
    assert with_kit.kind is VerdictKind.WITH_PARTS
    assert [(one.kit, one.seal, one.blanks) for one in with_kit.needs] == [("k", 6, 0)]
    assert dict(with_kit.moves) == {key: key for key in PINS}


def test_the_kit_must_have_a_place_for_every_wire_and_each_wire_a_place_of_its_own() -> None:
    rect = connector("rect", 8)
    new = switch("NEW", START, BACKUP, LADDER, connector="rect")
    base = {"kind": "kit", "id": "k", "number": "K-1", "title": "renewal", "from": "c", "to": "rect"}
    short = ask(A, new, more=[rect, {**base, "moves": {key: key for key in "12345"}}])
    assert short.kind is VerdictKind.NO and "no place for the wire in 6" in texts(short, Outcome.AGAINST)
    twice = ask(A, new, more=[rect, {**base, "moves": {**{key: key for key in "12345"}, "6": "5"}}])
    assert twice.kind is VerdictKind.NO and "one cavity" in texts(twice, Outcome.AGAINST)


def test_a_plug_that_mates_works_one_way_only() -> None:
    made = {"terminal": {"style": "blade", "width_mm": 2.8, "on_switch": "male"}, "sealed": "yes"}
    c, takes_c = connector("c", 9, **made), connector("d", 9, mates=["c"], **made)

    def asked(original: dict, candidate: dict, of: str):
        facts = {"plugs": {"p": plug(PINS, of=of)}, "applications": [application("p", original["number"])]}
        book, seat, parts = seat_and_parts(c, takes_c, family("f", [original, candidate], **facts))
        return judge(book, seat, parts[candidate["number"]])

    assert asked(A, switch("NEW", START, BACKUP, LADDER, connector="d"), "c").kind is VerdictKind.STRAIGHT
    back = asked(switch("A", START, BACKUP, LADDER, connector="d"), switch("B", START, BACKUP, LADDER), "d")
    assert back.kind is VerdictKind.NO


def test_every_reason_against_is_given_mount_mating_behaviour_in_this_order() -> None:
    other = {"shaft": {"shape": "square", "across_mm": 9.5}, "bolts": MOUNT["bolts"]}
    bad = switch("B", START, {"pins": ["3", "4"], "closed": ["R", "D"]}, LADDER, mount="other")
    verdict = ask(A, bad, fam={"mounts": {"boss": MOUNT, "other": other}})
    assert verdict.kind is VerdictKind.NO
    assert [reason.check for reason in verdict.reasons] == ["mount", "behaviour", "safety"]


@pytest.mark.parametrize(("factor", "word"), [(1.0, "straight"), (1.05, "straight"), (1.051, "no"), (0.95, "straight"), (0.949, "no")])
def test_resistances_agree_within_the_originals_tolerance(factor: float, word: str) -> None:
    ohms = {at: value * factor for at, value in LADDER["ohms"].items()}
    verdict = ask(A, switch("B", START, BACKUP, {"pins": ["5", "6"], "ohms": ohms, "tolerance_percent": 20}))
    assert verdict.kind == word
    if word == "no":
        assert "pull-up" in texts(verdict, Outcome.AGAINST), "what would have to be known is said"


def test_ten_percent_where_no_tolerance_is_stated() -> None:
    bare = {"pins": ["5", "6"], "ohms": LADDER["ohms"]}
    for factor, word in ((1.1, VerdictKind.STRAIGHT), (1.11, VerdictKind.NO)):
        ohms = {at: value * factor for at, value in LADDER["ohms"].items()}
        assert ask(switch("A", START, BACKUP, bare), switch("B", START, BACKUP, {"pins": ["5", "6"], "ohms": ohms})).kind is word


def test_a_ladder_that_differs_but_is_read_alike_is_as_good_as_equal() -> None:
    reads = {"reads": {"pins": ["5", "6"], "pull_up_ohms": 1000, "volts": 5}}
    ohms = {at: value * 1.12 for at, value in LADDER["ohms"].items()}
    other = switch("B", START, BACKUP, {"pins": ["5", "6"], "ohms": ohms, "tolerance_percent": 5})
    assert ask(A, other).kind is VerdictKind.NO
    verdict = ask(A, other, plug_more=reads)
    assert verdict.kind is VerdictKind.STRAIGHT and "V are left" in texts(verdict, Outcome.FOR)


def test_a_ladder_that_is_read_wrongly_names_the_position() -> None:
    reads = {"reads": {"pins": ["5", "6"], "pull_up_ohms": 1000, "volts": 5}}
    ohms = dict(zip("PRND", [3900, 1800, 910, 430], strict=True))
    verdict = ask(A, switch("B", START, BACKUP, {"pins": ["5", "6"], "ohms": ohms}), plug_more=reads)
    assert verdict.kind is VerdictKind.NO
    assert "P would be taken for R" in texts(verdict, Outcome.AGAINST)


def test_wires_that_change_places_are_a_rewire_with_the_fewest_moves() -> None:
    swapped = {**PINS, "3": "range_signal", "5": "backup_feed"}
    other = part("B", pins=swapped, contacts=[START, {"pins": ["5", "4"], "closed": ["R"]}, {**LADDER, "pins": ["3", "6"]}])
    verdict = ask(A, other)
    assert verdict.kind is VerdictKind.REWIRE and dict(verdict.moves) == {"3": "5", "5": "3"} and verdict.equal_answers == 1


def test_symmetric_answers_are_counted_and_the_one_of_the_same_names_is_given() -> None:
    pins = {"1": "not_connected", "2": "not_connected", **{key: PINS[key] for key in "3456"}, "7": "start_out", "8": "start_feed"}
    verdict = ask(A, part("B", pins=pins, contacts=[{"pins": ["7", "8"], "closed": ["P", "N"]}, BACKUP, LADDER]))
    assert verdict.kind is VerdictKind.REWIRE
    assert dict(verdict.moves) == {"1": "8", "2": "7"} and verdict.equal_answers == 2
    assert "either way round" in texts(verdict, Outcome.FOR)


def test_wires_may_move_behind_a_kit_too() -> None:
    rect = connector("rect", 8)
    kit = {
        "kind": "kit", "id": "k", "number": "K-1", "title": "renewal", "from": "c", "to": "rect",
        "moves": {key: key for key in PINS}, "seals": [6],
    }  # fmt: skip
    swapped = part("B", connector="rect", pins={**PINS, "1": "backup_feed", "3": "start_feed"},
                   contacts=[{"pins": ["3", "2"], "closed": ["P", "N"]}, {"pins": ["1", "4"], "closed": ["R"]}, LADDER])  # fmt: skip
    verdict = ask(A, swapped, more=[rect, kit])
    assert verdict.kind is VerdictKind.REWIRE and [one.kit for one in verdict.needs] == ["k"]
    assert dict(verdict.moves) == {**{key: key for key in PINS}, "1": "3", "3": "1"}


SUPPLY = {**PINS, "7": "supply", "8": "signal_ground"}
POWERED = {"pin": "5", "supply": "7", "ground": "8", "kind": "volts", "values": {"P": 1, "R": 2, "N": 3, "D": 4}, "tolerance": 0.2}
COMMON = {
    "contacts": [START, BACKUP],
    "pins": {**{key: PINS[key] for key in "1234"}, "5": "range_signal", "7": "supply", "8": "signal_ground"},
}
WIRED = COMMON["pins"]


@pytest.mark.parametrize(
    ("change", "word", "says"),
    [
        ({}, "straight", ""),
        ({"values": {"P": 1.2, "R": 2, "N": 3, "D": 3.8}}, "straight", ""),
        ({"values": {"P": 1.3, "R": 2, "N": 3, "D": 4}}, "no", "1 against 1.3 V"),
        ({"kind": "duty_percent"}, "no", "a duty cycle"),
        ({"supply": "8", "ground": "7"}, "rewire", "7 -> 8, 8 -> 7"),
        ({"supply": "case", "ground": "8"}, "no", "its supply is on cavity 7 in the original"),
        ({"values": {"P": 1, "R": 2, "N": 3}}, "unknown", "not stated"),
        ({"ground": None}, "unknown", "the ground pin of this one is not stated"),
    ],
)
def test_powered_outputs(change: dict, word: str, says: str) -> None:
    changed = {key: value for key, value in {**POWERED, **change}.items() if value is not None}
    verdict = ask(part("A", **COMMON, signals=[POWERED]), part("B", **COMMON, signals=[changed]), WIRED)
    where = {"no": Outcome.AGAINST, "unknown": Outcome.MISSING}.get(word, Outcome.FOR)
    assert verdict.kind == word and says in texts(verdict, where)


def test_an_output_against_a_contact_is_no_and_an_output_on_an_idle_pin_does_not_count() -> None:
    passive = part("B", pins=WIRED, contacts=[START, BACKUP, {"pins": ["5", "8"], "closed": ["P"]}])
    assert ask(part("A", **COMMON, signals=[POWERED]), passive, WIRED).kind is VerdictKind.NO
    four = {key: PINS[key] for key in "1234"}
    assert ask(part("A", pins=four, contacts=[START, BACKUP]), part("B", **COMMON, signals=[POWERED]), four).kind is VerdictKind.STRAIGHT


@pytest.mark.parametrize(
    ("lacks", "check", "says"),
    [
        ({"contacts": None}, "behaviour", "its contacts are not stated"),
        ({"contacts": None, "pins": None}, "behaviour", "its pins and contacts are not stated"),
        ({"mount": None}, "mount", "how it bolts on"),
        ({"connector": None}, "mating", "which connector"),
        ({"contacts": [START, BACKUP, {"pins": ["5", "6"]}]}, "behaviour", "is not stated"),
        ({"contacts": [START, BACKUP]}, "behaviour", "what pin 5 of this one does"),
        ({"contacts": [START, BACKUP, {**LADDER, "ohms": {"P": 9100, "R": 3900, "N": 1800}}]}, "behaviour", "in D"),
    ],
)
def test_what_is_missing_is_unknown_and_said(lacks: dict, check: str, says: str) -> None:
    verdict = ask(A, {key: value for key, value in {**A, "number": "B", **lacks}.items() if value is not None})
    assert verdict.kind is VerdictKind.UNKNOWN
    assert verdict.measure_first.check == check and says in texts(verdict, Outcome.MISSING)
    assert all(reason.outcome is Outcome.MISSING for reason in verdict.reasons)


def test_unknown_tells_what_is_settled_and_what_to_measure_first() -> None:
    bare = {**A, "number": "B", "contacts": [START, {"pins": ["3", "4"]}, {**LADDER, "ohms": {"P": 9100, "R": 3900, "N": 1800}}]}
    verdict = ask(A, bare)
    assert verdict.kind is VerdictKind.UNKNOWN
    assert {reason.check for reason in verdict.checked if reason.outcome is Outcome.FOR} == {"mount", "mating"}
    # The backup contact is open in four positions, the ladder in one.
    assert "cavity 3" in reason_words(verdict.measure_first)


def test_a_connector_that_is_not_in_the_book_is_unknown_not_no() -> None:
    verdict = ask(A, {**A, "number": "B", "connector": "nowhere"})
    assert verdict.kind is VerdictKind.UNKNOWN and "not in the book" in reason_words(verdict.reasons[0])


def test_a_known_difference_outweighs_what_is_missing() -> None:
    assert ask(A, switch("B", {"pins": ["1", "2"], "closed": ["P"]}, BACKUP)).kind is VerdictKind.NO


def test_a_lever_with_fewer_positions_asks_for_no_others() -> None:
    other = switch("B", START, BACKUP, {**LADDER, "ohms": {**LADDER["ohms"], "D": 560}})
    assert ask(A, other).kind is VerdictKind.NO
    longer = {"positions": ["P", "R", "N", "2", "D"]}
    both = [switch(one["number"], START, BACKUP, {**LADDER, "ohms": {**one["contacts"][2]["ohms"], "2": 620}}) for one in (A, other)]
    assert ask(*both, fam=longer).kind is VerdictKind.NO
    assert ask(*both, fam=longer, app={"lever": ["P", "R", "N", "2"]}).kind is VerdictKind.STRAIGHT


# Safety -------------------------------------------------------------------------------------------------------------
# 49 CFR 571.102 S3.1.3: the starter is inoperative in forward and reverse positions.
# 49 CFR 571.108 Table I-a: the backup lamp is lit in reverse and not in forward motion. UN Regulation No. 48, paragraph 6.4.7, from
# memory: it can be lit only if the reverse gear is engaged.


@pytest.mark.parametrize("closed", [["P", "N", "D"], ["P", "N", "R"], ["D"]])
def test_a_start_path_in_gear_is_never_a_fit(closed: list[str]) -> None:
    unsafe = {"pins": ["1", "2"], "closed": closed}
    # Even where the original has the same fault: its own seat included.
    for original in (A, switch("A", unsafe, BACKUP, LADDER)):
        verdict = ask(original, switch("B", unsafe, BACKUP, LADDER))
        assert verdict.kind is VerdictKind.NO
        assert any(reason.check == "safety" and "starter" in reason_words(reason) for reason in verdict.reasons)
    own = ask(switch("A", unsafe, BACKUP, LADDER), switch("B", START, BACKUP, LADDER))
    assert own.kind is VerdictKind.NO, "it does not do what the original did"


def test_a_start_path_over_other_contacts_and_through_resistors_counts() -> None:
    round_about = [
        {"pins": ["1", "7"], "closed": ["P", "R", "N", "D"]},
        {"pins": ["7", "2"], "ohms": {"P": 0, "R": "open", "N": 0, "D": 4700}},
    ]
    pins = {**PINS, "7": "ground"}
    unsafe = part("B", pins=pins, contacts=[*round_about, BACKUP, LADDER])
    verdict = ask(A, unsafe)
    assert verdict.kind is VerdictKind.NO and "in D" in next(reason_words(one) for one in verdict.reasons if one.check == "safety")


def test_a_feed_that_several_contacts_share_is_guarded_too() -> None:
    pins = {"1": "common_feed", "2": "start_out", "3": "backup_out"}
    good = part("A", pins=pins, contacts=[{"pins": ["1", "2"], "closed": ["P", "N"]}, {"pins": ["1", "3"], "closed": ["R"]}])
    bad = part("B", pins=pins, contacts=[{"pins": ["1", "2"], "closed": ["P", "N", "D"]}, {"pins": ["1", "3"], "closed": ["R"]}])
    verdict = ask(good, bad, pins, app={"lever": ["P", "R", "N"]})
    assert verdict.kind is VerdictKind.NO and [reason.check for reason in verdict.reasons] == ["safety"]
    assert ask(good, {**good, "number": "C"}, pins).kind is VerdictKind.STRAIGHT


def test_a_position_that_the_lever_lacks_is_checked_for_safety_too() -> None:
    unsafe = switch("B", {"pins": ["1", "2"], "closed": ["P", "N", "D"]}, BACKUP, LADDER)
    verdict = ask(A, unsafe, app={"lever": ["P", "R", "N"]})
    assert verdict.kind is VerdictKind.NO and [reason.check for reason in verdict.reasons] == ["safety"]


def test_backup_lamps_outside_reverse_are_refused() -> None:
    verdict = ask(A, switch("B", START, {"pins": ["3", "4"], "closed": ["R", "D"]}, LADDER))
    assert any(reason.check == "safety" and "backup lamps" in reason_words(reason) for reason in verdict.reasons)


def test_a_start_path_that_is_not_stated_is_never_straight() -> None:
    verdict = ask(A, switch("B", {"pins": ["1", "2"]}, BACKUP, LADDER))
    assert verdict.kind is VerdictKind.UNKNOWN and any(reason.check == "safety" for reason in verdict.reasons)


def test_where_wire_and_pin_are_called_differently_safety_goes_by_both() -> None:
    wires = {**PINS, "3": "start_feed", "4": "start_out"}
    verdict = ask(A, switch("B", START, BACKUP, LADDER), wires)
    assert verdict.kind is VerdictKind.NO, "a wire called start_out meets the backup contact, closed in R"


# Laws ---------------------------------------------------------------------------------------------------------------


def random_case(seed: int):
    rng = random.Random(seed)
    original = random_part(rng)
    candidate = look_alike(rng, original)
    wires = [pin for pin in original["pins"] if rng.random() < 0.8] or [next(iter(original["pins"]))]
    return rng, original, candidate, wires


@pytest.mark.usefixtures("contradictions_apart")
@pytest.mark.parametrize("seed", range(150))
def test_a_part_fits_its_own_seat(seed: int) -> None:
    _, original, candidate, wires = random_case(seed)
    assert ask(original, candidate, wires) is not None
    made, seat, parts = seat_and_parts(
        connector("c", 8), family("f", [original], plugs={"p": plug(wires)}, applications=[application("p", "A-1")])
    )
    assert judge(made, seat, parts["A-1"]).kind is VerdictKind.STRAIGHT


@pytest.mark.parametrize("seed", range(150))
def test_removing_a_wire_never_turns_a_fit_into_no(seed: int) -> None:
    _, original, candidate, wires = random_case(seed)
    before = ask(original, candidate, wires)
    for gone in wires:
        left = [wire for wire in wires if wire != gone]
        if left and before.kind is VerdictKind.STRAIGHT:
            assert ask(original, candidate, left).kind is VerdictKind.STRAIGHT


@pytest.mark.usefixtures("contradictions_apart")
@pytest.mark.parametrize("seed", range(150))
def test_an_idle_pin_never_changes_a_verdict(seed: int) -> None:
    rng, original, candidate, wires = random_case(seed)
    free = [label for label in "12345678" if label not in candidate["pins"] and label not in wires]
    if not free:
        free = ["X1"]
    more = {**candidate, "pins": {**candidate["pins"], rng.choice(free): "not_connected"}}
    before, after = ask(original, candidate, wires), ask(original, more, wires)
    assert (before.kind, len(before.moves)) == (after.kind, len(after.moves))


@pytest.mark.parametrize("seed", range(150))
def test_relabelling_the_cavities_on_both_sides_changes_nothing(seed: int) -> None:
    rng, original, candidate, wires = random_case(seed)
    order = list("12345678")
    rng.shuffle(order)
    new = dict(zip("12345678", order, strict=True)) | {CASE: CASE}

    def relabelled(one: dict) -> dict:
        return {
            **one,
            "pins": {new[pin]: name for pin, name in one["pins"].items()},
            "contacts": [{**contact, "pins": [new[end] for end in contact["pins"]]} for contact in one["contacts"]],
        }

    before, after = ask(original, candidate, wires), ask(relabelled(original), relabelled(candidate), [new[wire] for wire in wires])
    assert (before.kind, len(before.moves), before.equal_answers) == (after.kind, len(after.moves), after.equal_answers)


@pytest.mark.parametrize("seed", range(200))
def test_an_unsafe_path_is_never_a_fit(seed: int) -> None:
    rng, original, candidate, wires = random_case(seed)
    if len(wires) < 2:
        return
    feed, out = rng.sample(wires, 2)
    labelled = {wire: {feed: "start_feed", out: "start_out"}.get(wire) for wire in wires}
    verdict = ask(original, candidate, labelled)
    if verdict.kind in FITS or verdict.kind is VerdictKind.REWIRE:
        place = {wire: verdict.moves.get(wire, wire) for wire in wires}

        for position in ("R", "D"):
            joins, resistors = network(candidate, position)
            graph = nx.Graph([*joins, *((a, b) for a, b, _, _ in resistors)])
            ends = place[feed], place[out]
            assert not (ends[0] in graph and ends[1] in graph and nx.has_path(graph, *ends)), (seed, verdict)
