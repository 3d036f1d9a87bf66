"""The third check, what the wires see in every position, and the one apart from all others: safety."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import NamedTuple

from rangebook.book.model import CASE, Part
from rangebook.electrics.behaviour import Behaviour, Disagreement, behaviour, compare
from rangebook.electrics.ladder import Decoded, Window, decode, window
from rangebook.electrics.relation import PathKind, Relation
from rangebook.electrics.safety import Hazard, hazards
from rangebook.electrics.signals import compare_signals
from rangebook.fitting.seats import Seat
from rangebook.reasons.codes import (
    Agrees,
    BehaviourCameWith,
    Between,
    ContactsNotStated,
    Difference,
    Differs,
    HazardNotStated,
    HazardPath,
    LadderMisread,
    LadderReadRight,
    Mistake,
    PairNotStated,
    PinNotStated,
    PositionsLacking,
    Terminal,
)
from rangebook.reasons.reason import Of, Reason, Side, Subject


class Wiring(NamedTuple):
    """A part with the vehicle's wires on it: ``pin_of`` maps each terminal to the pin that it meets; ``own`` are the
    positions that the part's family has."""

    part: Part
    pin_of: Mapping[str, str | None]
    own: tuple[str, ...]

    @property
    def pairs(self) -> tuple[tuple[str, str | None], ...]:
        """``pin_of`` as the engine takes it."""
        return tuple(self.pin_of.items())


def own_wiring(seat: Seat) -> Wiring:
    """The original with the seat's wires on it, each where it is."""
    return Wiring(seat.original, {one: one for one in seat.terminals}, seat.positions)


def positions_lacking(seat: Seat, own: Sequence[str]) -> tuple[str, ...]:
    """The positions of the seat's lever that a part with its ``own`` does not have."""
    return tuple(position for position in seat.positions if position not in own)


def check_behaviour(seat: Seat, wiring: Wiring) -> list[Reason]:
    """Everything that the wires would see otherwise with this part, in every position of the lever."""
    reasons: list[Reason] = []
    part = wiring.part
    lacking = positions_lacking(seat, wiring.own)
    if lacking:
        reasons.append(Reason(PositionsLacking(lacking, wiring.own), Subject(Side.CANDIDATE, Of.POSITION, lacking)))
    positions = tuple(position for position in seat.positions if position in wiring.own)
    # What is not stated about the part that the vehicle was built with cannot speak against it.
    itself = part.key == seat.original.key and all(old == new for old, new in wiring.pin_of.items())
    if itself:
        reasons.append(Reason(BehaviourCameWith(), Subject(Side.CANDIDATE)))
    else:
        reasons += _compared(seat, wiring, positions)
    for hazard in hazards(part, wiring.pin_of, seat.circuits, wiring.own):
        if hazard.sure or not itself:
            reasons.append(_hazard(hazard))
    return reasons


def _compared(seat: Seat, wiring: Wiring, positions: tuple[str, ...]) -> Iterator[Reason]:
    original = own_wiring(seat)
    one = behaviour(original.part, original.pairs, positions)
    other = behaviour(wiring.part, wiring.pairs, positions)
    apart = compare(one, other)
    powered = compare_signals(original.part, original.pin_of, wiring.part, wiring.pin_of, positions)
    decoded = None
    if seat.plug.reads and any(disagreement.sure for disagreement in apart):
        pair = seat.plug.reads.pins
        decoded = _decode(seat, one, other)
        if decoded:
            apart = [disagreement for disagreement in apart if {disagreement.a, disagreement.b} != set(pair)]
            yield _read(decoded, pair)
    yield from _differences(apart, seat)
    yield from _gaps(apart, seat, original, wiring)
    yield from (signal.reason for signal in powered)
    if not apart and not powered and (decoded is None or not decoded.mistaken):
        ladder = set(seat.plug.reads.pins) if seat.plug.reads and decoded else set()
        yield Reason(_agreement(seat, one, ladder, positions), Subject(Side.CANDIDATE, Of.CONTACTS))


def _agreement(seat: Seat, one: Behaviour, ladder: set[str], positions: tuple[str, ...]) -> Agrees:
    """What was compared and found the same, with its size; ``ladder`` is the pair that was judged by its reading instead."""
    paths = [one_.path for pair, row in one.pairs.items() if set(pair) != ladder for one_ in row]
    return Agrees(len(seat.plug.wires), positions, paths.count(PathKind.JOINED), paths.count(PathKind.OHMS), bool(ladder))


def _decode(seat: Seat, one: Behaviour, other: Behaviour) -> Decoded | None:
    """The ladder as the module takes it; ``None`` where the two cavities are not a ladder by themselves in both parts."""
    reads = seat.plug.reads
    assert reads is not None
    a, b = reads.pins
    if a not in one.terminals or b not in one.terminals:
        return None
    for side in (one, other):
        if any(len({a, b} & set(pair)) == 1 for pair in side.pairs):
            return None
    windows: list[dict[str, Window]] = []
    for side in (one, other):
        found = {position: window(between, reads) for position, between in zip(side.positions, side.between(a, b), strict=True)}
        known = {position: read for position, read in found.items() if read is not None}
        if not known or len(known) < len(found):
            return None
        windows.append(known)
    return decode(*windows)


def _read(decoded: Decoded, pair: tuple[str, str]) -> Reason:
    subject = Subject(Side.CANDIDATE, Of.PAIR, pair)
    if not decoded.mistaken:
        return Reason(LadderReadRight(pair, round(decoded.margin, 2), decoded.at), subject)
    mistakes = tuple(Mistake(position, taken, position in decoded.sure) for position, taken in decoded.mistaken.items())
    return Reason(LadderMisread(pair, mistakes), subject)


def _terminal(cavity: str, seat: Seat) -> Terminal:
    return Terminal(cavity, tuple(sorted(seat.circuits.get(cavity, ()))))


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
        detail = Differs(_terminal(a, seat), _terminal(b, seat), differences)
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
        if part.contacts is None:
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
            detail = PairNotStated(_terminal(a, seat), _terminal(b, seat), tuple(where))
            yield Reason(detail, Subject(side, Of.PAIR, (a, b)), len(where))


def _hazard(hazard: Hazard) -> Reason:
    guard, subject = hazard.guard, Subject(Side.CANDIDATE, Of.PAIR, (hazard.a, hazard.b))
    code = HazardPath if hazard.sure else HazardNotStated
    return Reason(code(guard.danger, hazard.a, guard.feed, hazard.b, guard.out, hazard.positions), subject, len(hazard.positions))
