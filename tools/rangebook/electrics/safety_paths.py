"""The paths that can hurt someone, looked at inside one part, as if each of its pins had a wire: the starter's, the backup lamps', and what
else the list of circuits guards. The law is that of :mod:`rangebook.electrics.safety`.

Sources: 49 CFR 571.102 S3.1.3 (the starter is inoperative in the forward and reverse positions); 49 CFR 571.108 Table
I-a (the backup lamp is lit in reverse and not in forward motion).
"""

from __future__ import annotations

from collections import deque
from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass

from rangebook.book.model import CASE, Circuit, Contact, KeyPath, Part, Signal
from rangebook.electrics.behaviour import behaviour
from rangebook.electrics.bundles import bundles_of, contact_ohms
from rangebook.electrics.relation import CLOSED_OHMS, CONDUCTS, OPEN, PathKind, Relation
from rangebook.electrics.safety import drives, outside_of, touched

MOST = 100
"""After so many ways in one part the rest is not told: it is a slip of another kind, and looking takes its time."""


@dataclass(frozen=True)
class Ends:
    """A part with its pins of a guarded circuit, and those of the circuits that feed it."""

    part: Part
    guard: Circuit
    feeds: tuple[str, ...]
    outs: tuple[str, ...]
    positions: tuple[str, ...]
    asked: frozenset[str] | None = None
    """The positions in which the path must be, where those are not all in which it may be."""

    @property
    def needed(self) -> list[str]:
        """The positions of this lever in which the path must be."""
        return [position for position in self.allowed if self.asked is None or position in self.asked]

    @property
    def allowed(self) -> list[str]:
        """The positions of this lever in which the path may be."""
        return [position for position in self.positions if position in (self.guard.joined_in or ())]

    @property
    def outside(self) -> tuple[str, ...]:
        """Those in which it must not be."""
        return outside_of(self.guard, self.positions)


@dataclass(frozen=True)
class WrongWay:
    """A way from ``start``, a pin or the housing, to pin ``end`` in a position in which it must not be; of its contacts ``contact`` does
    the switching."""

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


def ends_of(part: Part, guard: Circuit, positions: tuple[str, ...], asked: frozenset[str] | None = None) -> Ends | None:
    """Where a part may have a guarded path; ``None`` where it has none, or one contact by itself makes it just where it must."""
    pins = part.pins or {}
    outs = tuple(pin for pin, circuit in pins.items() if circuit == guard.name)
    if not outs:
        return None
    found = Ends(part, guard, tuple(pin for pin, circuit in pins.items() if circuit in guard.feeds), outs, positions, asked)
    return None if _is_plain(found) else found


def _is_plain(ends: Ends) -> bool:
    """So it is in nearly every part, and is soon seen."""
    bundle = bundles_of(ends.part).of.get(ends.outs[0])
    if len(ends.outs) > 1 or ends.part.signals or bundle is None or len(bundle.contacts) > 1:
        return False
    contact = bundle.contacts[0]
    return any(feed in bundle.nodes for feed in ends.feeds) and contact.closed == frozenset(ends.needed) and not contact.overlaps


def wrong_ways(ends: Ends) -> Iterator[WrongWay]:
    """Each contact that makes a path where it must not be, once for a position. What is not stated is not found fault with."""
    told = set()
    ways = 0
    for out in ends.outs:
        for position, touch in touched(ends.part, out, ends.outside).items():
            gone: set[KeyPath] = set()
            # A contact that was told of is taken out, until nothing is left that the pin touches.
            while touch.sure and ways < MOST and (found := _way(ends, out, position, gone)) is not None:
                ways += 1
                start, way = found
                # The contact that closes least often does the switching; one that is always closed only leads there.
                contact = min(way, key=lambda one: sum(conducts(one, at) for at in ends.positions))
                gone.add(contact.path)
                if (contact.path, position) not in told:
                    told.add((contact.path, position))
                    yield WrongWay(start, out, position, tuple(way), contact)


def driven(ends: Ends) -> Iterator[tuple[Signal, str]]:
    """Each powered output on a guarded pin, with each position in which it surely works what it must not."""
    for signal in ends.part.signals:
        if signal.pin in ends.outs:
            yield from ((signal, position) for position in ends.outside if drives(signal, ends.guard, position))


def lacking_path(ends: Ends) -> LackingPath | None:
    """Where the path is surely not closed and must be; ``None`` where it may be everywhere, or where the pin has no contact at all.

    Without a feed on the list of circuits, or on the part, the pin has to touch something.
    """
    pins = {*ends.feeds, *ends.outs}
    known = set(ends.positions)
    about = [one for one in ends.part.contacts or () if {one.a, one.b} & (pins if ends.guard.feeds else set(ends.outs))]
    if not about or (ends.guard.feeds and not ends.feeds):
        return None
    if any(not (one.closed or set()) <= known or not set(one.ohms or ()) <= known for one in about):
        return None  # the position that is lacking may be the one that is misspelt
    if not ends.guard.feeds:
        free = [position for position in ends.needed if all(position not in touched(ends.part, out, (position,)) for out in ends.outs)]
        return LackingPath(tuple(free), (OPEN,), about[0]) if free else None
    readings = _readings(ends)
    lacking = tuple(position for position in ends.needed if not _may_be_closed(readings[position]))
    if not lacking:
        return None
    direct = next((one for one in about if {one.a, one.b} <= pins), None)
    return LackingPath(lacking, tuple(one for position in lacking for one in readings[position]), direct)


def _readings(ends: Ends) -> Mapping[str, Sequence[Relation]]:
    """What is between each feed and each output, by position."""
    positions = tuple(ends.needed)
    seen = behaviour(ends.part, tuple((pin, pin) for pin in (*ends.feeds, *ends.outs)), positions)
    rows = [seen.between(a, b) for a in ends.feeds for b in ends.outs]
    return {position: [row[index] for row in rows] for index, position in enumerate(positions)}


def _may_be_closed(found: Sequence[Relation]) -> bool:
    """Whether one of several is closed, or not known."""
    return any(one.path in CONDUCTS or one.path is PathKind.UNKNOWN or (one.ohms is not None and one.ohms <= CLOSED_OHMS) for one in found)


def _way(ends: Ends, out: str, position: str, gone: Collection[KeyPath]) -> tuple[str, list[Contact]] | None:
    """The fewest contacts, none of those that are ``gone``, that join an output to another pin or the housing, and which one: a feed of it
    before others. ``None`` where none do."""
    came: dict[str, tuple[str, Contact] | None] = {out: None}
    todo = deque([out])
    while todo:
        here = todo.popleft()
        for contact in ends.part.contacts or ():
            if here in (contact.a, contact.b) and contact.path not in gone and conducts(contact, position):
                there = contact.b if here == contact.a else contact.a
                if there not in came:
                    came[there] = here, contact
                    todo.append(there)
    others = [pin for pin in (*ends.feeds, *(ends.part.pins or ()), CASE) if pin != out and pin in came]
    if not others:
        return None
    way = []
    step = came[others[0]]
    while step is not None:
        way.append(step[1])
        step = came[step[0]]
    return others[0], way


def conducts(contact: Contact, position: str) -> bool:
    """Whether a contact is known to make a path, of whatever resistance, in a position."""
    ohms = contact_ohms(contact, position)
    return ohms is not None and ohms != float("inf")
