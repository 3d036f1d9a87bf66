"""Merging and Kron reduction against published values and independent reckoning."""

from __future__ import annotations

import itertools
import random
import shutil
import subprocess
from fractions import Fraction

import networkx as nx
import numpy as np
import pytest
import sympy

from rangebook.electrics.network import Groups, reduce_network

CUBE = [(a, b, 1.0) for a, b in itertools.combinations(range(8), 2) if (a ^ b).bit_count() == 1]
K4 = [(a, b, 1.0) for a, b in itertools.combinations(range(4), 2)]
BRIDGE = [("a", "b", 1.0), ("a", "c", 2.0), ("b", "c", 3.0), ("b", "d", 4.0), ("c", "d", 5.0)]


def effective(resistors, a, b, joins=()):
    """Ohms between two nodes when nothing else can be got at."""
    return 1 / reduce_network(joins, resistors, [a, b]).conductance(a, b)


@pytest.mark.parametrize(
    ("name", "resistors", "a", "b", "ohms"),
    [
        # Effective resistance: Klein and Randic, J. Math. Chem. 12 (1993) 81-95; values reckoned again with sympy below.
        ("edge of the cube", CUBE, 0, 1, Fraction(7, 12)),
        ("face of the cube", CUBE, 0, 3, Fraction(3, 4)),
        ("body of the cube", CUBE, 0, 7, Fraction(5, 6)),
        ("complete graph on four", K4, 0, 1, Fraction(1, 2)),
        ("triangle", [*K4[:2], (1, 2, 1.0)], 0, 1, Fraction(2, 3)),
        ("bridge", BRIDGE, "a", "d", Fraction(61, 21)),
    ],
)
def test_worked_values(name: str, resistors: list, a: object, b: object, ohms: Fraction) -> None:
    assert effective(resistors, a, b) == pytest.approx(float(ohms), rel=1e-12)
    assert _by_sympy(resistors, a, b) == ohms


def _by_sympy(resistors: list, a: object, b: object) -> Fraction:
    """The same by exact arithmetic: the Laplacian with ``b`` grounded, solved for 1 A into ``a``."""
    nodes = sorted({node for one in resistors for node in one[:2]}, key=str)
    index = {node: place for place, node in enumerate(nodes)}
    laplacian = sympy.zeros(len(nodes))
    for x, y, ohms in resistors:
        g = sympy.Rational(1, int(ohms))
        i, j = index[x], index[y]
        laplacian[i, i] += g
        laplacian[j, j] += g
        laplacian[i, j] -= g
        laplacian[j, i] -= g
    keep = [place for node, place in index.items() if node != b]
    current = sympy.Matrix([1 if place == index[a] else 0 for place in keep])
    volts = laplacian.extract(keep, keep).LUsolve(current)
    value = volts[keep.index(index[a])]
    return Fraction(int(value.p), int(value.q))


def random_network(rng: random.Random, most: int = 9):
    """Joins and resistors over a few nodes, parallel ones and lone nodes included."""
    nodes = list(range(rng.randint(2, most)))
    pairs = [tuple(rng.sample(nodes, 2)) for _ in range(rng.randint(1, 2 * len(nodes)))]
    joins = [pair for pair in pairs if rng.random() < 0.2]
    resistors = [(a, b, rng.choice([1, 22, 150, 330, 1000, 4700, 0.5]) * 1.0) for a, b in pairs if (a, b) not in joins]
    return nodes, joins, resistors


def merged_graph(nodes, joins, resistors) -> tuple[nx.Graph, dict]:
    """The network as a networkx graph of merged nodes with the resistance as weight."""
    merge = nx.Graph()
    merge.add_nodes_from(nodes)
    merge.add_edges_from(joins)
    of = {node: min(part) for part in nx.connected_components(merge) for node in part}
    graph = nx.Graph()
    graph.add_nodes_from(set(of.values()))
    for a, b, ohms in resistors:
        a, b = of[a], of[b]
        if a != b:
            g = 1 / ohms + (1 / graph[a][b]["r"] if graph.has_edge(a, b) else 0)
            graph.add_edge(a, b, r=1 / g)
    return graph, of


@pytest.mark.parametrize("seed", range(300))
def test_between_two_terminals_it_is_the_resistance_distance(seed: int) -> None:
    # networkx.resistance_distance (pseudo-inverse of the Laplacian).
    nodes, joins, resistors = random_network(random.Random(seed))
    graph, of = merged_graph(nodes, joins, resistors)
    for a, b in itertools.combinations(nodes, 2):
        seen = reduce_network(joins, resistors, [a, b])
        if of[a] == of[b]:
            assert seen.joined.together(a, b)
        elif not nx.has_path(graph, of[a], of[b]):
            assert seen.conductance(a, b) == 0
        else:
            part = graph.subgraph(nx.node_connected_component(graph, of[a]))
            expected = nx.resistance_distance(part, of[a], of[b], weight="r", invert_weight=True)
            assert 1 / seen.conductance(a, b) == pytest.approx(expected, rel=1e-9)


@pytest.mark.parametrize("seed", range(300))
def test_between_several_terminals_it_is_the_schur_complement(seed: int) -> None:
    # numpy: L/L22 = L11 - L12 pinv(L22) L21.
    rng = random.Random(10_000 + seed)
    nodes, joins, resistors = random_network(rng)
    terminals = rng.sample(nodes, rng.randint(2, len(nodes)))
    graph, of = merged_graph(nodes, joins, resistors)
    order = sorted(graph.nodes)
    laplacian = np.zeros((len(order), len(order)))
    for a, b, data in graph.edges(data=True):
        i, j = order.index(a), order.index(b)
        g = 1 / data["r"]
        laplacian[[i, j], [i, j]] += g
        laplacian[[i, j], [j, i]] -= g
    kept = sorted({order.index(of[one]) for one in terminals})
    gone = [place for place in range(len(order)) if place not in kept]
    schur = laplacian[np.ix_(kept, kept)]
    if gone:
        schur = schur - laplacian[np.ix_(kept, gone)] @ np.linalg.pinv(laplacian[np.ix_(gone, gone)]) @ laplacian[np.ix_(gone, kept)]
    seen = reduce_network(joins, resistors, terminals)
    for a, b in itertools.combinations(terminals, 2):
        if of[a] != of[b]:
            expected = -schur[kept.index(order.index(of[a])), kept.index(order.index(of[b]))]
            assert seen.conductance(a, b) == pytest.approx(expected, rel=1e-7, abs=1e-12)


@pytest.mark.skipif(shutil.which("ngspice") is None, reason="needs Debian's ngspice: apt-get install ngspice")
def test_some_hundreds_of_networks_in_ngspice(tmp_path) -> None:
    # Debian's ngspice in batch mode: 1 A into one terminal, the other one is ground; the volts are the ohms.
    lines, wanted = ["effective resistances"], []
    for seed in range(400):
        nodes, joins, resistors = random_network(random.Random(20_000 + seed))
        graph, of = merged_graph(nodes, joins, resistors)
        a, b = nodes[0], nodes[-1]
        if of[a] == of[b] or not nx.has_path(graph, of[a], of[b]):
            continue
        inside = nx.node_connected_component(graph, of[a])

        def name(node: int, seed: int = seed, ground: int = of[b]) -> str:
            return "0" if node == ground else f"n{seed}x{node}"

        for number, (x, y, ohms) in enumerate(resistors):
            if of[x] != of[y] and of[x] in inside:
                lines.append(f"R{seed}x{number} {name(of[x])} {name(of[y])} {ohms}")
        lines.append(f"I{seed} 0 {name(of[a])} 1")
        wanted.append((name(of[a]), 1 / reduce_network(joins, resistors, [a, b]).conductance(a, b)))
    assert len(wanted) > 200
    # Ten digits, so that the comparison is not one of rounding; gmin off, which would shunt every node to ground.
    lines += [".options gmin=1e-15", ".control", "set numdgt=10", "op"]
    lines += [f"print v({node})" for node, _ in wanted] + [".endc", ".end"]
    netlist = tmp_path / "networks.cir"
    netlist.write_text("\n".join(lines) + "\n")
    done = subprocess.run(["ngspice", "-b", str(netlist)], capture_output=True, text=True, timeout=120, check=False)
    read = dict(line.split(" = ") for line in done.stdout.splitlines() if line.startswith("v("))
    assert len(read) == len(wanted), done.stdout[-500:] + done.stderr[-500:]
    for node, ohms in wanted:
        assert float(read[f"v({node})"]) == pytest.approx(ohms, rel=1e-6)


def test_sets_of_nodes_against_networkx() -> None:
    # networkx.connected_components.
    for seed in range(200):
        rng = random.Random(seed)
        graph = nx.gnm_random_graph(12, rng.randint(0, 14), seed=seed)
        groups = Groups(graph.edges)
        for a, b in itertools.combinations(graph.nodes, 2):
            assert groups.together(a, b) == nx.has_path(graph, a, b)
