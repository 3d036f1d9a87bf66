"""What the names of lever positions mean, and which positions of two levers are the same.

A family says it in `means`, for names that do not say it themselves. P, R and N mean themselves whatever is said, D, the figures and taps
are forward positions, and nothing means what itself means something else: what is said otherwise is left out here, so that nothing is ever
guarded less for it.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from functools import lru_cache
from typing import NamedTuple

from rangebook.book.model import Circuit, Family

Means = tuple[tuple[str, str], ...]
"""Name and meaning, of the names that mean something else."""

STANDING = frozenset({"P", "R", "N"})
"""Positions at which safety hangs. Source: 49 CFR 571.102 S3.1.1, which calls them by these names."""

_FORWARD = re.compile(r"[D1-9].*|.*[+-]\Z")
"""Names of forward positions on any lever: what begins with a D or a figure of a gear, and taps. Common practice, no source."""


def strange_meanings(family: Family) -> Iterator[tuple[str, str]]:
    """What a family says of the meaning of its positions and cannot be."""
    for name, meant in family.means.items():
        if name == meant:
            continue
        if name in STANDING or (meant in STANDING and _FORWARD.match(name)) or family.means.get(meant, meant) != meant:
            yield name, meant


@lru_cache(maxsize=4_096)
def means_of(family: Family) -> Means:
    """What a family says of the meaning of its positions, as far as it can be."""
    if not family.means:
        return ()
    strange = dict(strange_meanings(family))
    return tuple((name, meant) for name, meant in family.means.items() if name not in strange and name in family.positions)


def meant(positions: Iterable[str], means: Means) -> tuple[str, ...]:
    """Positions by what they mean."""
    known = dict(means)
    return tuple(known.get(one, one) for one in positions)


@lru_cache(maxsize=4_096)
def guard_on(guard: Circuit, means: Means) -> Circuit:
    """A guarded circuit with the positions in which it may be joined by the names of a lever."""
    if not means or guard.joined_in is None:
        return guard
    known = dict(means)
    named = [name for name, one in known.items() if one in guard.joined_in]
    kept = [name for name in guard.joined_in if known.get(name, name) in guard.joined_in]
    return replace(guard, joined_in=frozenset((*named, *kept)))


class Aligned(NamedTuple):
    """A switch's positions on a lever. ``names`` maps each of its own that the lever has to the lever's name for it; ``lacking`` are those
    of the lever that it has not, ``unclear`` those that may be one or another of its own."""

    names: Mapping[str, str]
    lacking: tuple[str, ...]
    unclear: tuple[str, ...]


@lru_cache(maxsize=4_096)
def align(lever: tuple[str, ...], means: Means, own: tuple[str, ...], own_means: Means) -> Aligned:
    """Which position of a switch, with its ``own`` names, each of a lever is.

    The same name is the same position, unless the two are said to mean different things; of other names those that mean one thing.
    Where more than one may be meant it is not known which: that is for the hub's angle to tell, which is measured and not named.
    """
    said, own_said = dict(means), dict(own_means)
    same = [one for one in lever if one in own and said.get(one) == own_said.get(one)]
    left = [one for one in own if one not in same]

    def options(one: str) -> list[str]:
        meaning = said.get(one, one)
        return [
            other
            for other in left
            if own_said.get(other, other) == meaning or (other == one and (one not in said or other not in own_said))
        ]

    open_ = {one: options(one) for one in lever if one not in same}
    lacking = _unplaced(open_)
    unclear = tuple(one for one, found in open_.items() if len(found) > 1 and one not in lacking)
    names = {one: one for one in same}
    names.update((found[0], one) for one, found in open_.items() if one not in lacking and one not in unclear)
    return Aligned(names, lacking, unclear)


def _unplaced(open_: Mapping[str, Sequence[str]]) -> tuple[str, ...]:
    """Positions that get none of their options, each given to one at the most; as few as may be."""
    taken: dict[str, str] = {}

    def place(one: str, tried: set[str]) -> bool:
        for other in open_[one]:
            if other not in tried:
                tried.add(other)
                if other not in taken or place(taken[other], tried):
                    taken[other] = one
                    return True
        return False

    return tuple(one for one in open_ if not place(one, set()))
