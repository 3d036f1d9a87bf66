"""A resistance ladder as the vehicle's module reads it: a voltage against a pull-up, taken for the nearest position.

The module's thresholds are not known. It is taken to have been made for the original, and to tell two positions apart
half way between their readings, wherever in its tolerance each of the original's resistances may lie. A reading counts as
right only if it is on the right side of every such boundary at the worst of both parts' tolerances, and away from it by
:data:`MARGIN` of the distance between the two readings.

What is read is the resistance between the two wires over the whole network of the part, with nothing on its other wires:
these are compared by themselves, and what the vehicle has on them is the same for both parts.

Where nothing is stated of the module the boundary between two resistances a and b is taken where windows of the same width
in percent would meet, at 2ab/(a+b): that is half way between their readings too, for a module with a low pull-up.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from types import MappingProxyType

from rangebook.book.model import Reads
from rangebook.electrics.bundles import INFINITE, Span

MARGIN = 0.1
"""How much of the distance to the next position's reading must be left to the boundary. This book's own choice."""

_ROUNDING = 1e-9

_NOTHING: Mapping[str, str] = MappingProxyType({})


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
    ``sure`` are those of them that are taken wrongly even at nominal values. ``scant`` maps each position that is not left
    :data:`MARGIN` of the distance, those that are mistaken among them, to the one that is too near."""

    margin: float
    at: str
    mistaken: Mapping[str, str]
    sure: frozenset[str]
    scant: Mapping[str, str]


def volts(ohms: float, reads: Reads) -> float:
    """What the module sees across ``ohms`` with its pull-up: the voltage divider; an open path reads the full voltage."""
    if ohms == INFINITE:
        return reads.volts
    return reads.volts * ohms / (ohms + reads.pull_up_ohms)


def window_of(span: Span, reads: Reads) -> Window:
    """The volts that a resistance reads as: what is closed 0, what is open all of them."""
    return Window(*(volts(ohms, reads) for ohms in span))


def decode(original: Mapping[str, Window], candidate: Mapping[str, Window], means: Mapping[str, str] = _NOTHING) -> Decoded:
    """The candidate's readings taken by a module made for the original, position by position (the same keys in both).

    The boundary between positions k and j lies half way between their readings; at worst it is half way between the ends
    of their windows that are nearest to k's side. Positions that mean the same, by ``means``, need not be told apart.
    """
    margins: dict[str, tuple[float, str | None]] = {}
    scant: dict[str, tuple[float, str]] = {}
    sure = set()
    for position, read in candidate.items():
        own = original[position]
        nearest: tuple[float, str | None] = (INFINITE, None)
        for other, theirs in original.items():
            if means.get(other, other) == means.get(position, position):
                continue
            above = theirs.nominal >= own.nominal
            left = (own.low + theirs.low) / 2 - read.high if above else read.low - (own.high + theirs.high) / 2
            nearest = min(nearest, (left, other), key=lambda pair: pair[0])
            lacking = MARGIN * abs(theirs.nominal - own.nominal) - left
            if (left <= 0 or lacking > _ROUNDING) and (position not in scant or lacking > scant[position][0]):
                scant[position] = lacking, other
        margins[position] = nearest
        taken = min(original, key=lambda one: (abs(original[one].nominal - read.nominal), one != position))
        if means.get(taken, taken) != means.get(position, position):
            margins[position] = (min(nearest[0], 0.0), taken)
            scant[position] = INFINITE, taken
            sure.add(position)
    worst = min(margins, key=lambda one: margins[one][0])
    mistaken = {position: other for position, (left, other) in margins.items() if other is not None and (left <= 0 or position in sure)}
    return Decoded(margins[worst][0], worst, mistaken, frozenset(sure), {position: other for position, (_, other) in scant.items()})


@lru_cache(maxsize=4_096)
def crowded(
    original: Sequence[Span], candidate: Sequence[Span], positions: Sequence[str], means: tuple[tuple[str, str], ...] = ()
) -> tuple[tuple[str, str], ...]:
    """Positions in which the candidate, at the worst of its tolerance, is not on its own side of the boundary to another of the
    original's resistances, each with the first such. Resistances that are the same are one reading."""
    found = []
    known = dict(means)
    for place, (own, read) in enumerate(zip(original, candidate, strict=True)):
        if own.nominal in (0.0, INFINITE):
            continue
        for other, theirs in enumerate(original):
            if known.get(positions[place], positions[place]) == known.get(positions[other], positions[other]):
                continue
            if not are_one(own, theirs) and crosses(own, theirs, read):
                found.append((positions[place], positions[other]))
                break
    return tuple(found)


def are_one(own: Span, theirs: Span) -> bool:
    """Whether two resistances are one reading."""
    return own.nominal == theirs.nominal or abs(theirs.nominal - own.nominal) <= own.nominal * _ROUNDING


def crosses(own: Span, theirs: Span, read: Span) -> bool:
    """Whether what is read where ``own`` should be may, at the worst of its tolerance, lie beyond the boundary to ``theirs``; of the three
    only that may be open."""
    boundary = own.nominal * (2 / (1 + own.nominal / theirs.nominal)) if theirs.nominal else 0.0
    above = theirs.nominal > own.nominal
    return read.high > boundary * (1 + _ROUNDING) if above else read.low < boundary * (1 - _ROUNDING)
