"""Whether the contacts are made for what goes through the wires: a solenoid's current, a relay's, or a module's signal."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from functools import lru_cache
from types import MappingProxyType

from rangebook.book.model import CASE, Part
from rangebook.electrics.behaviour import Behaviour, behaviour
from rangebook.electrics.rating import rating
from rangebook.electrics.relation import CONDUCTS
from rangebook.fitting.seats import Seat
from rangebook.reasons.codes import RatingCompare, RatingNotStated, RatingTooLow
from rangebook.reasons.reason import Of, Reason, Side, Subject

Fans = Mapping[str, tuple[str, ...]]
NO_FANS: Fans = MappingProxyType({})


def check_rating(seat: Seat, part: Part, pin_of: dict[str, str], seen: Behaviour, fans: Fans = NO_FANS) -> Iterator[Reason]:
    """What the candidate's closed paths are made for against what the wires carry, or else against what the original's are made for.

    ``pin_of`` maps each terminal that meets a pin of the candidate to it, ``fans`` to all pins where a lead brings its wire to several;
    ``seen`` is the candidate on the wires.
    """
    compare: dict[str, None] = {}
    for a, b in _closed(seen):
        carries = _carries(seat, seen, a, b)
        has = rating(part, pin_of[a], pin_of[b], seen.positions)
        had = rating(seat.inside, seat.meets[a] or "", seat.meets[b] or "", seen.positions)
        need = had.low if carries is None else carries
        if carries is not None and has.high < carries:
            yield Reason(RatingTooLow(seat.terminal(a), seat.terminal(b), has.high, carries), Subject(Side.CANDIDATE, Of.PAIR, (a, b)))
            continue
        safety = not seat.loaded.isdisjoint((a, b))
        if ((carries is not None or need) and has.low >= need) or not (safety or need):
            continue
        # A contact is the same either way round.
        pins = {one: fans.get(one) or (pin_of[one],) for one in (a, b)}
        names_differ = safety and all(
            _names_differ(seat, part, a, pins[one]) or _names_differ(seat, part, b, pins[other]) for one, other in ((a, b), (b, a))
        )
        if names_differ or has.high < need:
            detail = RatingNotStated(seat.terminal(a), seat.terminal(b), names_differ, carries, had.stated, has.stated)
            side = Side.CANDIDATE if need and has.stated is None else Side.ORIGINAL if has.stated is not None else Side.BOTH
            yield Reason(detail, Subject(side, Of.RATING, (a, b)))
        else:
            compare.update(dict.fromkeys(one for one in (a, b) if one != CASE))
    if compare:
        yield Reason(RatingCompare(tuple(compare)), Subject(Side.CANDIDATE, Of.RATING))


@lru_cache(maxsize=4_096)
def _closed(seen: Behaviour) -> tuple[tuple[str, str], ...]:
    """The terminals between which some position has a closed path."""
    return tuple(pair for pair, row in seen.pairs.items() if any(one.path in CONDUCTS for one in row))


def _names_differ(seat: Seat, part: Part, terminal: str, pins: tuple[str, ...]) -> bool:
    """Whether a wire is of a safety circuit and the candidate calls its pin there otherwise, or each of its pins. By the list of circuits
    two feeds of one output are the same, as one that several contacts share."""
    wire = seat.circuits.get(terminal, frozenset())
    called = {name for one in pins if (name := (part.pins or {}).get(one)) is not None}
    if not called or not called.isdisjoint(wire) or terminal not in seat.loaded:
        return False
    return not any(not called.isdisjoint(one.feeds) and not wire.isdisjoint(one.feeds) for one in seat.listed.values())


def _carries(seat: Seat, seen: Behaviour, a: str, b: str) -> float | None:
    """The most current between two terminals: what the one carries that carries less, or the only one of which it is stated, if all that
    goes through it goes through here."""
    if not seat.carries:
        return None
    stated = {one: seat.carries[one] for one in (a, b) if one in seat.carries}
    if len(stated) == 1:
        ((one, amps),) = stated.items()
        return amps if sum(one in pair for pair in _closed(seen)) == 1 else None
    return min(stated.values(), default=None)


def own_ratings(seat: Seat) -> Iterator[Reason]:
    """The same for the part that the vehicle was built with, in its own place."""
    pin_of = {terminal: pin for terminal, pin in seat.meets.items() if pin is not None}
    return check_rating(seat, seat.original, pin_of, behaviour(seat.original, tuple(seat.meets.items()), seat.positions))
