"""Chains of numbers, followed to every end."""

from __future__ import annotations

import random

import networkx as nx
import pytest

from rangebook.fitting.fitter import Fitter
from rangebook.fitting.interchange import directions, evidence
from rangebook.fitting.supersession import chain_ends
from tests.making import application, book, connector, family, part, plug
from tests.oracles.answers import unsaid

PINS = {"1": "start_feed", "2": "start_out"}
CONTACTS = [{"pins": ["1", "2"], "closed": ["P", "N"]}]


def chain(links: dict[str, list], **more):
    """A book in which each number is followed by the given ones."""
    numbers = dict.fromkeys([*links, *(to if isinstance(to, str) else to["number"] for all_ in links.values() for to in all_)])
    parts = [
        part(
            number,
            pins=PINS,
            contacts=CONTACTS,
            superseded_by=[{"number": to} if isinstance(to, str) else to for to in links.get(number, [])],
        )
        for number in numbers
        if not number.startswith("GONE")
    ]
    return book(connector("c", 2), family("f", parts, **more))


def ends(made, number: str):
    return chain_ends(made, made.part(number))


def test_a_chain_is_followed_to_its_end_in_any_spelling() -> None:
    made = chain({"A-1": ["a 2"], "A2": ["A.3"], "A-3": []} | {"A-2": []})
    assert [end.number for end in ends(chain({"A-1": ["A-2"], "A-2": ["A-3"]}), "a1")] == ["A-3"]
    assert made is not None


def test_a_branching_chain_has_several_ends_with_their_conditions() -> None:
    made = chain({"A": [{"number": "B", "note": "to 2004"}, {"number": "C", "note": "from 2005"}], "C": ["D"]})
    found = ends(made, "A")
    assert [(end.number, end.links[0].note) for end in found] == [("B", "to 2004"), ("D", "from 2005")]


def test_needs_on_the_way_are_added_up_once() -> None:
    made = chain({"A": [{"number": "B", "needs": ["k", {"seal": 7}]}], "B": [{"number": "C", "needs": ["k", "m"]}]})
    (end,) = ends(made, "A")
    assert [(need.kit, need.seal) for need in end.needs] == [("k", None), (None, 7), ("m", None)]


def test_a_number_that_is_not_in_the_book_is_an_end_too() -> None:
    (end,) = ends(chain({"A": ["GONE"]}), "A")
    assert end.part is None and end.number == "GONE"


def test_a_loop_ends_and_is_told() -> None:
    (end,) = ends(chain({"A": ["B"], "B": ["C"], "C": ["B"]}), "A")
    assert end.loops and end.number == "B"


def test_nothing_takes_the_place_of_the_last_one() -> None:
    assert ends(chain({"A": ["B"]}), "B") == []


@pytest.mark.parametrize("seed", range(80))
def test_against_graphs(seed: int) -> None:
    # networkx: the ends are the nodes without a way on that can be reached; a loop is a cycle that can be reached.
    rng = random.Random(seed)
    graph = nx.gnp_random_graph(rng.randint(2, 8), 0.22, seed=seed, directed=True)
    made = chain({f"N{node}": [f"N{to}" for to in graph.successors(node)] for node in graph})
    for node in graph:
        found = ends(made, f"N{node}")
        reached = nx.descendants(graph, node) | {node}
        last = {f"N{one}" for one in reached if graph.out_degree(one) == 0 and one != node}
        assert {end.number for end in found if not end.loops} == last
        loops = any(len(group) > 1 for group in nx.strongly_connected_components(graph.subgraph(reached)))
        assert any(end.loops for end in found) == loops


def two_families(**facts):
    parts = [part("A", pins=PINS, contacts=CONTACTS, **facts.get("A", {})), part("B", pins=PINS, contacts=CONTACTS, **facts.get("B", {}))]
    other = family("g", [part("C", pins={**PINS, "3": "not_connected"}, contacts=CONTACTS)])
    return book(
        connector("c", 3),
        family("f", parts, plugs={"p": plug(PINS)}, applications=[application("p", "A")]),
        other,
    )


def test_what_fits_though_nobody_has_said_so_within_and_across_families() -> None:
    fitter = Fitter(two_families())
    assert [(one.part.number, one.part.family != seat.family.id) for seat, one in unsaid(fitter)] == [("B", False), ("C", True)]
    (seat,) = fitter.seats
    assert evidence(seat) == evidence(seat).__class__(wires=2, positions=4, closed=2, resistances=0)


@pytest.mark.parametrize("facts", [{"A": {"superseded_by": [{"number": "B"}]}}, {"B": {"superseded_by": [{"number": "A"}]}}])
def test_what_a_maker_says_is_not_discovered(facts: dict) -> None:
    assert [one.part.number for _, one in unsaid(Fitter(two_families(**facts)))] == ["C"]


def test_two_way_and_one_way_interchange_are_told_apart() -> None:
    third = {"3": "ground"}
    grounded = [*CONTACTS, {"pins": ["3", "case"], "closed": ["P", "R", "N", "D"]}]
    made = book(
        connector("c", 3),
        family(
            "f",
            [
                part("LESS", pins=PINS, contacts=CONTACTS),
                part("MORE", pins={**PINS, **third}, contacts=grounded),
                part("SAME", pins=PINS, contacts=CONTACTS),
            ],
            plugs={"two": plug(PINS), "three": plug({**PINS, **third})},
            applications=[application("two", "LESS"), application("three", "MORE"), application("two", "SAME", vehicle="Other")],
        ),
    )
    fitter = Fitter(made)
    less, more, same = (made.part(number) for number in ("LESS", "MORE", "SAME"))
    assert directions(fitter, less, more) == (True, False)
    assert directions(fitter, less, same) == (True, True)
