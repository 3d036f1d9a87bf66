"""A resistance ladder as the vehicle's module reads it: a voltage against a pull-up, taken for the nearest position.

The module's thresholds are not known. It is taken to have been made for the original, and to tell two positions apart
half way between their readings, wherever in its tolerance each of the original's resistances may lie. A reading counts as
right only if it is on the right side of every such boundary at the worst of both parts' tolerances.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from rangebook.book.model import Reads
from rangebook.electrics.relation import PathKind, Relation


@dataclass(frozen=True, slots=True)
class Window:
    """Volts that a position reads: nominal, and the lowest and highest that the tolerance allows."""

    nominal: float
    low: float
    high: float


@dataclass(frozen=True, slots=True)
class Decoded:
    """How the module takes a ladder. ``margin`` is the smallest distance in volts to a boundary, negative beyond it, and
    ``at`` the position that has it; ``mistaken`` maps a position to the one that it would, or at worst might, be taken for.
    ``sure`` are those of them that are taken wrongly even at nominal values."""

    margin: float
    at: str
    mistaken: Mapping[str, str]
    sure: frozenset[str]


def volts(ohms: float, reads: Reads) -> float:
    """What the module sees across ``ohms`` with its pull-up: the voltage divider; an open path reads the full voltage."""
    if ohms == float("inf"):
        return reads.volts
    return reads.volts * ohms / (ohms + reads.pull_up_ohms)


def window(relation: Relation, reads: Reads) -> Window | None:
    """The volts of one position; ``None`` where its resistance is not known."""
    if relation.path is PathKind.UNKNOWN:
        return None
    if relation.path is PathKind.OHMS:
        assert relation.ohms is not None and relation.tolerance_percent is not None
        slack = relation.tolerance_percent / 100
        at = [volts(relation.ohms * factor, reads) for factor in (1.0, max(0.0, 1 - slack), 1 + slack)]
        return Window(*at)
    flat = volts(0.0 if relation.path is PathKind.JOINED else float("inf"), reads)
    return Window(flat, flat, flat)


def decode(original: Mapping[str, Window], candidate: Mapping[str, Window]) -> Decoded:
    """The candidate's readings taken by a module made for the original, position by position (the same keys in both).

    The boundary between positions k and j lies half way between their readings; at worst it is half way between the ends
    of their windows that are nearest to k's side.
    """
    margins: dict[str, tuple[float, str | None]] = {}
    sure = set()
    for position, read in candidate.items():
        own = original[position]
        nearest: tuple[float, str | None] = (float("inf"), None)
        for other, theirs in original.items():
            if other == position:
                continue
            above = theirs.nominal >= own.nominal
            left = (own.low + theirs.low) / 2 - read.high if above else read.low - (own.high + theirs.high) / 2
            nearest = min(nearest, (left, other), key=lambda pair: pair[0])
        margins[position] = nearest
        taken = min(original, key=lambda one: (abs(original[one].nominal - read.nominal), one != position))
        if taken != position:
            margins[position] = (min(nearest[0], 0.0), taken)
            sure.add(position)
    worst = min(margins, key=lambda one: margins[one][0])
    mistaken = {position: other for position, (left, other) in margins.items() if other is not None and (left <= 0 or position in sure)}
    return Decoded(margins[worst][0], worst, mistaken, frozenset(sure))
