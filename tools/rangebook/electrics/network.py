"""Networks of joins and resistors, reduced to the terminals that someone can get at.

The reduction is Kron's (the Schur complement of the conductance matrix), done one node at a time: taking out a node
with conductances g1..gn to its neighbours leaves g_i * g_j / (g1 + ... + gn) between each two of them.
"""

from __future__ import annotations

from collections.abc import Hashable, Iterable
from dataclasses import dataclass

Node = Hashable


class Groups:
    """Disjoint sets of nodes (union-find with path halving); an unknown node is a set of its own."""

    __slots__ = ("_up",)

    def __init__(self, pairs: Iterable[tuple[Node, Node]] = ()) -> None:
        self._up: dict[Node, Node] = {}
        for a, b in pairs:
            self.join(a, b)

    def of(self, node: Node) -> Node:
        """The node that stands for the set that ``node`` is in."""
        up = self._up
        if node not in up:
            return node
        while (parent := up.get(node, node)) != node:
            up[node] = node = up.get(parent, parent)
        return node

    def join(self, a: Node, b: Node) -> None:
        """Make one set of the two that ``a`` and ``b`` are in."""
        a, b = self.of(a), self.of(b)
        if a != b:
            self._up[b] = a

    def together(self, a: Node, b: Node) -> bool:
        """Whether the two are in one set."""
        return self.of(a) == self.of(b) if self._up else a == b


@dataclass(frozen=True, slots=True)
class Reduced:
    """A network seen from its terminals.

    ``joined`` tells which terminals are one node; ``siemens`` holds, for each two nodes (by the one that stands for
    each in ``joined``) with a branch between them, its conductance. No branch means no conductance.
    """

    joined: Groups
    siemens: dict[frozenset[Node], float]

    def conductance(self, a: Node, b: Node) -> float:
        """Siemens of the branch between two terminals of the reduced network; infinite where they are joined."""
        a, b = self.joined.of(a), self.joined.of(b)
        return float("inf") if a == b else self.siemens.get(frozenset((a, b)), 0.0)


def reduce_network(joins: Iterable[tuple[Node, Node]], resistors: Iterable[tuple[Node, Node, float]], terminals: Iterable[Node]) -> Reduced:
    """Merge what is joined (0 ohm) and eliminate every node that is not a terminal.

    ``resistors`` are ``(a, b, ohms)`` with ohms above 0. Source: G. Kron, Tensor Analysis of Networks (1939), from memory.
    """
    joined = Groups(joins)
    kept = {joined.of(node) for node in terminals}
    neighbours: dict[Node, dict[Node, float]] = {}

    def add(a: Node, b: Node, siemens: float) -> None:
        row = neighbours.setdefault(a, {})
        row[b] = row.get(b, 0.0) + siemens

    for a, b, ohms in resistors:
        a, b = joined.of(a), joined.of(b)
        if a != b:
            add(a, b, 1.0 / ohms)
            add(b, a, 1.0 / ohms)
    # Fewest neighbours first: dead ends go without leaving anything behind.
    inner = [node for node in neighbours if node not in kept]
    while inner:
        node = min(inner, key=lambda one: len(neighbours[one]))
        inner.remove(node)
        row = neighbours.pop(node)
        total = sum(row.values())
        for a in row:
            del neighbours[a][node]
        around = list(row.items())
        for index, (a, to_a) in enumerate(around):
            for b, to_b in around[index + 1 :]:
                add(a, b, to_a * to_b / total)
                add(b, a, to_a * to_b / total)
    siemens = {frozenset((a, b)): value for a, row in neighbours.items() for b, value in row.items()}
    return Reduced(joined, siemens)
