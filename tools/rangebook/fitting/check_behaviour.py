"""The third check, what the wires see in every position, and the one apart from all others: safety."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import NamedTuple

from rangebook.book.model import CASE, Part
from rangebook.electrics.behaviour import Behaviour, Disagreement, behaviour, compare
from rangebook.electrics.ladder import Decoded, decode, window
from rangebook.electrics.relation import Path
from rangebook.electrics.safety import Hazard, hazards
from rangebook.electrics.signals import compare_signals
from rangebook.fitting.seats import Seat
from rangebook.fitting.verdict import Reason, Says
from rangebook.fitting.words import CANDIDATE, ORIGINAL, joined, plural, relation, terminal


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


def check_behaviour(seat: Seat, wiring: Wiring) -> list[Reason]:
    """Everything that the wires would see otherwise with this part, in every position of the lever."""
    reasons = []
    part = wiring.part
    lacking = [position for position in seat.positions if position not in wiring.own]
    if lacking:
        text = f"this one has no position {joined(lacking)}, the lever has; its positions are {' '.join(wiring.own)}"
        reasons.append(Reason("behaviour", Says.AGAINST, text))
    positions = tuple(position for position in seat.positions if position in wiring.own)
    # What is not stated about the part that the vehicle was built with cannot speak against it.
    itself = part.key == seat.original.key and all(old == new for old, new in wiring.pin_of.items())
    if itself:
        reasons.append(Reason("behaviour", Says.FOR, "it is the part that it came with"))
    else:
        reasons += _compared(seat, wiring, positions)
    for hazard in hazards(part, wiring.pin_of, seat.circuits, wiring.own):
        if hazard.sure or not itself:
            says = Says.AGAINST if hazard.sure else Says.MISSING
            reasons.append(Reason("safety", says, _hazard(hazard), settles=len(hazard.positions)))
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
            yield _read(decoded, pair, seat)
    yield from _differences(apart, seat)
    yield from _gaps(apart, seat, original, wiring)
    for signal in powered:
        yield Reason("behaviour", Says.AGAINST if signal.sure else Says.MISSING, signal.text, settles=len(positions))
    if not apart and not powered and (decoded is None or not decoded.mistaken):
        ladder = set(seat.plug.reads.pins) if seat.plug.reads and decoded else set()
        yield Reason("behaviour", Says.FOR, _agreement(seat, one, ladder, positions))


def _agreement(seat: Seat, one: Behaviour, ladder: set[str], positions: Sequence[str]) -> str:
    """What was compared and found the same, with its size; ``ladder`` is the pair that was judged by its reading instead."""
    paths = [one_.path for pair, row in one.pairs.items() if set(pair) != ladder for one_ in row]
    closed, ohms = paths.count(Path.JOINED), paths.count(Path.OHMS)
    words = f"{plural(len(seat.plug.wires), 'wire')} and the housing do the same in {' '.join(positions)}"
    seen = [plural(closed, "closed path") if closed else "", plural(ohms, "resistance") if ohms else ""]
    found = " and ".join(filter(None, seen))
    if ladder:
        words += " but for the ladder"
    return f"{words} ({found} agree, all else is open in both)" if found else words


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
    windows = [
        {position: window(found, reads) for position, found in zip(side.positions, side.between(a, b), strict=True)}
        for side in (one, other)
    ]
    if not windows[0] or any(found is None for side in windows for found in side.values()):
        return None
    return decode(*windows)  # type: ignore[arg-type]


def _read(decoded: Decoded, pair: tuple[str, str], seat: Seat) -> Reason:
    where = f"ladder on cavities {pair[0]} and {pair[1]}"
    if not decoded.mistaken:
        text = (
            f"{where}: its resistances differ, but the module reads the same position everywhere; at the worst of both "
            f"tolerances {decoded.margin:.2f} V are left, in {decoded.at}"
        )
        return Reason("behaviour", Says.FOR, text)
    words = [
        f"{position} {'would' if position in decoded.sure else 'at worst might'} be taken for {taken}"
        for position, taken in decoded.mistaken.items()
    ]
    return Reason("behaviour", Says.AGAINST, f"{where}: with this one {joined(words)}")


def _differences(apart: Sequence[Disagreement], seat: Seat) -> Iterator[Reason]:
    """One reason for each two terminals and each way of differing, its positions together."""
    grouped: dict[tuple[str, str, str], list[str]] = {}
    for one in apart:
        if one.sure:
            text = f"{relation(one.original)} in {ORIGINAL}, {relation(one.candidate)} in {CANDIDATE}"
            if one.original.path is Path.OHMS and one.candidate.path is Path.OHMS:
                text += f", {one.original.tolerance_percent:g} % off would do"
                if seat.plug.reads is None:
                    text += "; to tell whether the module would still read it right, its pull-up ohms and volts must be known"
            grouped.setdefault((one.a, one.b, text), []).append(one.position)
    by_pair: dict[tuple[str, str], list[str]] = {}
    for (a, b, text), positions in grouped.items():
        by_pair.setdefault((a, b), []).append(f"in {joined(positions)} {text}")
    for (a, b), texts in by_pair.items():
        between = f"between {terminal(a, seat.circuits)} and {terminal(b, seat.circuits)}"
        yield Reason("behaviour", Says.AGAINST, f"{between}: {'; '.join(texts)}")


def _gaps(apart: Sequence[Disagreement], seat: Seat, original: Wiring, candidate: Wiring) -> Iterator[Reason]:
    """What is not stated, put as what to measure, for each part by itself."""
    for name, wiring, side in ((ORIGINAL, original, "original"), (CANDIDATE, candidate, "candidate")):
        open_ = [one for one in apart if getattr(one, side).path is Path.UNKNOWN]
        if not open_:
            continue
        part = wiring.part
        positions = {one.position for one in open_}
        shown = " ".join(position for position in seat.positions if position in positions)
        if part.contacts is None:
            pins = [pin for pin in wiring.pin_of.values() if pin is not None and pin != CASE]
            what = "its pins and contacts are" if part.pins is None else "its contacts are"
            meter = f"meter {joined(pins)} and the housing against each other in {shown}"
            text = f"what closes inside {name} is not known, {what} not stated: {meter}"
            yield Reason("behaviour", Says.MISSING, text, settles=len(open_))
            continue
        seen = behaviour(part, wiring.pairs, seat.positions)
        for one in seen.unlisted:
            count = sum(one in (gap.a, gap.b) for gap in open_)
            text = f"what pin {wiring.pin_of[one]} of {name} does is not stated: meter it against the others and the housing in {shown}"
            yield Reason("behaviour", Says.MISSING, text, settles=count)
        pairs: dict[tuple[str, str], list[str]] = {}
        for gap in open_:
            if gap.a not in seen.unlisted and gap.b not in seen.unlisted:
                pairs.setdefault((gap.a, gap.b), []).append(gap.position)
        for (a, b), where in pairs.items():
            between = f"between {terminal(a, seat.circuits)} and {terminal(b, seat.circuits)}"
            text = f"{between}: what {name} does in {joined(where)} is not stated: measure it"
            yield Reason("behaviour", Says.MISSING, text, settles=len(where))


def _hazard(hazard: Hazard) -> str:
    ends = f"between cavities {hazard.a} ({hazard.guard.feed}) and {hazard.b} ({hazard.guard.out}) in {joined(hazard.positions)}"
    if hazard.sure:
        return f"{hazard.guard.danger}: with this one there is a path {ends}"
    return f"{hazard.guard.danger}: whether this one has a path {ends} is not stated: measure it"
