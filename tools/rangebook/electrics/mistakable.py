"""Positions of the lever that the readings of a part's range outputs do not tell apart, or not surely."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations, pairwise
from math import inf
from typing import NamedTuple

from rangebook.book.model import Part
from rangebook.electrics.bundles import Span
from rangebook.electrics.ladder import are_one, crosses
from rangebook.electrics.meaning import Means
from rangebook.electrics.range_output import OHM, CircuitRoles, Output, outputs

_ROUNDING = 1e-9


class Mistakable(NamedTuple):
    """``position`` may be taken for ``earlier``, which the lever has before it. ``outputs`` are all of the part's, and ``at`` the one to be
    looked at, ``None`` where no output has figures."""

    position: str
    earlier: str
    outputs: tuple[Output, ...]
    at: Output | None


def alike(part: Part, positions: tuple[str, ...], roles: CircuitRoles, means: Means = ()) -> Iterator[Mistakable]:
    """Each position that reads the same as an earlier one on every output. A part with anything of this not stated is left alone, and so
    are positions that mean the same."""
    listed = outputs(part, positions, roles)
    if not listed or any(len(set(output.values.values())) == len(output.values) for output in listed):
        return  # one output that reads something else in each position tells all of them apart
    known = dict(means)
    first: dict[tuple[float | None, ...], str] = {}
    for position in dict.fromkeys(positions):
        reading = tuple(output.values[position] for output in listed)
        earlier = first.setdefault(reading, position)
        if None not in reading and known.get(earlier, earlier) != known.get(position, position):
            yield Mistakable(position, earlier, listed, next((output for output in listed if output.unit), None))


def overlapping(part: Part, positions: tuple[str, ...], roles: CircuitRoles, means: Means = ()) -> Iterator[Mistakable]:
    """Each two positions that some output tells apart, but none by more than the tolerance of both; not two that mean the same."""
    known = dict(means)
    listed = outputs(part, positions, roles)
    figures = [output for output in listed if output.unit]
    if not any(_crowded(output) for output in figures):
        return
    for one, other in combinations(dict.fromkeys(positions), 2):
        apart = next((output for output in figures if output.values[one] != output.values[other]), None)
        if apart is not None and known.get(one, one) != known.get(other, other) and all(_overlap(output, one, other) for output in listed):
            yield Mistakable(other, one, listed, apart)


def _crowded(output: Output) -> bool:
    """Whether any two positions overlap: of readings in order, then two neighbours do too."""
    ordered = sorted(output.low, key=output.low.__getitem__)
    return any(_overlap(output, one, other) for one, other in pairwise(ordered))


def _overlap(output: Output, one: str, other: str) -> bool:
    """Whether some reading may be of either position: of resistances by the law of a verdict, :func:`rangebook.electrics.ladder.crosses`.
    Windows that only touch do not overlap; the same value always does."""
    first, second = output.values[one], output.values[other]
    if first is None or second is None:
        return False
    if first == second:
        return True
    if inf in (first, second):
        return False
    if output.unit == OHM:
        own, theirs = (Span(value, output.low[at], output.high[at]) for value, at in ((first, one), (second, other)))
        return are_one(own, theirs) or (first != 0 and crosses(own, theirs, own)) or (second != 0 and crosses(theirs, own, theirs))
    (_, left), (right, _) = sorted(((output.low[one], output.high[one]), (output.low[other], output.high[other])))
    return right < left - _ROUNDING * abs(left)
