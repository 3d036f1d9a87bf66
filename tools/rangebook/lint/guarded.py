"""The two paths that can hurt someone, looked at inside one part: the starter's and the backup lamps'.

Sources: 49 CFR 571.102 S3.1.3 (the starter is inoperative in the forward and reverse positions); 49 CFR 571.108 Table
I-a (the backup lamp is lit in reverse and not in forward motion).
"""

from __future__ import annotations

from collections import deque
from collections.abc import Collection, Iterator, Sequence

from rangebook.book.model import Contact, Family, Part
from rangebook.electrics.behaviour import behaviour
from rangebook.electrics.bundles import bundles_of, contact_ohms
from rangebook.electrics.relation import Path, Relation
from rangebook.electrics.safety import GUARDED, Guarded, hazards
from rangebook.lint.finding import Hit, hit
from rangebook.lint.mentions import as_stated
from rangebook.words.book import danger_words, relation_words
from rangebook.words.lists import listed

START, BACKUP = GUARDED

PARK_NEUTRAL = "park_neutral"
"""Where a module works the starter, the signal by which it knows that it may."""

MOST = 100
"""After so many ways in one part the rest is not told: it is a slip of another kind, and looking takes its time."""

CLOSED_OHMS = 1.0
"""A contact that reads more than this is not closed. Common practice, no source."""


def check(family: Family, guard: Guarded) -> Iterator[Hit]:
    """Yield a hit at each contact of the family's parts that makes the guarded path where it must not be, or never makes it.

    A feed that several contacts share counts as one of the path's own. What is not stated is not found fault with.
    """
    allowed = frozenset(_allowed(guard, family))
    for part in family.parts:
        pins = part.pins or {}
        feeds = [pin for pin, circuit in pins.items() if circuit in guard.feeds]
        outs = [pin for pin, circuit in pins.items() if circuit == guard.out]
        if feeds and outs and part.contacts and not _is_plain(part, feeds, outs, allowed):
            yield from _wrong(family, part, guard, feeds, outs)
            yield from _missing(family, part, guard, feeds, outs)


def _is_plain(part: Part, feeds: Sequence[str], outs: Sequence[str], allowed: frozenset[str]) -> bool:
    """Whether one contact by itself makes the path, and just where it must: so it is in nearly every part, and is soon seen."""
    if len(outs) > 1:
        return False
    bundle = bundles_of(part).of.get(outs[0])
    if bundle is None or len(bundle.contacts) > 1:
        return False
    return any(feed in bundle.nodes for feed in feeds) and bundle.contacts[0].closed == allowed


def _wrong(family: Family, part: Part, guard: Guarded, feeds: Sequence[str], outs: Sequence[str]) -> Iterator[Hit]:
    circuits = {**{pin: frozenset({guard.feed}) for pin in feeds}, **{pin: frozenset({guard.out}) for pin in outs}}
    only = listed(_allowed(guard, family) or ["none of its positions"])
    told = set()
    ways = 0
    for found in hazards(part, {pin: pin for pin in circuits}, circuits, family.positions):
        for position in found.positions if found.sure else ():
            ways += 1
            if ways > MOST:
                return
            way = _way(part, found.a, found.b, position)
            contact = min(way, key=lambda one: _closings(one, family.positions))
            if (contact.path, position) in told:
                continue
            told.add((contact.path, position))
            over = "" if len(way) == 1 else f" (over {', '.join(f'{one.a}-{one.b}' for one in way)})"
            yield _at(
                family,
                contact,
                position,
                f"{part.number}: in {position} there is a path from {_named(part, [found.a])} to {_named(part, [found.b])}{over}: "
                f"{danger_words(guard.danger)}; it may be there only in {only}",
                f"meter {found.a} to {found.b} in {position}; "
                + (f"if it reads open, {_take_out(contact, position)}; if not, correct the circuits in `pins`"),
            )


def _missing(family: Family, part: Part, guard: Guarded, feeds: Sequence[str], outs: Sequence[str]) -> Iterator[Hit]:
    about = [one for one in part.contacts or () if {one.a, one.b} & {*feeds, *outs}]
    known = set(family.positions)
    if any(not (one.closed or set()) <= known or not set(one.ohms or ()) <= known for one in about):
        return  # the position that is lacking may be the one that is misspelt
    allowed = _allowed(guard, family)
    readings = _readings(part, allowed, feeds, outs)
    lacking = [position for position in allowed if not _may_be_closed(readings[position])]
    if not lacking:
        return
    named = f"{_named(part, feeds)} to {_named(part, outs)}"
    read = {relation_words(one) for position in lacking for one in readings[position]}
    direct = [one for one in about if {one.a, one.b} <= {*feeds, *outs}]
    message = (
        f"{part.number}: {named} is {' or '.join(sorted(read))} in {listed(lacking)}; "
        f"expected closed in {listed(allowed)}, or {_without(guard)}"
    )
    fix = f"meter it in {listed(lacking)}; if it reads closed, add {listed(lacking)} to its contact; if not, correct the circuits in `pins`"
    if direct and direct[0].ohms is not None and lacking[0] in direct[0].ohms:
        yield hit(family, (*direct[0].path, "ohms", lacking[0]), message, fix)
    elif direct:
        yield hit(family, (*direct[0].path, "closed"), message, fix)
    else:
        yield hit(family, (*part.path, "contacts"), message, fix, key=True)


def check_park_neutral(family: Family) -> Iterator[Hit]:
    """Yield a hit at each contact of a ``park_neutral`` pin that takes some other position for P or N, or P or N for another.

    It may close in P and N and in nothing else, or the other way about: in everything else, and not in those.
    """
    inside = frozenset(_allowed(START, family))
    outside = frozenset(family.positions) - inside
    for part in family.parts:
        lines = [pin for pin, circuit in (part.pins or {}).items() if circuit == PARK_NEUTRAL]
        for contact in part.contacts or () if lines else ():
            if not {contact.a, contact.b} & set(lines) or contact.closed is None or contact.closed in (inside, outside):
                continue
            if not contact.closed <= inside | outside:
                continue  # a misspelt position may be the one that is lacking
            expected = min((inside, outside), key=lambda right: len(right ^ contact.closed))
            message = (
                f"{part.number}: contact {contact.a}-{contact.b} ({PARK_NEUTRAL}) is closed in {_in(family, contact.closed)}; expected "
                f"{_in(family, expected)}, for a module that is told P or N in gear may let the engine crank"
            )
            fix = f"meter {contact.a} to {contact.b} in every position; correct `closed`, or the circuits in `pins`"
            for position in family.positions:
                if position in contact.closed - expected:
                    yield _at(family, contact, position, message, fix)
            if expected - contact.closed:
                yield hit(family, (*contact.path, "closed"), message, fix)


def _in(family: Family, positions: Collection[str]) -> str:
    return listed([one for one in family.positions if one in positions] or ["no position"])


def _named(part: Part, pins: Sequence[str]) -> str:
    """``pin 1 (start_feed)``."""
    circuits = dict.fromkeys((part.pins or {})[pin] for pin in pins)
    return f"pin {'/'.join(pins)} ({'/'.join(circuits)})"


def _without(guard: Guarded) -> str:
    return "the starter would not turn" if guard is START else "the backup lamps would stay dark"


def _readings(part: Part, positions: Sequence[str], feeds: Sequence[str], outs: Sequence[str]) -> dict[str, list[Relation]]:
    """What is between each feed and each output, by position."""
    seen = behaviour(part, tuple((pin, pin) for pin in (*feeds, *outs)), tuple(positions))
    rows = [seen.between(a, b) for a in feeds for b in outs]
    return {position: [row[index] for row in rows] for index, position in enumerate(positions)}


def _may_be_closed(found: Sequence[Relation]) -> bool:
    """Whether one of several is closed, or not known."""
    return any(one.path in (Path.JOINED, Path.UNKNOWN) or (one.ohms is not None and one.ohms <= CLOSED_OHMS) for one in found)


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


def _closings(contact: Contact, positions: Sequence[str]) -> int:
    """The contact that closes least often is the one that does the switching; one that is always closed only leads there."""
    return sum(conducts(contact, position) for position in positions)


def _at(family: Family, contact: Contact, position: str, message: str, fix: str) -> Hit:
    if contact.closed is None:
        return hit(family, (*contact.path, "ohms", position), message, fix, key=True)
    index = as_stated(family, (*contact.path, "closed")).index(position)
    return hit(family, (*contact.path, "closed", index), message, fix)


def _take_out(contact: Contact, position: str) -> str:
    if contact.closed is None:
        return f"write `{position}: open`"
    return f"take {position} out of `closed` of contact {contact.a}-{contact.b}"


def _allowed(guard: Guarded, family: Family) -> list[str]:
    """The positions of this lever in which the path may be and must be; the guard's own where the lever has none of them."""
    return [position for position in family.positions if position in guard.allowed]
