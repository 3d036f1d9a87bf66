"""supersession-cycle. Oracle: networkx (a cycle is a strongly connected component of more than one node, or a self-loop)."""

from __future__ import annotations

from datetime import date

import networkx
from hypothesis import given, settings
from hypothesis import strategies as st

from rangebook.book.load import load_texts
from rangebook.lint.engine import lint
from rangebook.lint.examples import example_book
from rangebook.lint.registry import all_rules
from tests.lint.marking import found_at_marks


def _parts(links: dict[str, list[str]], marked: tuple[tuple[str, str], ...] = ()) -> str:
    lines = ["    kind: switch", "    parts:"]
    for number, successors in links.items():
        stated = ", ".join(f"{{number: {'»' if (number, one) in marked else ''}{one}}}" for one in successors)
        lines += [f"      - number: {number}", f"        status: {'superseded' if successors else 'current'}"]
        lines += [f"        superseded_by: [{stated}]"] if successors else []
        lines += ["        sources: [{kind: seen}]"]
    return "\n".join(lines) + "\n"


def _found(links: dict[str, list[str]], marked: tuple[tuple[str, str], ...]):
    return found_at_marks("supersession-cycle", _parts(links, marked), alone=False)


def test_a_ring_is_told_once_at_the_link_that_closes_it() -> None:
    (found,) = _found({"A1": ["A2"], "A2": ["A3"], "A3": ["A1"]}, (("A3", "A1"),))
    assert "A3 is said to be superseded by A1" in found.message and "A1 to A2 to A3 to A1" in found.message


def test_a_part_that_replaces_itself() -> None:
    (found,) = _found({"A1": ["a-1"]}, (("A1", "a-1"),))
    assert found.message == "A1 is said to be superseded by itself"


def test_a_way_into_the_ring_is_not_part_of_it() -> None:
    # Z leads in; the ring itself is A2 to A3 to A2, and what turns back is A3.
    (found,) = _found({"A2": ["A3"], "A3": ["A2"], "Z": ["A2"]}, (("A3", "A2"),))
    assert "A2 to A3 to A2" in found.message and "Z" not in found.message


def test_two_rings_are_two_findings() -> None:
    assert len(_found({"A1": ["A2"], "A2": ["A1"], "B1": ["B2"], "B2": ["B1"]}, (("A2", "A1"), ("B2", "B1")))) == 2


def test_two_ways_to_one_end_are_no_ring() -> None:
    assert _found({"A1": ["A2", "A3"], "A2": ["A4"], "A3": ["A4"], "A4": []}, ()) == []


def test_a_successor_that_is_not_in_the_book_is_no_ring() -> None:
    assert _found({"A1": ["B9"]}, ()) == []


def test_a_ring_over_two_families_stands_in_the_one_that_turns_back() -> None:
    other = """
    # entries/switches/zinder.md
    kind: switch
    id: zinder
    parts:
      - number: Z1
        status: superseded
        superseded_by: [{number: »A1}]
        sources: [{kind: seen}]
    applications: []

and
"""
    (found,) = found_at_marks("supersession-cycle", other + _parts({"A1": ["Z1"]}), alone=False)
    assert found.file == "entries/switches/zinder.md" and "A1 to Z1 to A1" in found.message


NUMBERS = [f"N{index}" for index in range(8)]


@settings(max_examples=150, deadline=None)
@given(st.sets(st.tuples(st.sampled_from(NUMBERS), st.sampled_from(NUMBERS)), max_size=14))
def test_against_networkx(edges: set[tuple[str, str]]) -> None:
    links = {number: sorted(new for old, new in edges if old == number) for number in NUMBERS}
    loaded = load_texts(example_book(_parts(links)))
    found = lint(loaded, date(2026, 6, 1), [all_rules()["supersession-cycle"]])
    graph = networkx.DiGraph(sorted(edges))
    told = {tuple(one.message.split(" is said to be superseded by ")) for one in found}
    told = {(old, old if new == "itself" else new.partition(",")[0]) for old, new in told}
    assert told <= edges and len(told) == len(found), "each is a link of the book, and is told once"
    graph.remove_edges_from(told)
    assert networkx.is_directed_acyclic_graph(graph), "without the links told nothing leads back"
    whole = networkx.DiGraph(sorted(edges))
    of = {node: index for index, group in enumerate(networkx.strongly_connected_components(whole)) for node in group}
    assert all(of[old] == of[new] for old, new in told), "and each of them is on a way round"
