"""The insulation of the starter's output: every path too many is seen, against networkx (what is reached) and numpy (ohms)."""

from __future__ import annotations

import random
from dataclasses import replace
from typing import Any

import networkx as nx
import numpy as np
import pytest
from tests.electrics.test_proof import START, called, model, pins_of
from tests.fitting.reckoning import CASE, POSITIONS, network, random_part

from rangebook.electrics.cells import reading_agrees
from rangebook.electrics.diagnosis import Reading, diagnose
from rangebook.electrics.faults import Explanation
from rangebook.electrics.insulation import OTHERS, circuits_of
from rangebook.electrics.proof import proof_sheet
from rangebook.electrics.relation import JOINED, OPEN, PathKind
from rangebook.schema.store import Circuit, load_schemas

MAY = {"start_out": ("P", "N"), "park_neutral": ("P", "N"), "backup_out": ("R",)}
"""Where each may be joined to anything. Sources: 49 CFR 571.102 S3.1.3, 49 CFR 571.108 Table I-a."""

Leak = tuple[str, str, str, float]
"""Two ends, a position and ohms."""


def ohms_between(node: dict[str, Any], a: str, b: str, position: str, leak: Leak | None = None) -> float:
    """What a meter reads between two pins, or from one to all others tied together."""
    joins, resistors = network(node, position)
    edges = [(x, y, 1e-6) for x, y in joins] + [(x, y, float(ohms)) for x, y, ohms, _ in resistors]
    if leak and leak[2] == position:
        edges.append((leak[0], leak[1], max(leak[3], 1e-6)))
    wires = nx.MultiGraph()
    wires.add_nodes_from([*node["pins"], CASE])
    wires.add_edges_from((x, y, {"siemens": 1 / ohms}) for x, y, ohms in edges)
    if b == OTHERS:
        wires = nx.relabel_nodes(wires, {one: "tie" for one in (*node["pins"], CASE) if one != a})
        b = "tie"
    if not nx.has_path(wires, a, b):
        return float("inf")
    nodes = sorted(nx.node_connected_component(wires, a))
    matrix = np.zeros((len(nodes), len(nodes)))
    for x, y, siemens in wires.edges(nodes, data="siemens"):
        if x != y:
            i, j = nodes.index(x), nodes.index(y)
            matrix[[i, j], [i, j]] += siemens
            matrix[[i, j], [j, i]] -= siemens
    kept = [at for at, one in enumerate(nodes) if one != b]
    current = np.array([float(nodes[at] == a) for at in kept])
    return float(np.linalg.solve(matrix[np.ix_(kept, kept)], current)[[nodes[at] for at in kept].index(a)])


def readings_of(node: dict[str, Any], part: Any, leak: Leak | None = None) -> list[Reading]:
    lines = proof_sheet(part, pins_of(part), POSITIONS, called(part)).lines
    return [Reading(one.a, one.b, at, ohms_between(node, one.a, one.b, at, leak)) for one in lines for at in POSITIONS]


def random_starter(rng: random.Random) -> tuple[dict[str, Any], dict[str, str]]:
    """A random part with some of its pins named as outputs, and these with their circuits."""
    node = random_part(rng, pins=rng.randint(3, 6))
    outputs = dict(zip(rng.sample(list(node["pins"]), 2), rng.sample(list(MAY), 2), strict=True))
    node["pins"].update(outputs)
    return node, outputs


def kept_apart(node: dict[str, Any], outputs: dict[str, str]) -> dict[str, Any]:
    """The same, its outputs with no contact where they must have none."""
    for contact in node["contacts"]:
        may = set(POSITIONS).intersection(*(MAY[outputs[end]] for end in contact["pins"] if end in outputs))
        if "closed" in contact:
            contact["closed"] = [at for at in contact["closed"] if at in may]
        else:
            contact["ohms"] = {at: ohms if at in may else "open" for at, ohms in contact["ohms"].items()}
    return node


@pytest.mark.parametrize("seed", range(60))
@pytest.mark.slow
def test_every_path_too_many_is_seen(seed: int) -> None:
    rng = random.Random(seed)
    node, outputs = random_starter(rng)
    if seed % 3:
        node = kept_apart(node, outputs)
    (part,) = model(node)
    sheet = proof_sheet(part, pins_of(part), POSITIONS, called(part))
    for out, circuit in outputs.items():
        for other in [*node["pins"], CASE]:
            for position in POSITIONS:
                if other == out or position in MAY[circuit]:
                    continue
                leak = (out, other, position, rng.choice([0, 0.5, 300, 47_000, 900_000]))
                found = readings_of(node, part, leak)
                expected = {(one.a, one.b, at): row for one in sheet.lines for at, row in zip(POSITIONS, one.expected, strict=True)}
                assert any(not reading_agrees(expected[one.a, one.b, one.position], one.ohms) for one in found), leak
                assert "good" not in {one.kind for one in diagnose(part, pins_of(part), POSITIONS, found, called(part)).told}, leak


@pytest.mark.parametrize("seed", range(60))
def test_what_to_read_and_a_good_part_is_good(seed: int) -> None:
    rng = random.Random(500 + seed)
    node, outputs = random_starter(rng)
    kept_apart(node, outputs)
    (part,) = model(node)
    found = readings_of(node, part)
    for one in proof_sheet(part, pins_of(part), POSITIONS, called(part)).insulation:
        for at, row in zip(POSITIONS, one.expected, strict=True):
            if row.path is PathKind.UNKNOWN:
                assert set(outputs) - {end for contact in node["contacts"] for end in contact["pins"]}, "one of which no contact is stated"
            elif row.path is PathKind.OHMS:
                ohms = ohms_between(node, one.terminal, OTHERS, at)
                assert row.ohms == pytest.approx(ohms, rel=1e-3, abs=1e-3)
            else:
                assert reading_agrees(row, ohms_between(node, one.terminal, OTHERS, at))
    assert Explanation("good") in diagnose(part, pins_of(part), POSITIONS, found, called(part)).told
    without = [one for one in found if one.b != OTHERS]
    told = diagnose(part, pins_of(part), POSITIONS, without, called(part)).told
    assert Explanation("good") not in told and told[0].kind == "not_proved"


def told(rows: dict[str, str], ohms: float = 400_000) -> list[Explanation]:
    """All contacts as they should be; ``rows``: output -> a letter for each position, c closed, o open, l a leak."""
    (part,) = model(START)
    value = {"c": 0.2, "o": float("inf"), "l": ohms}
    every = {("1", "2"): "coco", ("3", "4"): "ocoo", **{(out, OTHERS): row for out, row in rows.items()}}
    readings = [
        Reading(a, b, at, value[row[place]]) for (a, b), row in every.items() for place, at in enumerate(POSITIONS) if row[place] != "-"
    ]
    return list(diagnose(part, pins_of(part), POSITIONS, readings, called(part)).told)


def test_a_leak_is_named_and_what_was_not_read_is_not_proved() -> None:
    assert told({"2": "coco", "4": "ocoo"}) == [Explanation("good")]
    assert told({"2": "colo", "4": "ocoo"}) == []
    assert told({"2": "coco", "4": "lcoo"}) == [Explanation("leak", ("4",))]
    assert told({"2": "clco", "4": "ocoo"}) == told({"2": "clco", "4": "ocoo"}, ohms=0.0) == [Explanation("leak", ("2",))]
    assert told({"2": "clco"}) == [Explanation("leak", ("2",))], "seen before all is read"
    assert told({"2": "coc-", "4": "ocoo"}) == [Explanation("not_proved", ("2",))]
    assert told({}) == [Explanation("not_proved", ("2", "4"))]


def test_pins_of_electronics_are_not_tied() -> None:
    signal = {"pin": "5", "supply": "6", "ground": "7", "kind": "volts", "values": {"P": 1, "R": 2, "N": 3, "D": 4}}
    pins = {**START["pins"], "5": "range_signal", "6": "supply", "7": "ground", "8": "code_1"}
    (part,) = model({**START, "pins": pins, "signals": [signal]})
    sheet = proof_sheet(part, pins_of(part), POSITIONS, called(part))
    one = next(one for one in sheet.insulation if one.terminal == "2")
    assert one.tied == ("1", "3", "4", CASE) and one.left_out == ("5", "6", "7", "8"), "nothing is stated of 8: it may be electronics too"
    assert one.expected == (JOINED, OPEN, JOINED, OPEN)
    (part,) = model({**START, "signals": [{**signal, "pin": "2", "supply": "1", "ground": "3"}]})
    sheet = proof_sheet(part, pins_of(part), POSITIONS, called(part))
    assert [one.terminal for one in sheet.insulation] == ["4"] and sheet.deferred == ("2",)


def test_at_the_plug_a_wire_says_what_it_is_for() -> None:
    (part,) = model({**START, "pins": {**START["pins"], "2": "range_signal"}})
    ends = (("A", "1"), ("B", "2"), (CASE, CASE))
    assert proof_sheet(part, ends, POSITIONS, {}).insulation == ()
    (one,) = proof_sheet(part, ends, POSITIONS, {"B": [load_schemas().circuits["start_out"]]}).insulation
    assert (one.terminal, one.tied, one.expected) == ("B", ("A", CASE), (JOINED, OPEN, JOINED, OPEN))


def test_what_is_not_stated_has_to_be_open_all_the_same() -> None:
    (part,) = model({**START, "contacts": [{"pins": ["1", "2"]}]})
    one = proof_sheet(part, pins_of(part), POSITIONS, called(part)).insulation[0]
    assert [row.path for row in one.expected] == [PathKind.UNKNOWN, PathKind.OPEN, PathKind.UNKNOWN, PathKind.OPEN]


BRAKE = Circuit("hoist_release", "output", "release of the hoist", True, joined_in=frozenset("N"))


def test_a_circuit_of_a_book_s_own_list_is_probed_by_what_the_list_says() -> None:
    pins = {**START["pins"], "2": "hoist_release"}
    (part,) = model(START)
    part = replace(part, pins=pins)
    own = {**load_schemas().circuits, "hoist_release": BRAKE}
    sheet = proof_sheet(part, pins_of(part), POSITIONS, circuits_of(part, own))
    one = next(one for one in sheet.insulation if one.terminal == "2")
    assert one.expected == (OPEN, OPEN, JOINED, OPEN), "closed in P as the entry says, it could hurt someone"
    read = [Reading("2", OTHERS, at, 0.3 if at in "PN" else float("inf")) for at in POSITIONS]
    read += [Reading("1", "2", one.position, one.ohms) for one in read]
    read += [Reading(*ends, at, 0.3 if at == "R" else float("inf")) for ends in (("3", "4"), ("4", OTHERS)) for at in POSITIONS]
    assert diagnose(part, pins_of(part), POSITIONS, read, circuits_of(part, own)).told == (Explanation("leak", ("2",)),)
    free = {**own, "hoist_release": replace(BRAKE, joined_in=None)}
    assert "2" not in {one.terminal for one in proof_sheet(part, pins_of(part), POSITIONS, circuits_of(part, free)).insulation}


def test_with_two_guarded_circuits_on_a_terminal_both_are_heeded() -> None:
    (part,) = model(START)
    known = {"2": [load_schemas().circuits["start_out"], BRAKE]}
    (one,) = proof_sheet(part, pins_of(part), POSITIONS, known).insulation
    assert one.expected == (OPEN, OPEN, JOINED, OPEN)
