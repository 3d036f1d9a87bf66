"""The fewest probe pairs, and what a wrong reading tells: against brute force."""

from __future__ import annotations

import random
from itertools import combinations, permutations

import numpy as np
import pytest
from tests.fitting.reckoning import CASE, POSITIONS, look_alike, network, random_part
from tests.making import book, connector, family

from rangebook.electrics.cells import reading_agrees
from rangebook.electrics.diagnosis import Reading, diagnose
from rangebook.electrics.faults import Explanation
from rangebook.electrics.insulation import OTHERS, circuits_of
from rangebook.electrics.proof import in_order, moves, proof_sheet, tell_apart
from rangebook.electrics.relation import JOINED, OPEN, PathKind, Relation
from rangebook.schema.store import load_schemas


def model(*nodes: dict):
    return book(connector("c", 8), family("f", list(nodes))).parts


def pins_of(part) -> tuple:
    return tuple((pin, pin) for pin in (*part.pins, CASE))


def called(part) -> dict:
    """What a part calls its pins, by the list of circuits as it is shipped."""
    return circuits_of(part, load_schemas().circuits)


def reading(node: dict, a: str, b: str, position: str, stuck: tuple[int, bool] | None = None) -> float:
    """What a meter would read, by nodal analysis of its own (numpy), with one contact stuck open or closed."""
    contacts = list(node["contacts"])
    if stuck:
        index, closed = stuck
        contacts[index] = {"pins": contacts[index]["pins"], "closed": list(POSITIONS) if closed else []}
    joins, resistors = network({**node, "contacts": contacts}, position)
    # A join is a resistor of a millionth of an ohm here, which no reading in ohms would show.
    edges = [(x, y, 1e6) for x, y in joins] + [(x, y, 1 / ohms) for x, y, ohms, _ in resistors]
    reached, grown = {a}, True
    while grown:
        grown = False
        for x, y, _ in edges:
            if (x in reached) != (y in reached):
                reached |= {x, y}
                grown = True
    if b not in reached:
        return float("inf")
    nodes = sorted(reached - {b})
    laplacian = np.zeros((len(nodes), len(nodes)))
    for x, y, g in edges:
        if x not in reached:
            continue
        for one, other in ((x, y), (y, x)):
            if one != b:
                laplacian[nodes.index(one), nodes.index(one)] += g
                if other not in (b, one):
                    laplacian[nodes.index(one), nodes.index(other)] -= g
    current = np.zeros(len(nodes))
    current[nodes.index(a)] = 1
    return float(np.linalg.solve(laplacian, current)[nodes.index(a)])


def differs(good: float, bad: float) -> bool:
    """Whether two readings can be told apart, at 10 percent."""
    if float("inf") in (good, bad):
        return good != bad
    if good < 0.01 or bad < 0.01:
        return (good < 0.01) != (bad < 0.01)
    return abs(bad - good) > good * 0.1


def proves(node: dict, pairs, index: int, position: str) -> bool:
    """Whether some pair reads otherwise if the contact were in its other state in this position."""
    contact = node["contacts"][index]
    is_open = position not in contact["closed"] if "closed" in contact else contact["ohms"][position] == "open"
    return any(differs(reading(node, a, b, position), reading(node, a, b, position, (index, is_open))) for a, b in pairs)


def plain_part(rng: random.Random) -> dict:
    """A part whose ladders have the tolerance of ten percent, on at most five pins."""
    node = random_part(rng, pins=rng.randint(3, 5))
    for contact in node["contacts"]:
        contact.pop("tolerance_percent", None)
    return node


@pytest.mark.parametrize("seed", range(40))
def test_the_fewest_pairs_that_prove_every_contact(seed: int) -> None:
    node = plain_part(random.Random(seed))
    (part,) = model(node)
    sheet = proof_sheet(part, pins_of(part), POSITIONS, called(part))
    ends = [*node["pins"], CASE]
    all_pairs = list(combinations(ends, 2))
    items = [(index, at) for index in range(len(node["contacts"])) for at in POSITIONS]
    provable = {item for item in items if proves(node, all_pairs, *item)}
    chosen = [(probe.a, probe.b) for probe in sheet.probes]
    assert all(proves(node, chosen, *item) for item in provable), "the sheet proves all that can be proved"
    unproved = {(tuple(pair), at) for pair, where in sheet.unproved for at in where}
    assert unproved == {(tuple(node["contacts"][index]["pins"]), at) for index, at in set(items) - provable}
    table = {pair: {item for item in provable if proves(node, [pair], *item)} for pair in all_pairs}
    useful = [pair for pair in all_pairs if table[pair]]
    for fewer in combinations(useful, max(0, len(chosen) - 1)):
        assert not chosen or set().union(*(table[pair] for pair in fewer)) != provable, "and no fewer pairs would"
    assert sheet.exact


def put_somewhere(order) -> int:
    """How often a probe is put to a terminal: one that stays where it was is not."""
    return sum(len({*pair} - {*before}) for before, pair in zip([(), *order], order, strict=False))


@pytest.mark.parametrize("seed", range(40))
def test_the_fewest_moves_of_a_probe(seed: int) -> None:
    """Over every choice of equally few pairs in every order."""
    node = plain_part(random.Random(seed))
    (part,) = model(node)
    chosen = [(probe.a, probe.b) for probe in proof_sheet(part, pins_of(part), POSITIONS, called(part)).probes]
    if not 1 < len(chosen) <= 5:
        return
    all_pairs = list(combinations([*node["pins"], CASE], 2))
    items = [(index, at) for index in range(len(node["contacts"])) for at in POSITIONS]
    table = {pair: {item for item in items if proves(node, [pair], *item)} for pair in all_pairs}
    provable = set().union(*table.values())
    choices = [
        few
        for few in combinations([pair for pair in all_pairs if table[pair]], len(chosen))
        if set().union(*map(table.get, few)) == provable
    ]
    assert put_somewhere(chosen) == moves(chosen) == min(put_somewhere(order) for few in choices for order in permutations(few))


def test_the_order_of_given_pairs() -> None:
    """Legs of two pairs each from one pin: three of them take one break, which no order avoids."""
    legs = [(a, b) for leg in "xyz" for a, b in (("hub", leg), (leg, f"{leg}'"))]
    assert moves(in_order(legs[:4])) == 5
    assert moves(in_order(legs)) == 8 == min(put_somewhere(order) for order in permutations(legs))
    star = [("hub", str(n)) for n in range(12)]
    assert moves(in_order(star)) == 13 and sorted(in_order(star)) == sorted(star)
    assert in_order([]) == [] and moves([]) == 0


@pytest.mark.parametrize("seed", range(40))
def test_what_to_read_is_what_nodal_analysis_gives(seed: int) -> None:
    node = plain_part(random.Random(1_000 + seed))
    (part,) = model(node)
    for probe in proof_sheet(part, pins_of(part), POSITIONS, called(part)).probes:
        for position, expected in zip(POSITIONS, probe.expected, strict=True):
            assert reading_agrees(expected, reading(node, probe.a, probe.b, position))


def test_at_the_vehicle_only_what_has_a_wire_can_be_probed() -> None:
    node = {"number": "A", "connector": "c", "pins": {"1": "start_feed", "2": "start_out", "3": "ground"},
            "contacts": [{"pins": ["1", "2"], "closed": ["P", "N"]}, {"pins": ["3", CASE], "closed": ["P", "R", "N", "D"]}]}  # fmt: skip
    (part,) = model(node)
    bench = proof_sheet(part, pins_of(part), POSITIONS, called(part))
    assert [(one.a, one.b) for one in bench.probes] == [("1", "2"), ("3", CASE)]
    assert [one.path for one in bench.probes[0].expected] == [PathKind.JOINED, PathKind.OPEN, PathKind.JOINED, PathKind.OPEN]
    plug = proof_sheet(part, (("A", "1"), ("B", "2"), (CASE, CASE)), POSITIONS, {})
    assert [(one.a, one.b) for one in plug.probes] == [("A", "B")]
    assert plug.unproved == ((("3", CASE), POSITIONS),)


def test_a_contact_that_is_not_stated_is_said() -> None:
    (part,) = model({"number": "A", "connector": "c", "pins": {"1": "start_feed", "2": "start_out"}, "contacts": [{"pins": ["1", "2"]}]})
    sheet = proof_sheet(part, pins_of(part), POSITIONS, called(part))
    assert sheet.unstated == (("1", "2"),) and sheet.probes == ()


@pytest.mark.parametrize("seed", range(80))
def test_telling_two_look_alikes_apart(seed: int) -> None:
    rng = random.Random(2_000 + seed)
    one = plain_part(rng)
    other = look_alike(rng, one)
    for contact in other["contacts"]:
        contact.pop("tolerance_percent", None)
    parts = model(one, other)
    shared = [*(pin for pin in one["pins"] if pin in other["pins"]), CASE]
    found = tell_apart(*parts, shared, POSITIONS)
    surely = [
        (a, b, at)
        for a, b in combinations(shared, 2)
        for at in POSITIONS
        if differs(reading(one, a, b, at), reading(other, a, b, at)) and differs(reading(other, a, b, at), reading(one, a, b, at))
    ]
    if found is None:
        assert surely == []
    else:
        assert {(found.a, found.b, at) for at in found.readings} == {item for item in surely if item[:2] == (found.a, found.b)}


@pytest.mark.parametrize("seed", range(60))
def test_a_planted_fault_is_among_the_explanations(seed: int) -> None:
    rng = random.Random(3_000 + seed)
    node = plain_part(rng)
    (part,) = model(node)
    sheet = proof_sheet(part, pins_of(part), POSITIONS, called(part))
    fault = rng.choice([None, *((index, closed) for index in range(len(node["contacts"])) for closed in (False, True))])
    readings = [Reading(probe.a, probe.b, at, reading(node, probe.a, probe.b, at, fault)) for probe in sheet.probes for at in POSITIONS]
    found = diagnose(part, pins_of(part), POSITIONS, readings, called(part)).told
    if fault is None:
        assert Explanation("good") in found
    else:
        kind = "stuck_closed" if fault[1] else "stuck_open"
        ends = [*node["pins"], CASE]
        if any(differs(reading(node, a, b, at), reading(node, a, b, at, fault)) for a, b in combinations(ends, 2) for at in POSITIONS):
            assert Explanation(kind, tuple(node["contacts"][fault[0]]["pins"])) in found
        if any(proves(node, [(one.a, one.b) for one in sheet.probes], fault[0], at) and
               (reading(node, *node["contacts"][fault[0]]["pins"], at) == float("inf")) is fault[1] for at in POSITIONS):  # fmt: skip
            assert Explanation("good") not in found, "a fault that shows is not called good"


START = {"number": "A", "connector": "c", "pins": {"1": "start_feed", "2": "start_out", "3": "backup_feed", "4": "backup_out"},
         "contacts": [{"pins": ["1", "2"], "closed": ["P", "N"]}, {"pins": ["3", "4"], "closed": ["R"]}]}  # fmt: skip


def diagnosed(rows: dict[tuple[str, str], str]) -> list[Explanation]:
    """``rows``: pair -> a letter for each position, c closed, o open."""
    (part,) = model(START)
    readings = [
        Reading(a, b, at, 0.2 if letter == "c" else 5e6) for (a, b), row in rows.items() for at, letter in zip(POSITIONS, row, strict=True)
    ]
    return list(diagnose(part, tuple((pin, pin) for pin in part.pins), POSITIONS, readings, called(part)).told)


def test_one_detent_off() -> None:
    # The contact 1 - 2 closes in P and N, 3 - 4 in R. A position ahead of the lever it reads in P what R should read, in N what D should;
    # ahead of the last there is none: it stays in D, or is out of all contacts, and both are open here.
    assert diagnosed({("1", "2"): "ocoo", ("3", "4"): "cooo"}) == [Explanation("detent", ("1",))]
    assert diagnosed({("1", "2"): "ococ", ("3", "4"): "cooo"}) == [], "closed beyond the last position: no switch reads that"
    # A position behind: R reads what P should, N what R should, D what N should; behind the first it stays in P, or is out.
    assert diagnosed({("1", "2"): "ccoc", ("3", "4"): "ooco"}) == [Explanation("detent", ("-1",))]
    assert diagnosed({("1", "2"): "ococ", ("3", "4"): "ooco"}) == [Explanation("detent", ("-1",))]


def test_good_and_stuck_and_swapped() -> None:
    whole = {("1", "2"): "coco", ("3", "4"): "ocoo", ("2", OTHERS): "coco", ("4", OTHERS): "ocoo"}
    assert diagnosed(whole) == [Explanation("good")]
    assert diagnosed({("1", "2"): "coco", ("3", "4"): "ocoo"}) == [Explanation("not_proved", ("2", "4"))]
    assert diagnosed({("1", "2"): "coco", ("3", "4"): "oooo"}) == [Explanation("stuck_open", ("3", "4"))]
    assert diagnosed({("1", "2"): "cccc", ("3", "4"): "ocoo"}) == [Explanation("stuck_closed", ("1", "2"))]
    found = diagnosed({("1", "2"): "oooo", ("3", "4"): "oooo", ("1", "4"): "coco", ("3", "2"): "ocoo"})
    assert Explanation("swapped", ("2", "4")) in found and Explanation("good") not in found


def test_no_single_fault_explains_everything() -> None:
    assert diagnosed({("1", "2"): "occo", ("3", "4"): "cocc"}) == []


@pytest.mark.parametrize(
    ("expected", "ohms", "agrees"),
    [
        # Common practice, no source: a closed contact reads under 1 ohm, an open one over 1 megohm.
        (JOINED, 0.9, True), (JOINED, 1.5, False), (OPEN, 2e6, True), (OPEN, 9e5, False), (OPEN, float("inf"), True),
        (Relation(PathKind.OHMS, 1000, 5), 1049, True), (Relation(PathKind.OHMS, 1000, 5), 1051, False),
        (Relation(PathKind.OHMS, 1000, 5), float("inf"), False),
    ],
)  # fmt: skip
def test_what_a_meter_says(expected: Relation, ohms: float, agrees: bool) -> None:
    assert reading_agrees(expected, ohms) is agrees


def test_a_contact_of_which_nothing_is_stated_is_asked_for() -> None:
    """It has a line of its own, on which any reading will do; one that is stated in some positions is asked for where it is not."""
    pins = {"1": "start_feed", "2": "start_out", "3": "ground", "4": "range_signal"}
    contacts = [{"pins": ["1", "2"], "closed": ["P", "N"]}, {"pins": ["3", "4"]}, {"pins": ["1", "3"], "ohms": {"P": 100, "R": 200}}]
    (part,) = model({"number": "A-1", "connector": "c", "mount": "boss", "pins": pins, "contacts": contacts})
    sheet = proof_sheet(part, pins_of(part), POSITIONS, called(part))
    assert [{one.a, one.b} for one in sheet.asked] == [{"3", "4"}, {"1", "3"}]
    (whole,) = [one for one in sheet.lines if {one.a, one.b} == {"3", "4"}]
    assert {one.path for one in whole.expected} == {PathKind.UNKNOWN}
    assert sum({one.a, one.b} == {"1", "3"} for one in sheet.lines) == 1, "one that is probed anyhow has no second line"
