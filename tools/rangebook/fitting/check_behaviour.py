"""The third check, what the wires see in every position."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from functools import lru_cache
from typing import NamedTuple

from rangebook.book.model import CASE, Part, Reads
from rangebook.electrics.behaviour import Behaviour, Disagreement, behaviour, compare, overlaps, without_overlaps
from rangebook.electrics.bundles import INFINITE, Span, bundles_of, contact_ohms, contacts_stated, spans, tolerance_of
from rangebook.electrics.ladder import Decoded, crowded, decode, window_of
from rangebook.electrics.meaning import Means, means_of
from rangebook.electrics.relation import CONDUCTS, MAX_TOLERANCE_PERCENT, PathKind, Relation, agree
from rangebook.electrics.signals import compare_signals
from rangebook.fitting.check_rating import NO_FANS, Fans, check_rating
from rangebook.fitting.on_lever import Loops
from rangebook.fitting.seats import Seat
from rangebook.reasons.codes import (
    Agrees,
    BehaviourCameWith,
    Between,
    ContactsNotStated,
    Difference,
    Differs,
    LadderMisread,
    LadderReadRight,
    LadderUnsure,
    LadderWithoutWire,
    Mistake,
    Overlap,
    PairNotStated,
    PinNotStated,
    PositionsLacking,
    PositionsUnclear,
    ReadingsOverlap,
    ToleranceTooWide,
)
from rangebook.reasons.reason import Of, Outcome, Reason, Side, Subject

_Spans = tuple[Span | None, ...]
"""What is between two terminals by position, ``None`` where it is not known."""


class Wiring(NamedTuple):
    """A part with the vehicle's wires and its plug's jumpers on it: ``pin_of`` maps each terminal to the pin that it meets; ``own`` are the
    positions that the part's family has, by the lever's names, ``means`` what those mean that the lever has not. ``fans`` are all
    pins that a terminal meets where a lead brings its wire to several."""

    part: Part
    pin_of: Mapping[str, str | None]
    own: tuple[str, ...]
    lacking: tuple[str, ...] = ()
    unclear: tuple[str, ...] = ()
    means: Means = ()
    loops: Loops = ()
    fans: Fans = NO_FANS

    @property
    def pairs(self) -> tuple[tuple[str, str | None], ...]:
        """``pin_of`` as the engine takes it."""
        return tuple(self.pin_of.items())


def own_wiring(seat: Seat) -> Wiring:
    """The original with the seat's wires on it, as the vehicle was built."""
    return Wiring(seat.inside, seat.meets, seat.positions, loops=seat.loops)


def check_behaviour(seat: Seat, wiring: Wiring) -> Iterator[Reason]:
    """Everything that the wires would see otherwise with this part, in every position of the lever."""
    if wiring.lacking:
        yield Reason(PositionsLacking(wiring.lacking, wiring.own), Subject(Side.CANDIDATE, Of.POSITION, wiring.lacking))
    for side, unclear in ((Side.CANDIDATE, wiring.unclear), (Side.ORIGINAL, seat.unclear if not is_itself(seat, wiring) else ())):
        if unclear:
            yield Reason(PositionsUnclear(unclear), Subject(side, Of.POSITION, unclear), len(unclear))
    positions = tuple(position for position in seat.positions if position in wiring.own)
    # What is not stated about the part that the vehicle was built with cannot speak against it.
    if is_itself(seat, wiring):
        yield Reason(BehaviourCameWith(), Subject(Side.CANDIDATE))
    else:
        yield from _compared(seat, wiring, positions)


def is_itself(seat: Seat, wiring: Wiring) -> bool:
    """Whether it is the part that the vehicle was built with, each wire in its place."""
    return wiring.part.key == seat.original.key and seat.clear and wiring.pin_of == seat.meets and wiring.loops == seat.loops


def _compared(seat: Seat, wiring: Wiring, positions: tuple[str, ...]) -> Iterator[Reason]:
    original = own_wiring(seat)
    one = behaviour(original.part, original.pairs, positions)
    other = behaviour(wiring.part, wiring.pairs, positions)
    apart = compare(one, other)
    if overlaps(original.part) or overlaps(wiring.part):
        # What a contact overlaps into is judged in both: closed there too, as above, and not yet, or no longer.
        bare = [behaviour(without_overlaps(at.part), at.pairs, positions) for at in (original, wiring)]
        told = {(at.a, at.b, at.position) for at in apart}
        apart += [at for at in compare(*bare) if (at.a, at.b, at.position) not in told]
    powered = compare_signals(original.part, original.pin_of, wiring.part, wiring.pin_of, positions, seat.given)
    doubts: list[Reason] = []
    ladder: frozenset[str] = frozenset()
    if seat.plug.reads:
        doubts = list(_read(seat, one, other, original, wiring))
        if _alone(seat, one, other) and not any(isinstance(reason.detail, LadderWithoutWire) for reason in doubts):
            ladder = frozenset(seat.plug.reads.pins)
            # A module takes a line that is open for a broken wire (common practice, no source): that is no other resistance.
            apart = [found for found in apart if {found.a, found.b} != ladder or not found.sure or not _is_read(found)]
        yield from doubts
    crowding = [*_crowding(seat, one, original, wiring, ladder), *_too_wide(one, other, original, wiring)]
    yield from _differences(apart, seat)
    yield from _gaps(apart, seat, original, wiring)
    yield from crowding
    yield from (signal.reason for signal in powered)
    pin_of = {terminal: pin for terminal, pin in wiring.pin_of.items() if pin is not None}
    ratings = check_rating(seat, wiring.part, pin_of, other, wiring.fans)
    if apart or powered or crowding or not all(isinstance(reason.detail, LadderReadRight) for reason in doubts):
        yield from (reason for reason in ratings if reason.outcome is not Outcome.FOR)
    else:
        yield from ratings
        yield Reason(_agreement(seat, one, set(ladder), positions), Subject(Side.CANDIDATE, Of.CONTACTS))


def _is_read(found: Disagreement) -> bool:
    """Whether both are a resistance, or none, to a module: neither is open and the other not, nor is there a diode."""
    return {found.original.path, found.candidate.path} <= {PathKind.JOINED, PathKind.OHMS}


def _agreement(seat: Seat, one: Behaviour, ladder: set[str], positions: tuple[str, ...]) -> Agrees:
    """What was compared and found the same, with its size; ``ladder`` is the pair that was judged by its reading instead."""
    paths = [one_.path for pair, row in one.pairs.items() if set(pair) != ladder for one_ in row]
    return Agrees(len(seat.plug.wires), positions, sum(path in CONDUCTS for path in paths), paths.count(PathKind.OHMS), bool(ladder))


def _alone(seat: Seat, *sides: Behaviour) -> bool:
    """Whether the two cavities that the module reads are a ladder by themselves in both parts: then the reading is judged and not the
    resistance."""
    assert seat.plug.reads is not None
    pins = set(seat.plug.reads.pins)
    return not any(len(pins & set(pair)) == 1 for side in sides for pair in side.pairs)


def _read(seat: Seat, one: Behaviour, other: Behaviour, original: Wiring, candidate: Wiring) -> Iterator[Reason]:
    """The ladder as the module takes it; what is not known of its resistances has a reason of its own."""
    reads = seat.plug.reads
    assert reads is not None
    pair = reads.pins
    lacking = tuple(cavity for cavity in pair if cavity not in one.terminals)
    if lacking:
        yield Reason(LadderWithoutWire(lacking), Subject(Side.ORIGINAL, Of.CONTACTS))
        return
    rows = [spans_between(wiring, *pair, one.positions) for wiring in (original, candidate)]
    means = means_of(seat.family)
    decoded = _decoded(*rows, one.positions, reads, means)
    if decoded is None:
        return
    subject = Subject(Side.CANDIDATE, Of.PAIR, pair)
    if decoded.sure:
        mistakes = tuple(Mistake(position, taken, position in decoded.sure) for position, taken in decoded.mistaken.items())
        yield Reason(LadderMisread(pair, mistakes), subject)
    elif None in rows[0] or None in rows[1]:
        return
    elif decoded.scant:
        itself = _decoded(rows[0], rows[0], one.positions, reads, means)
        side = Side.BOTH if itself and itself.scant else Side.CANDIDATE
        overlaps = tuple(Overlap(position, near) for position, near in decoded.scant.items())
        yield Reason(LadderUnsure(pair, overlaps, round(decoded.margin, 2)), Subject(side, Of.PAIR, pair), len(overlaps))
    else:
        differs = not all(map(agree, one.between(*pair), other.between(*pair)))
        yield Reason(LadderReadRight(pair, round(decoded.margin, 2), decoded.at, differs), subject)


@lru_cache(maxsize=16_384)
def _decoded(original: _Spans, candidate: _Spans, positions: tuple[str, ...], reads: Reads, means: Means) -> Decoded | None:
    """The candidate's resistances as the module takes them, in the positions in which both parts' are known; ``None`` where there is none.

    What is taken wrongly among some positions is so among all; whether the rest is read right is not known without every one of them.
    """
    rows = [{at: window_of(span, reads) for at, span in zip(positions, row, strict=True) if span} for row in (original, candidate)]
    known = [position for position in positions if all(position in row for row in rows)]
    one, other = ({position: row[position] for position in known} for row in rows)
    return decode(one, other, dict(means)) if known else None


def spans_between(wiring: Wiring, a: str, b: str, positions: tuple[str, ...]) -> _Spans:
    """What a part has between two terminals with nothing on the others; open where one of them meets no pin."""
    pins = tuple(wiring.pin_of[one] for one in (a, b))
    stated = wiring.part.pins
    if any(pin is None or (pin != CASE and stated is not None and pin not in stated) for pin in pins):
        return (Span(INFINITE, INFINITE, INFINITE),) * len(positions)
    return spans(wiring.part, *pins, positions)


def _crowding(seat: Seat, one: Behaviour, original: Wiring, candidate: Wiring, ladder: frozenset[str]) -> Iterator[Reason]:
    """Ladders of which at the worst of a tolerance a position may read as another; ``ladder`` is the one that is judged by its reading."""
    pairs = {
        (terminals[0], terminals[1])
        for wiring in (original, candidate)
        for ends in _ladders(wiring.part, one.positions)
        if len(terminals := [terminal for terminal, pin in wiring.pin_of.items() if pin in ends]) == 2
    }
    for a, b in sorted(pairs):
        if {a, b} == ladder:
            continue
        rows = [spans_between(wiring, a, b, one.positions) for wiring in (original, candidate)]
        if None in rows[0] or None in rows[1]:
            continue
        found = [crowded(rows[0], row, one.positions, means_of(seat.family)) for row in rows]
        if any(found):
            side = Side.BOTH if all(found) else Side.ORIGINAL if found[0] else Side.CANDIDATE
            overlaps = tuple(Overlap(*pair) for pair in dict.fromkeys((*found[0], *found[1])))
            yield Reason(ReadingsOverlap((a, b), overlaps), Subject(side, Of.PAIR, (a, b)), len(overlaps))


@lru_cache(maxsize=4_096)
def _ladders(part: Part, positions: tuple[str, ...]) -> frozenset[frozenset[str]]:
    """The two ends of each contact that has several resistances."""
    found = set()
    for one in part.contacts or ():
        ohms = {contact_ohms(one, position) for position in positions} if one.ohms else set()
        if len(ohms - {0.0, INFINITE, None}) > 1 and one.a != one.b:
            found.add(frozenset((one.a, one.b)))
    return frozenset(found)


def _too_wide(one: Behaviour, other: Behaviour, original: Wiring, candidate: Wiring) -> Iterator[Reason]:
    """Resistances on the wires whose tolerance says nothing, of either part."""
    for side, seen, wiring in ((Side.ORIGINAL, one, original), (Side.CANDIDATE, other, candidate)):
        wide = _wide_contacts(wiring.part)
        if not wide:
            continue
        bundles = bundles_of(wiring.part).of
        reached = {id(bundles.get(wiring.pin_of[a] or "")) for pair in seen.pairs for a in pair}
        for pins, percent in wide:
            if id(bundles[pins[0]]) in reached:
                yield Reason(ToleranceTooWide(pins, percent, MAX_TOLERANCE_PERCENT), Subject(side, Of.CONTACTS))


@lru_cache(maxsize=4_096)
def _wide_contacts(part: Part) -> tuple[tuple[tuple[str, str], float], ...]:
    return tuple(
        ((one.a, one.b), tolerance_of(one))
        for one in part.contacts or ()
        if one.a != one.b
        and tolerance_of(one) > MAX_TOLERANCE_PERCENT
        and any(contact_ohms(one, at) not in (0, INFINITE) for at in one.ohms or ())
    )


def _between(found: Relation) -> Between:
    """Four figures are more than any meter in a workshop shows, and hide what a computer loses in adding up."""
    return Between(found.path, None if found.ohms is None else float(f"{found.ohms:.4g}"))


def _differences(apart: Sequence[Disagreement], seat: Seat) -> Iterator[Reason]:
    """One reason for each two terminals, with each way of differing once, its positions together."""
    found: dict[tuple[str, str], dict[tuple[Between, Between, float | None], list[str]]] = {}
    for one in apart:
        if one.sure:
            ohms = one.original.path is PathKind.OHMS and one.candidate.path is PathKind.OHMS
            how = _between(one.original), _between(one.candidate), one.original.tolerance_percent if ohms else None
            found.setdefault((one.a, one.b), {}).setdefault(how, []).append(one.position)
    for (a, b), ways in found.items():
        differences = tuple(
            Difference(tuple(positions), original, candidate, percent, percent is not None and seat.plug.reads is None)
            for (original, candidate, percent), positions in ways.items()
        )
        detail = Differs(seat.terminal(a), seat.terminal(b), differences)
        yield Reason(detail, Subject(Side.CANDIDATE, Of.PAIR, (a, b)))


def _gaps(apart: Sequence[Disagreement], seat: Seat, original: Wiring, candidate: Wiring) -> Iterator[Reason]:
    """What is not stated, put as what to measure, for each part by itself."""
    for side, wiring in ((Side.ORIGINAL, original), (Side.CANDIDATE, candidate)):
        open_ = [one for one in apart if (one.original if side is Side.ORIGINAL else one.candidate).path is PathKind.UNKNOWN]
        if not open_:
            continue
        part = wiring.part
        among = {one.position for one in open_}
        positions = tuple(position for position in seat.positions if position in among)
        if not contacts_stated(part):
            pins = tuple(pin for pin in wiring.pin_of.values() if pin is not None and pin != CASE)
            yield Reason(ContactsNotStated(part.pins is not None, pins, positions), Subject(side, Of.CONTACTS), len(open_))
            continue
        seen = behaviour(part, wiring.pairs, seat.positions)
        for terminal in (one for one in seen.terminals if one in seen.unlisted):
            count = sum(terminal in (gap.a, gap.b) for gap in open_)
            pin = wiring.pin_of[terminal]
            assert pin is not None, "what meets no pin is open"
            yield Reason(PinNotStated(pin, positions), Subject(side, Of.PIN, (pin,)), count)
        pairs: dict[tuple[str, str], list[str]] = {}
        for gap in open_:
            if gap.a not in seen.unlisted and gap.b not in seen.unlisted:
                pairs.setdefault((gap.a, gap.b), []).append(gap.position)
        for (a, b), where in pairs.items():
            detail = PairNotStated(seat.terminal(a), seat.terminal(b), tuple(where))
            yield Reason(detail, Subject(side, Of.PAIR, (a, b)), len(where))
