"""Where the engine cranks, where that is said: what is asked of a part's start contact by it, and what is no longer sure."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache

from rangebook.book.model import Application, Circuit, Cranks, Family, KeyPath, Part
from rangebook.book.numbers import normalise
from rangebook.electrics.meaning import STANDING, Means, guard_on, means_of
from rangebook.electrics.safety import danger_of
from rangebook.electrics.safety_paths import Ends, LackingPath, ends_of, lacking_path
from rangebook.fitting.on_lever import Loops, with_loops
from rangebook.reasons.codes import Danger

PARK_OR_NEUTRAL = frozenset({"P", "N"})


@dataclass(frozen=True, slots=True)
class Asked:
    """A guard as a part of a family is held against it. ``needed`` are the positions in which its path must be, ``None`` where that is
    everywhere where it may be.

    Where the vehicles say that its ground is switched the guard has no feeds: it is joined to the ground then, by whatever name that goes,
    or over the housing.
    """

    guard: Circuit
    needed: frozenset[str] | None


def beyond_park(cranks: Cranks | None, means: Means) -> frozenset[str]:
    """Forward positions in which a module cranks the engine, where a source says so."""
    if cranks is None or cranks.by != "module" or not cranks.sources:
        return frozenset()
    known = dict(means)
    return frozenset(one for one in cranks.positions or () if known.get(one, one) not in STANDING)


def said_of(family: Family, part: Part) -> tuple[Cranks | None, ...]:
    """What the vehicles of a family that came with a part say, or all of them where none did."""
    own = _built_with(family, part)
    if own:
        plugs = [family.plugs.get(one.plug or "") for one in own]
        return tuple(one.cranks or (plug.cranks if plug else None) for one, plug in zip(own, plugs, strict=True))
    return (*(one.cranks for one in family.plugs.values()), *(one.cranks for one in family.applications if one.cranks))


def _built_with(family: Family, part: Part) -> Sequence[Application]:
    return _by_original(family).get(part.key.partition("/")[0], ())


@lru_cache(maxsize=256)
def _by_original(family: Family) -> Mapping[str, Sequence[Application]]:
    """A family's vehicles by the normalised number of the part that they came with."""
    found: dict[str, list[Application]] = {}
    for one in family.applications:
        if one.came_with:
            found.setdefault(normalise(one.came_with), []).append(one)
    return found


def _plugs_of(family: Family, part: Part) -> list[str]:
    return [one.plug for one in _built_with(family, part) if one.plug]


@lru_cache(maxsize=8_192)
def asked_of(family: Family, part: Part, guard: Circuit) -> Asked:
    """A guard of the list of circuits as it is held against a part: by the names of its family's lever, and by where its vehicles crank."""
    means = means_of(family)
    guard = guard_on(guard, means)
    said = said_of(family, part) if danger_of(guard) is Danger.STARTER and guard.joined_in is not None else ()
    stated = [one for one in said if one is not None]
    if guard.feeds and _grounded(family, part, guard, stated):
        guard = replace(guard, feeds=())
    if not stated or guard.joined_in is None:
        return Asked(guard, None)
    needed = frozenset(guard.joined_in)
    for one in stated:
        if one.positions is not None:
            needed &= frozenset(one.positions)
    beyond = frozenset().union(*(beyond_park(one, means) for one in stated))
    return Asked(replace(guard, joined_in=guard.joined_in | beyond) if beyond else guard, needed)


def _grounded(family: Family, part: Part, guard: Circuit, stated: Iterable[Cranks]) -> bool:
    """Whether it is said, of the vehicles that came with a part or else of any of the family, that the ground of what hangs on a guarded
    circuit is switched, and of none that its feed is."""
    if not _says_side(family) and not any(one.side for one in stated):
        return False
    own = [family.plugs[name] for name in _plugs_of(family, part) if name in family.plugs]
    wires = (wire for plug in own or family.plugs.values() for _, wire in plug.each() if wire.circuit == guard.name)
    return {side for side in (*(one.side for one in stated), *(wire.side for wire in wires)) if side} == {"ground"}


@lru_cache(maxsize=256)
def _says_side(family: Family) -> bool:
    """Whether it is said of any wire of a family which end it switches: of most nobody says."""
    return any(wire.side for plug in family.plugs.values() for _, wire in plug.each())


def lacking_of(ends: Ends, loops: Iterable[Loops]) -> LackingPath | None:
    """Where a path of a part is surely not closed and must be, whichever of the jumpers of plugs that go on it is there."""
    found = lacking_path(ends)
    for one in loops if found else ():
        closed = ends_of(with_loops(ends.part, one, ends.positions), ends.guard, ends.positions, ends.asked)
        if closed is None or lacking_path(closed) is None:
            return None
    return found


def strange_cranking(cranks: Cranks, means: Means) -> Iterator[str]:
    """Positions in which an engine is said to crank and does not: reverse, and a forward one but where a module does it and a source says
    so. Source: 49 CFR 571.102 S3.1.3; that it lets a module restart the engine in a forward position, from memory."""
    known = dict(means)
    allowed = beyond_park(cranks, means)
    for one in cranks.positions or ():
        if known.get(one, one) not in PARK_OR_NEUTRAL and one not in allowed:
            yield one


def every_cranks(family: Family) -> Iterable[tuple[KeyPath, Mapping[str, str], Cranks]]:
    """Each place where a family says where the engine cranks: the way to it, the ``plug`` or ``vehicle`` that it is said of, and what."""
    for plug in family.plugs.values():
        if plug.cranks is not None:
            yield (*plug.path, "cranks"), {"plug": plug.name}, plug.cranks
    for one in family.applications:
        if one.cranks is not None:
            yield (*one.path, "cranks"), {"vehicle": one.vehicle}, one.cranks
