"""More than 10,000 random parts and seats: the engine's verdict against an independent reckoning, without a disagreement.

The seeds are the numbers below; a case is rebuilt from its seed alone.
"""

from __future__ import annotations

import copy
import itertools
import random

import networkx as nx
import pytest

from rangebook.fitting.judge import judge
from rangebook.fitting.verdict import VerdictKind
from tests.fitting import reckoning
from tests.fitting.reckoning import CASE, CAVITIES, POSITIONS, best_moves, completions, crowded, look_alike, random_part, same
from tests.making import application, connector, family, plug, seat_and_parts

CHUNKS, PER_CHUNK = 24, 500
pytestmark = pytest.mark.usefixtures("contradictions_apart")


def verdict(original: dict, candidate: dict, wires: list[str]):
    made, seat, parts = seat_and_parts(
        connector("c", 8),
        family(
            "f",
            [original, candidate],
            plugs={"p": plug(dict.fromkeys(wires, "range_signal"))},
            applications=[application("p", original["number"])],
        ),
    )
    return judge(made, seat, parts[candidate["number"]])


def some_wires(rng: random.Random, original: dict, most: int = 8) -> list[str]:
    """Mostly cavities with a pin, now and then one without."""
    wires = [pin for pin in original["pins"] if rng.random() < 0.8]
    wires += [cavity for cavity in CAVITIES if cavity not in original["pins"] and rng.random() < 0.1]
    wires = sorted(wires)[:most]
    return wires or [rng.choice(CAVITIES)]


@pytest.mark.parametrize("chunk", range(CHUNKS))
@pytest.mark.slow
def test_straight_or_not(chunk: int) -> None:
    words = set()
    for number in range(PER_CHUNK):
        rng = random.Random(chunk * PER_CHUNK + number)
        original = random_part(rng)
        candidate = look_alike(rng, original) if rng.random() < 0.9 else random_part(rng, "B-2")
        wires = some_wires(rng, original)
        found = verdict(original, candidate, wires)
        here = {wire: wire for wire in wires}
        agrees = same(original, candidate, wires, here)
        unsure = agrees and crowded(original, candidate, wires, here)
        assert (found.kind is VerdictKind.STRAIGHT) is (agrees and not unsure), (chunk, number, found)
        if found.kind is VerdictKind.UNKNOWN:
            # Everything is stated, but at the worst of the tolerances one position may read as another.
            assert unsure or "behaviour.moves_uncertain" in {reason.code for reason in found.reasons}, (chunk, number, found)
            assert "behaviour.readings_overlap" in {reason.code for reason in found.reasons}, (chunk, number, found)
        if found.kind is VerdictKind.REWIRE:
            place = {wire: found.moves.get(wire, wire) for wire in wires}
            assert len(set(place.values())) == len(wires)
            assert same(original, candidate, wires, place) and not crowded(original, candidate, wires, place), (chunk, number, found)
        words.add(found.kind)
    assert words == set(VerdictKind) - {VerdictKind.WITH_PARTS}, "the chunk shows every outcome"


@pytest.mark.parametrize("chunk", range(8))
def test_moved_wires_against_every_assignment(chunk: int) -> None:
    kinds = set()
    for number in range(20):
        rng = random.Random(50_000 + chunk * 20 + number)
        original = random_part(rng, pins=rng.randint(3, 5))
        candidate = look_alike(rng, original)
        wires = some_wires(rng, original, most=3)
        found = verdict(original, candidate, wires)
        expected = best_moves(original, candidate, wires)
        if expected is None:
            assert found.kind is VerdictKind.NO, (chunk, number, found)
        elif found.kind is VerdictKind.UNKNOWN:
            assert "behaviour.readings_overlap" in {reason.code for reason in found.reasons}, (chunk, number, found)
        elif expected[0] == 0:
            assert found.kind is VerdictKind.STRAIGHT
        else:
            assert found.kind is VerdictKind.REWIRE, (chunk, number, found)
            assert len(found.moves) == expected[0], (chunk, number, found, expected)
            # Empty cavities are one as good as another, so the engine counts them once and the reckoning each.
            assert found.equal_answers <= expected[1]
            if all(any(wire in one["pins"] for one in original["contacts"]) for wire in wires):
                kinds.add("counted")
        kinds.add(found.kind)
    assert VerdictKind.REWIRE in kinds


@pytest.mark.parametrize("seed", range(120))
def test_moved_wires_against_graph_isomorphism(seed: int) -> None:
    """networkx: the wires with what is between each two of them, as a subgraph of the part's pins."""
    rng = random.Random(70_000 + seed)
    original = random_part(rng, pins=rng.randint(5, 8))
    original["contacts"] = [one for one in original["contacts"] if "closed" in one and any(one["closed"])] or [
        {"pins": list(original["pins"])[:2], "closed": ["P"]}
    ]
    touched = {end for one in original["contacts"] for end in one["pins"]}
    original["pins"] = {pin: "range_signal" if pin in touched else "not_connected" for pin in original["pins"]}
    order = list(CAVITIES)
    rng.shuffle(order)
    moved = dict(zip(CAVITIES, order, strict=True)) | {CASE: CASE}
    candidate = {
        **original,
        "number": "B-2",
        "pins": {moved[pin]: name for pin, name in original["pins"].items()},
        "contacts": [{**one, "pins": [moved[end] for end in one["pins"]]} for one in original["contacts"]],
    }
    if rng.random() < 0.3:
        candidate["contacts"] = [*candidate["contacts"][:-1], {"pins": candidate["contacts"][-1]["pins"], "closed": ["R", "D"]}]
    wires = [pin for pin in original["pins"] if pin in touched]
    small, large = _labelled(original, wires), _labelled(candidate, list(CAVITIES))
    matcher = nx.algorithms.isomorphism.GraphMatcher(
        large, small, node_match=lambda a, b: a["case"] == b["case"], edge_match=lambda a, b: a["row"] == b["row"]
    )
    matches = matcher.subgraph_isomorphisms_iter()
    best = [sum(pin != wire for pin, wire in match.items() if wire != CASE) for match in matches]
    found = verdict(original, candidate, wires)
    if not best:
        assert found.kind is VerdictKind.NO, found
    elif min(best) == 0:
        assert found.kind is VerdictKind.STRAIGHT
    else:
        assert (found.kind, len(found.moves)) == (VerdictKind.REWIRE, min(best)), found
        assert found.equal_answers == best.count(min(best)), found


def _labelled(part: dict, pins: list[str]) -> nx.Graph:
    """Pins and the housing as nodes; between each two that are ever joined an edge with the positions in which they are."""
    graph = nx.Graph()
    graph.add_nodes_from(pins, case=False)
    graph.add_node(CASE, case=True)
    nodes = [*pins, CASE]
    for index, a in enumerate(nodes):
        for b in nodes[index + 1 :]:
            row = []
            for position in POSITIONS:
                joins, _ = reckoning.network(part, position)
                merge = nx.Graph(joins)
                row.append(a in merge and b in merge and nx.has_path(merge, a, b))
            if any(row):
                graph.add_edge(a, b, row=row)
    return graph


@pytest.mark.parametrize("chunk", range(6))
@pytest.mark.slow
def test_what_is_not_stated_never_decides(chunk: int) -> None:
    """Facts are taken away; whatever is then still said must hold however they are filled in again."""
    words = set()
    for number in range(100):
        rng = random.Random(90_000 + chunk * 100 + number)
        original = random_part(rng)
        candidate = look_alike(rng, original)
        wires = some_wires(rng, original)
        for part in (original, candidate):
            for one in part["contacts"]:
                if rng.random() < 0.3:
                    if "closed" in one:
                        del one["closed"]
                    else:
                        one["ohms"] = {at: value for at, value in one["ohms"].items() if rng.random() < 0.5}
                        if not one["ohms"]:
                            del one["ohms"]
        found = verdict(original, candidate, wires)
        words.add(found.kind)
        place = {wire: wire for wire in wires}
        for left in completions(original, rng, 4):
            for right in completions(candidate, rng, 4):
                agrees = same(left, right, wires, place)
                if found.kind is VerdictKind.STRAIGHT:
                    assert agrees, (chunk, number, found)
                if found.kind in (VerdictKind.NO, VerdictKind.REWIRE):
                    assert not agrees, (chunk, number, found)
        if found.kind is VerdictKind.UNKNOWN:
            assert found.measure_first is not None
    assert {VerdictKind.STRAIGHT, VerdictKind.UNKNOWN, VerdictKind.NO} <= words


def without_two(rng: random.Random, part: dict) -> tuple[dict, list[dict]]:
    """A part of which two positions of one contact are not stated any more, and every part that it may be: joined, open, some ohms."""
    at = rng.randrange(len(part["contacts"]))
    contact = part["contacts"][at]
    whole = contact.get("ohms") or {one: 0 if one in contact["closed"] else "open" for one in POSITIONS}
    gone = rng.sample(POSITIONS, 2)
    bare = {key: value for key, value in contact.items() if key not in ("closed", "ohms")}

    def saying(ohms: dict) -> dict:
        return {**part, "contacts": [{**bare, "ohms": ohms} if place == at else one for place, one in enumerate(part["contacts"])]}

    left = {position: ohms for position, ohms in whole.items() if position not in gone}
    filled = itertools.product(sorted({0, "open", 470, *map(whole.get, gone)}, key=str), repeat=2)
    return saying(left), [saying({**left, **dict(zip(gone, values, strict=True))}) for values in filled]


@pytest.mark.parametrize("chunk", range(4))
@pytest.mark.slow
def test_a_verdict_holds_under_every_completion(chunk: int) -> None:
    """By brute force on small parts: what goes on goes on however the facts that are left out turn out, and what does not, never."""
    words = set()
    for number in range(100):
        rng = random.Random(130_000 + chunk * 100 + number)
        original = random_part(rng, pins=rng.randint(3, 4))
        candidate = look_alike(rng, original) if rng.random() < 0.6 else {**copy.deepcopy(original), "number": "B"}
        wires = some_wires(rng, original)
        sides = [without_two(rng, one) if rng.random() < 0.6 else (one, [one]) for one in (original, candidate)]
        (one, olds), (other, news) = sides
        found = verdict(one, other, wires)
        words.add(found.kind)
        place = {wire: wire for wire in wires}
        outcomes = {same(old, new, wires, place) for old, new in itertools.product(olds, news)}
        if found.kind is VerdictKind.STRAIGHT:
            assert outcomes == {True}, (chunk, number, found)
        if found.kind in (VerdictKind.NO, VerdictKind.REWIRE):
            assert outcomes == {False}, (chunk, number, found)
        if outcomes == {True, False}:
            assert found.kind is VerdictKind.UNKNOWN, (chunk, number, found)
    assert {VerdictKind.STRAIGHT, VerdictKind.UNKNOWN, VerdictKind.NO} <= words


@pytest.mark.parametrize("seed", range(24))
def test_no_means_that_moving_wires_would_not_help_either(seed: int) -> None:
    rng = random.Random(110_000 + seed)
    original = random_part(rng, pins=rng.randint(3, 5))
    candidate = look_alike(rng, original)
    for one in candidate["contacts"]:
        if rng.random() < 0.5:
            one.pop("closed", None)
            one.pop("ohms", None)
    wires = some_wires(rng, original, most=2)
    found = verdict(original, candidate, wires)
    if found.kind is VerdictKind.NO:
        for filled in completions(candidate, rng, 6):
            assert best_moves(original, filled, wires) is None, (seed, found)
