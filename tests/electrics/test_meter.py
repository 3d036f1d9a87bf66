"""What a meter shows between any two pins, against networkx: ``resistance_distance`` is Klein and Randic's effective resistance
(J. Math. Chem. 12 (1993) 81-95), reckoned by another library from another form of the same network."""

from __future__ import annotations

import random
from itertools import combinations
from pathlib import Path

import networkx as nx
import pytest
from tests.site.drawings.making import part as make_part

from rangebook.book.load import load
from rangebook.book.model import CASE, Contact, Part, Signal
from rangebook.electrics.meter import meter_rows
from rangebook.electrics.relation import OPEN, UNKNOWN
from rangebook.electrics.relation import PathKind as Way

ROOT = Path(__file__).resolve().parents[2]


def by_networkx(part: Part, a: str, b: str, position: str) -> float | None:
    """Ohms between two pins; infinite for no path, ``None`` where a contact that is not stated may have a part in it."""
    graph, merged, doubtful = nx.MultiGraph(), nx.Graph(), nx.Graph()
    merged.add_nodes_from([*part.pins, CASE])
    doubtful.add_nodes_from([*part.pins, CASE])
    resistors = []
    for one in part.contacts or ():
        if one.closed is not None:
            ohms = 0.0 if position in one.closed or position in one.overlaps else None
        elif one.ohms is not None and position in one.ohms:
            ohms = one.ohms[position]
        else:
            doubtful.add_edge(one.a, one.b)
            continue
        if ohms == 0:
            merged.add_edge(one.a, one.b)
        if ohms is not None:
            doubtful.add_edge(one.a, one.b, known=True)
            resistors += [(one.a, one.b, ohms)] if ohms else []
    node = {pin: min(group) for group in nx.connected_components(merged) for pin in group}
    if node[a] == node[b]:
        return 0.0
    if not nx.has_path(doubtful, a, b):
        return float("inf")
    around = nx.node_connected_component(doubtful, a)
    if any(not known and end in around for end, _, known in doubtful.edges(data="known")):
        return None
    for x, y, ohms in resistors:
        if node[x] != node[y]:
            graph.add_edge(node[x], node[y], r=float(ohms))
    if node[a] not in graph or node[b] not in graph or not nx.has_path(graph, node[a], node[b]):
        return float("inf")
    return nx.resistance_distance(
        graph.subgraph(nx.node_connected_component(graph, node[a])), node[a], node[b], weight="r", invert_weight=True
    )


def check(part: Part, positions: tuple[str, ...]) -> int:
    """Compare every pair in every position; how many were compared."""
    rows = meter_rows(part, positions)
    compared = 0
    for pair in combinations((*part.pins, CASE), 2):
        row = rows.get(pair, (OPEN,) * len(positions))
        for position, found in zip(positions, row, strict=True):
            ohms = by_networkx(part, *pair, position)
            where = (part.number, pair, position)
            if ohms is None:
                assert found.path is Way.UNKNOWN, where
            elif found.path is Way.OHMS:
                assert found.ohms == pytest.approx(ohms, rel=1e-9), where
            else:
                assert found.path is {0.0: Way.JOINED, float("inf"): Way.OPEN}[ohms], where
            compared += 1
    return compared


def test_every_pair_of_every_part_of_the_demo_book() -> None:
    book = load(ROOT).book
    compared = 0
    for part in book.parts:
        # What networkx cannot know: electronics, and pins that nothing is stated about, which have tests of their own.
        if part.pins is None or part.contacts is None or part.signals:
            continue
        if {end for one in part.contacts for end in (one.a, one.b)}.issuperset(part.pins):
            compared += check(part, book.family_of(part).positions)
    assert compared > 5_000


@pytest.mark.parametrize("seed", range(40))
def test_random_networks(seed: int) -> None:
    """Stars, rings and bridges of contacts and resistors, each pin in at least one contact."""
    rng = random.Random(seed)
    pins = [str(number) for number in range(1, rng.randint(3, 7))]
    ends = [*pins, CASE]
    contacts = []
    for at, pin in enumerate(pins * 2):
        other = rng.choice([end for end in ends if end != pin])
        states = {position: rng.choice([None, 100.0, 220.0, 4700.0]) for position in "PRND"}
        closed = frozenset(rng.sample("PRND", rng.randint(0, 4)))
        resistive = rng.random() < 0.5
        contacts.append(Contact(pin, other, None if resistive else closed, states if resistive else None, 5.0, ("contacts", at)))
    made = make_part("X-1", pins=dict.fromkeys(pins, "range_signal"), contacts=contacts)
    assert check(made, tuple("PRND")) == len(list(combinations(ends, 2))) * 4


def test_nothing_is_said_of_a_pin_that_nothing_is_stated_about() -> None:
    made = make_part(
        "X-1", pins={"1": "start_feed", "2": "start_out", "3": "ground"}, contacts=[Contact("1", "2", frozenset("P"), None, None, ())]
    )
    rows = meter_rows(made, ("P", "R"))
    assert rows["1", "3"] == rows["2", "3"] == rows["3", CASE] == (UNKNOWN, UNKNOWN)
    assert ("1", CASE) not in rows, "open: contacts that are listed are all there are between the pins that they mention"


def test_an_ohmmeter_tells_nothing_through_electronics() -> None:
    """Common practice, no source: what a meter shows across powered electronics depends on the meter."""
    signal = Signal("C", "A", "B", "volts", {"P": 1.0, "R": 2.0}, None, ())
    contacts = [Contact("D", "B", frozenset("P"), None, None, ()), Contact("E", "F", frozenset("P"), None, None, ())]
    pins = {"A": "sensor_supply", "B": "sensor_ground", "C": "range_signal", "D": "start_out", "E": "backup_feed", "F": "backup_out"}
    rows = meter_rows(make_part("X-1", pins=pins, contacts=contacts, signals=[signal]), ("P", "R"))
    assert rows["A", "B"] == rows["A", "C"] == rows["B", "C"] == (UNKNOWN, UNKNOWN)
    assert [one.path for one in rows["B", "D"]] == [Way.JOINED, Way.OPEN]
    assert [one.path for one in rows["A", "D"]] == [Way.UNKNOWN, Way.OPEN], "over the closed contact D is on the electronics"
    assert [one.path for one in rows["E", "F"]] == [Way.JOINED, Way.OPEN] and ("A", "E") not in rows


def test_a_part_without_a_pin_out_has_no_readings() -> None:
    assert meter_rows(make_part("X-1"), ("P", "R")) == {}
