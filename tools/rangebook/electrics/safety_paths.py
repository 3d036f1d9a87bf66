"""The two paths that can hurt someone, looked at inside one part: the starter's and the backup lamps'.

Sources: 49 CFR 571.102 S3.1.3 (the starter is inoperative in the forward and reverse positions); 49 CFR 571.108 Table
I-a (the backup lamp is lit in reverse and not in forward motion).
"""

from __future__ import annotations

from collections import deque
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from rangebook.book.model import Contact, Part
from rangebook.electrics.behaviour import behaviour
from rangebook.electrics.bundles import bundles_of, contact_ohms
from rangebook.electrics.relation import PathKind, Relation
from rangebook.electrics.safety import GUARDED, Guarded, hazards

START, BACKUP = GUARDED

PARK_NEUTRAL = "park_neutral"
"""Where a module works the starter, the signal by which it knows that it may."""

MOST = 100
"""After so many ways in one part the rest is not told: it is a slip of another kind, and looking takes its time."""

CLOSED_OHMS = 1.0
"""A contact that reads more than this is not closed. Common practice, no source."""


@dataclass(frozen=True)
class Ends:
    """A part with the pins between which a guarded path may be: a feed that several contacts share counts as one of the path's own."""

    part: Part
    guard: Guarded
    feeds: tuple[str, ...]
    outs: tuple[str, ...]
    positions: tuple[str, ...]

    @property
    def allowed(self) -> list[str]:
        """The positions of this lever in which the path may be and must be."""
        return allowed(self.guard, self.positions)


@dataclass(frozen=True)
class WrongWay:
    """A way from pin ``start`` to pin ``end`` in a position in which it must not be; of its contacts ``contact`` does the switching."""

    start: str
    end: str
    position: str
    way: tuple[Contact, ...]
    contact: Contact


@dataclass(frozen=True)
class LackingPath:
    """Positions in which no way is closed that must be, what was read there, and the contact that leads from feed to output, if any."""

    positions: tuple[str, ...]
    readings: tuple[Relation, ...]
    direct: Contact | None


def allowed(guard: Guarded, positions: Sequence[str]) -> list[str]:
    """The positions of a lever in which a guarded path may be and must be."""
    return [position for position in positions if position in guard.allowed]


def ends_of(part: Part, guard: Guarded, positions: tuple[str, ...]) -> Ends | None:
    """Where a part may have a guarded path; ``None`` where it has none, or one contact by itself makes it just where it must."""
    pins = part.pins or {}
    feeds = tuple(pin for pin, circuit in pins.items() if circuit in guard.feeds)
    outs = tuple(pin for pin, circuit in pins.items() if circuit == guard.out)
    if not feeds or not outs or not part.contacts:
        return None
    found = Ends(part, guard, feeds, outs, positions)
    return None if _is_plain(found) else found


def _is_plain(ends: Ends) -> bool:
    """So it is in nearly every part, and is soon seen."""
    if len(ends.outs) > 1:
        return False
    bundle = bundles_of(ends.part).of.get(ends.outs[0])
    if bundle is None or len(bundle.contacts) > 1:
        return False
    return any(feed in bundle.nodes for feed in ends.feeds) and bundle.contacts[0].closed == frozenset(ends.allowed)


def wrong_ways(ends: Ends) -> Iterator[WrongWay]:
    """Each contact that makes the path where it must not be, once for a position. What is not stated is not found fault with."""
    part, guard = ends.part, ends.guard
    circuits = {**{pin: frozenset({guard.feed}) for pin in ends.feeds}, **{pin: frozenset({guard.out}) for pin in ends.outs}}
    told = set()
    ways = 0
    for found in hazards(part, {pin: pin for pin in circuits}, circuits, ends.positions):
        for position in found.positions if found.sure else ():
            ways += 1
            if ways > MOST:
                return
            way = _way(part, found.a, found.b, position)
            # The contact that closes least often does the switching; one that is always closed only leads there.
            contact = min(way, key=lambda one: sum(conducts(one, position) for position in ends.positions))
            if (contact.path, position) not in told:
                told.add((contact.path, position))
                yield WrongWay(found.a, found.b, position, tuple(way), contact)


def lacking_path(ends: Ends) -> LackingPath | None:
    """Where the path is surely not closed and must be; ``None`` where it may be everywhere."""
    pins = {*ends.feeds, *ends.outs}
    about = [one for one in ends.part.contacts or () if {one.a, one.b} & pins]
    known = set(ends.positions)
    if any(not (one.closed or set()) <= known or not set(one.ohms or ()) <= known for one in about):
        return None  # the position that is lacking may be the one that is misspelt
    readings = _readings(ends)
    lacking = tuple(position for position in ends.allowed if not _may_be_closed(readings[position]))
    if not lacking:
        return None
    direct = next((one for one in about if {one.a, one.b} <= pins), None)
    return LackingPath(lacking, tuple(one for position in lacking for one in readings[position]), direct)


def park_neutral_faults(part: Part, positions: Sequence[str]) -> Iterator[tuple[Contact, frozenset[str]]]:
    """Each contact of a ``park_neutral`` pin that takes another position for P or N, or P or N for another, with where it must be closed.

    It may close in P and N and in nothing else, or the other way about: in everything else, and not in those.
    """
    inside = frozenset(allowed(START, positions))
    outside = frozenset(positions) - inside
    lines = {pin for pin, circuit in (part.pins or {}).items() if circuit == PARK_NEUTRAL}
    for contact in part.contacts or () if lines else ():
        closed = contact.closed
        if not {contact.a, contact.b} & lines or closed is None or closed in (inside, outside):
            continue
        if closed <= inside | outside:  # else a misspelt position may be the one that is lacking
            yield contact, inside if len(inside ^ closed) <= len(outside ^ closed) else outside


def _readings(ends: Ends) -> Mapping[str, Sequence[Relation]]:
    """What is between each feed and each output, by position."""
    positions = tuple(ends.allowed)
    seen = behaviour(ends.part, tuple((pin, pin) for pin in (*ends.feeds, *ends.outs)), positions)
    rows = [seen.between(a, b) for a in ends.feeds for b in ends.outs]
    return {position: [row[index] for row in rows] for index, position in enumerate(positions)}


def _may_be_closed(found: Sequence[Relation]) -> bool:
    """Whether one of several is closed, or not known."""
    return any(one.path in (PathKind.JOINED, PathKind.UNKNOWN) or (one.ohms is not None and one.ohms <= CLOSED_OHMS) for one in found)


def _way(part: Part, start: str, end: str, position: str) -> list[Contact]:
    """The fewest contacts that make the path in a position. There is one."""
    came: dict[str, tuple[str, Contact] | None] = {start: None}
    todo = deque([start])
    while todo and end not in came:
        here = todo.popleft()
        for contact in part.contacts or ():
            if here in (contact.a, contact.b) and conducts(contact, position):
                there = contact.b if here == contact.a else contact.a
                if there not in came:
                    came[there] = here, contact
                    todo.append(there)
    way = []
    step = came[end]
    while step is not None:
        way.append(step[1])
        step = came[step[0]]
    return way[::-1]


def conducts(contact: Contact, position: str) -> bool:
    """Whether a contact is known to make a path, of whatever resistance, in a position."""
    ohms = contact_ohms(contact, position)
    return ohms is not None and ohms != float("inf")
