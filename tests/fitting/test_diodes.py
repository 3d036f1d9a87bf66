"""Diodes in contacts: a path one way is not a path both ways, and for safety it is one whichever way it goes.

The law is held against ideal diodes reckoned by networkx: what conducts from where to where with the diodes as arrows, and the resistances
with all of them open and all of them closed, between which every state of them lies (Rayleigh's law: Doyle and Snell, Random Walks and
Electric Networks (1984), from memory).
"""

from __future__ import annotations

import itertools
import random
from typing import Any

import networkx as nx
import pytest

from rangebook.electrics.behaviour import behaviour
from rangebook.electrics.proof import proof_sheet
from rangebook.electrics.relation import ONE_WAY, ONE_WAY_BACK, PathKind
from rangebook.fitting.judge import judge
from rangebook.fitting.verdict import Verdict, VerdictKind
from tests.fitting import reckoning
from tests.fitting.reckoning import CASE, CAVITIES, POSITIONS
from tests.making import application, book, connector, family, part, plug, seat_and_parts

PINS = {"1": "start_feed", "2": "start_out", "3": "code_1", "4": "code_2", "5": "range_return", "6": "common_feed"}


def made(number: str, *contacts: dict[str, Any], pins: dict[str, str] = PINS) -> dict[str, Any]:
    return part(number, pins=pins, contacts=list(contacts))


def ask(original: dict[str, Any], candidate: dict[str, Any], wires: Any = PINS) -> Verdict:
    facts = {"plugs": {"p": plug(wires)}, "applications": [application("p", "A")]}
    loaded, seat, parts = seat_and_parts(connector("c", 8), family("f", [original, candidate], **facts))
    return judge(loaded, seat, parts["B"])


START = {"pins": ["1", "2"], "closed": ["P", "N"]}
CODE = {"pins": ["3", "5"], "closed": ["R", "D"]}
OTHER = [{"pins": ["4", "5"], "closed": ["P", "D"]}, {"pins": ["6", "case"], "closed": []}]


def pair(one: dict[str, Any], other: dict[str, Any]) -> Verdict:
    return ask(made("A", START, one, *OTHER), made("B", START, other, *OTHER))


@pytest.mark.parametrize(
    ("one", "other", "kind"),
    [
        ({"one_way": True}, {"one_way": True}, VerdictKind.STRAIGHT),
        ({"one_way": True}, {}, VerdictKind.NO),
        ({}, {"one_way": True}, VerdictKind.NO),
        ({"one_way": False}, {}, VerdictKind.STRAIGHT),
        ({"one_way": True}, {"one_way": True, "pins": ["5", "3"]}, VerdictKind.NO),
        ({"one_way": True}, {"one_way": True, "closed": None}, VerdictKind.UNKNOWN),
        ({}, {"one_way": True, "closed": None}, VerdictKind.UNKNOWN),
    ],
)
def test_a_diode_is_a_contact_one_way_only(one: dict[str, Any], other: dict[str, Any], kind: VerdictKind) -> None:
    stated = [{key: value for key, value in {**CODE, **more}.items() if value is not None} for more in (one, other)]
    assert pair(*stated).kind is kind


def test_a_diode_the_other_way_round_is_told_with_both_ways() -> None:
    found = pair({**CODE, "one_way": True}, {**CODE, "one_way": True, "pins": ["5", "3"]})
    apart = {(one.detail.a.cavity, one.detail.b.cavity): one.detail.differences for one in found.reasons if one.code == "behaviour.differs"}
    (difference,) = apart["3", "5"]
    assert (difference.original.path, difference.candidate.path) == ("one_way", "one_way_back")


@pytest.mark.parametrize("pins", [["1", "2"], ["2", "1"], ["2", "6"], ["6", "2"]])
def test_the_starter_s_output_has_a_path_through_a_diode_whichever_way_it_goes(pins: list[str]) -> None:
    leak = {"pins": pins, "closed": ["D"], "one_way": True}
    found = ask(made("A", START, CODE, *OTHER), made("B", START, CODE, *OTHER, leak))
    assert not found.goes_on
    # Where the wire without a contact may stand elsewhere, what is left is a part that is unsafe by itself.
    assert {"safety.path", "safety.facts_contradict"} & {one.code for one in found.reasons}


def test_a_start_contact_through_a_diode_is_no_slip() -> None:
    through = {**START, "one_way": True}
    assert ask(made("A", through, CODE, *OTHER), made("B", through, CODE, *OTHER)).kind is VerdictKind.STRAIGHT


def test_wires_that_a_diode_holds_apart_may_move_with_it() -> None:
    crossed = [START, {"pins": ["4", "5"], "closed": ["R", "D"], "one_way": True}, {"pins": ["3", "5"], "closed": ["P", "D"]}, OTHER[1]]
    found = ask(made("A", START, {**CODE, "one_way": True}, *OTHER), made("B", *crossed))
    assert found.kind is VerdictKind.REWIRE and dict(found.moves) == {"3": "4", "4": "3"}
    turned = [START, {"pins": ["5", "4"], "closed": ["R", "D"], "one_way": True}, {"pins": ["3", "5"], "closed": ["P", "D"]}, OTHER[1]]
    assert ask(made("A", START, {**CODE, "one_way": True}, *OTHER), made("B", *turned)).kind is not VerdictKind.REWIRE


def test_what_a_module_reads_through_a_diode_is_not_taken_for_a_resistance() -> None:
    ladder = {"pins": ["3", "5"], "ohms": {"P": 0, "R": 470, "N": 1000, "D": 2200}}
    diode = {"pins": ["3", "5"], "closed": ["P"], "one_way": True}
    reads = {"reads": {"pins": ["3", "5"], "pull_up_ohms": 1000, "volts": 5}}
    facts = {"plugs": {"p": plug(PINS, **reads)}, "applications": [application("p", "A")]}
    listed = [made("A", START, ladder, *OTHER), made("B", START, diode, {**ladder, "ohms": {**ladder["ohms"], "P": "open"}}, *OTHER)]
    loaded, seat, parts = seat_and_parts(connector("c", 8), family("f", listed, **facts))
    assert not judge(loaded, seat, parts["B"]).goes_on


# The law ------------------------------------------------------------------------------------------------------------------


def random_network(rng: random.Random) -> dict[str, Any]:
    """A part with contacts, diodes and resistors among few pins, so that they have to do with each other."""
    pins = sorted(rng.sample(CAVITIES, rng.randint(2, 5)))
    contacts = []
    for _ in range(rng.randint(1, 6)):
        a, b = rng.sample([*pins, CASE], 2)
        if rng.random() < 0.75:
            closed = sorted(rng.sample(POSITIONS, rng.randint(1, 4)))
            contacts.append({"pins": [a, b], "closed": closed, **({"one_way": True} if rng.random() < 0.6 else {})})
        else:
            contacts.append({"pins": [a, b], "ohms": {at: rng.choice(["open", 200, 470, 1000]) for at in POSITIONS}})
    touched = {end for one in contacts for end in one["pins"]}
    return part("A", pins={pin: "range_signal" if pin in touched else "not_connected" for pin in pins}, contacts=contacts)


def conducts(node: dict[str, Any], position: str, a: str, b: str, resistors: bool) -> bool:
    graph = nx.DiGraph()
    graph.add_nodes_from([*node["pins"], CASE])
    joins, resistive, diodes = reckoning.with_diodes(node, position)
    for one, other in [*joins, *([(c, d) for c, d, *_ in resistive] if resistors else [])]:
        graph.add_edges_from([(one, other), (other, one)])
    graph.add_edges_from(diodes)
    return nx.has_path(graph, a, b)


@pytest.mark.parametrize("chunk", range(10))
def test_each_relation_is_what_ideal_diodes_make_of_it(chunk: int) -> None:
    seen = set()
    for number in range(60):
        node = random_network(random.Random(chunk * 60 + number))
        (one,) = book(connector("c", 8), family("f", [node])).parts
        ends = tuple((end, end) for end in (*node["pins"], CASE))
        found = behaviour(one, ends, POSITIONS)
        for (a, _), (b, _) in itertools.permutations(ends, 2):
            for position, relation in zip(POSITIONS, found.between(a, b), strict=True):
                forth, back = (conducts(node, position, *way, resistors=False) for way in ((a, b), (b, a)))
                any_forth, any_back = (conducts(node, position, *way, resistors=True) for way in ((a, b), (b, a)))
                seen.add(relation.path)
                if relation.path is PathKind.JOINED:
                    assert forth and back
                elif relation.path is PathKind.OPEN:
                    # A branch of the reduced network may be missing where its two ends are joined over a third terminal.
                    assert not (any_forth or any_back) or not (forth or back)
                elif relation == ONE_WAY:
                    assert forth and not any_back
                elif relation == ONE_WAY_BACK:
                    assert back and not any_forth
                elif relation.path is PathKind.OHMS:
                    assert any_forth and any_back
    assert seen == set(PathKind)


def test_the_proof_measures_a_diode_both_ways_about() -> None:
    (one,) = book(connector("c", 8), family("f", [made("A", START, {**CODE, "one_way": True}, *OTHER)])).parts
    sheet = proof_sheet(one, tuple((pin, pin) for pin in PINS), POSITIONS, {})
    (probe,) = [line for line in sheet.probes if {line.a, line.b} == {"3", "5"}]
    assert [relation.path for relation in probe.expected] == ["open", "one_way", "open", "one_way"]
