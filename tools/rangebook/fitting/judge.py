"""The verdict of one candidate on one seat: mount, then mating, then behaviour; safety apart from all of them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from itertools import chain
from types import MappingProxyType

from rangebook.book.book import Book
from rangebook.book.model import CASE, Part, Terminal, socket_and_cavity
from rangebook.fitting import doubts
from rangebook.fitting.cases import companion_of_several, depends, judge_companion, judge_each
from rangebook.fitting.check_behaviour import Wiring, check_behaviour
from rangebook.fitting.check_mating import check_mating, hidden_ways, loops_on, no_way, original_unclear, ways_onto
from rangebook.fitting.check_mount import check_mount, check_mounts, worst
from rangebook.fitting.check_needs import also_needed, check_needs, left_to_companions, taken_back, together
from rangebook.fitting.check_safety import check_safety
from rangebook.fitting.mating import Leg, Way
from rangebook.fitting.on_lever import on_lever, with_loops
from rangebook.fitting.rewiring import MAX_EQUAL, Rewiring, Task, search
from rangebook.fitting.seats import Seat
from rangebook.fitting.verdict import RANK, Verdict, VerdictKind, settle
from rangebook.reasons.codes import IdlePins, Move, MovesNeeded, MovesUncertain, PlugsAlike, PlugsNotTold, SearchGivenUp
from rangebook.reasons.reason import Check, Of, Outcome, Reason, Side, Subject

_NO_FANS: Mapping[str, tuple[str, ...]] = MappingProxyType({})


def judge(book: Book, seat: Seat, part: Part) -> Verdict:
    """The verdict of ``part`` on ``seat``, computed from what the book states and from nothing else."""
    companion = companion_of_several(book, seat, part)
    if companion is not None:
        return judge_companion(book, seat, part, companion, judge)
    return judge_each(book, seat, part, _judge_one) if depends(book, seat, part) else _judge_one(book, seat, part)


def _judge_one(book: Book, seat: Seat, part: Part) -> Verdict:
    """The same of one design, where nothing has to be read."""
    whole = together(book, seat, part)
    # Which of several sits where is seen from the way of the plugs; of one alone it is known, and what does not bolt on needs no search.
    try_wires = bool(whole.joined) or settle(VerdictKind.STRAIGHT, check_mount(book, seat, part)) is not VerdictKind.NO
    best = _best_way(book, seat, whole, try_wires)
    also = also_needed(book, seat, part)
    mounted = check_mounts(book, seat, whole, best.way)
    checked = (*mounted, *best.checked, *check_needs(book, seat, part, also), *doubts.reasons(book, seat, whole))
    kind = settle(VerdictKind.WITH_PARTS if also and best.kind is VerdictKind.STRAIGHT else best.kind, checked)
    back = taken_back(book, also)
    if kind in (VerdictKind.NO, VerdictKind.UNKNOWN):
        return Verdict(part, kind, unused_pins=best.unused_pins, taken_back=back, checked=checked, way=best.way)
    return replace(best, part=part, kind=kind, also=also, taken_back=back, checked=checked)


def _best_way(book: Book, seat: Seat, part: Part, try_wires: bool) -> Verdict:
    """As it is, then with kits, then with wires moved, then with kits and wires moved."""
    found = ways_onto(book, seat, part)
    if not found:
        reasons = tuple(no_way(book, seat, part))
        return Verdict(part, settle(VerdictKind.STRAIGHT, reasons), checked=reasons)
    if part.joined:  # parts that do not bolt on where these plugs are may where others are
        found = sorted(found, key=lambda way: worst(check_mounts(book, seat, part, way)))
    trials = []
    for way in found:
        trials.append(_kept_apart(book, seat, found, _try(book, seat, part, way)))
        if trials[-1].fits:
            return trials[-1]
    if try_wires:
        for way, trial in zip(found, trials, strict=True):
            if trial.kind is VerdictKind.NO:
                moved = _with_wires_moved(book, seat, part, way)
                if moved is not None:
                    return _kept_apart(book, seat, found, moved)
    if all(trial.kind is VerdictKind.NO and _is_refused_by_mating(trial) for trial in trials):
        # Another way may be behind what could not be read. Where wires were looked for a place in vain, no kit would find them one.
        hidden = tuple(hidden_ways(book, seat, part))
        if hidden:
            return Verdict(part, VerdictKind.UNKNOWN, checked=hidden, way=trials[0].way)
    return min(trials, key=lambda trial: RANK[trial.kind])


def _try(book: Book, seat: Seat, part: Part, way: Way) -> Verdict:
    """One way of bringing the plug onto the part, each wire in the place that the way gives it."""
    needs, mating = check_mating(book, seat, part, way)
    if settle(VerdictKind.STRAIGHT, mating) is VerdictKind.NO:
        return Verdict(part, VerdictKind.NO, checked=tuple(mating), way=way)
    place = {cavity: way.cavity(cavity) for cavity in seat.plug.wires}
    if not way.clear or None in place.values():
        return Verdict(part, VerdictKind.UNKNOWN, checked=tuple(mating), way=way)  # which pin each wire meets is not known
    unclear = original_unclear(seat)
    if unclear:
        return Verdict(part, VerdictKind.UNKNOWN, checked=(*mating, unclear), way=way)
    wiring = _wiring(book, seat, part, way, place)
    inside = left_to_companions(book, seat, part, _inside(seat, wiring))
    checked = (*mating, *inside, *_idle_pins(part, wiring), *doubts.kit_reasons(book, way.kits))
    kind = settle(VerdictKind.WITH_PARTS if way.kits else VerdictKind.STRAIGHT, checked)
    all_moved = {old: new for old in place if (new := way.plug_cavity(old)) is not None} if way.handles_wires else {}
    return Verdict(
        part, kind, tuple(needs), MappingProxyType(all_moved), _unused(part, wiring), 1, checked=checked, way=way, fans=fans_of(seat, way)
    )


def _kept_apart(book: Book, seat: Seat, found: Sequence[Way], trial: Verdict) -> Verdict:
    """The same where plugs are alike and could go on each other's connectors: what comes of that.

    Where it does the same either way it is told. Else the names decide which goes where, if the wrong way round nobody is hurt; on the
    part that the vehicle was built with they always do. In all other cases it is not known that the plugs end up right.
    """
    way, part = trial.way, trial.part
    if way is None or not trial.goes_on:
        return trial
    kits = [leg.kits for leg in way.legs]
    rivals = [one for one in found if one is not way and [leg.kits for leg in one.legs] == kits]
    outcomes = [(one, *_swapped(book, seat, trial, one)) for one in rivals]
    wrong = [(one, safe) for one, does, safe in outcomes if does is not None and not does]
    swapped = dict.fromkeys(
        leg.plug.name for one, does, _ in outcomes if does is not None for leg, own in zip(one.legs, way.legs, strict=True) if leg != own
    )
    if not swapped:
        return trial
    known = part.key == seat.original.key or all(safe and one.names_kept < way.names_kept for one, safe in wrong)
    detail = PlugsAlike(tuple(swapped), not wrong) if known else PlugsNotTold(tuple(swapped), not all(safe for _, safe in wrong))
    ids = tuple(dict.fromkeys(leg.plug.connector for leg in way.legs if leg.plug.name in swapped))
    checked = (*trial.checked, Reason(detail, Subject(Side.PLUG, Of.CONNECTOR, ids)))
    return replace(trial, kind=settle(trial.kind, checked), checked=checked)


def _swapped(book: Book, seat: Seat, trial: Verdict, way: Way) -> tuple[bool | None, bool]:
    """Whether a part does what it should with the plugs on other connectors, ``None`` where they do not go on; and whether it is safe."""
    mating = check_mating(book, seat, trial.part, way)[1]
    if settle(VerdictKind.STRAIGHT, mating) is VerdictKind.NO:
        return None, True
    plugged = {cavity: trial.moves.get(cavity) or way.plug_cavity(cavity) for cavity in seat.plug.wires}
    place = {cavity: None if here is None else way.met(here) for cavity, here in plugged.items()}
    if not way.clear or None in place.values():
        return False, False
    inside = _inside(seat, _wiring(book, seat, trial.part, way, place))
    unsafe = any(reason.check is Check.SAFETY and reason.outcome is not Outcome.FOR for reason in inside)
    return settle(VerdictKind.STRAIGHT, (*mating, *inside)) is VerdictKind.STRAIGHT, not unsafe


def _with_wires_moved(book: Book, seat: Seat, part: Part, way: Way) -> Verdict | None:
    """The same with wires moved between the cavities of the plug.

    ``rewire`` if some moving makes the behaviour agree; ``unknown`` if one might, depending on what is not stated, or if
    the search was given up; ``None`` if there is none.
    """
    needs, mating = check_mating(book, seat, part, way)
    if settle(VerdictKind.STRAIGHT, mating) is VerdictKind.NO or on_lever(book, seat.positions, seat.family, part).lacking:
        return None
    natural = {cavity: new for cavity in seat.plug.wires if (new := way.cavity(cavity)) is not None}
    of_plug = [one for leg in way.legs for one in _cavities_of(book, leg, (*natural.values(), *(part.pins or ())))]
    # What a lead fans out to is joined in the lead: such a wire stays where it brings it, and its cavities are taken.
    fanned = {new for group in way.fans(natural) for new in group}
    held = frozenset(cavity for cavity in natural if way.plug_cavity(cavity) in fanned)
    # The search places wires on pins; under a map of cavities a pin is met from another cavity of the plug.
    from_plug = {met: one for one in of_plug if one not in fanned and (met := way.met(one)) is not None}
    from_plug |= {natural[cavity]: one for cavity in held if (one := way.plug_cavity(cavity)) is not None}
    # A wire may be in a cavity that the plug does not have, which is none to move another one to.
    plug_at = {new: one for cavity, new in natural.items() if (one := way.plug_cavity(cavity)) is not None} | from_plug
    terminal_at = _terminals_of(book, way)
    own = {cavity: pin for cavity in natural if (pin := seat.meets[cavity]) is not None}
    wire_at = {pin: cavity for cavity, pin in own.items()}
    reads = seat.plug.reads

    unwired = _wiring(book, seat, part, way, {})

    def judged(place: Mapping[str, str]) -> VerdictKind:
        ordered = {cavity: place[own[cavity]] for cavity in natural}
        wiring = unwired._replace(pin_of={**ordered, CASE: CASE})
        # Safety first: it refuses most places, and at less cost.
        return settle(VerdictKind.REWIRE, chain(check_safety(seat, wiring), check_behaviour(seat, wiring)))

    on_pins = {own[cavity]: new for cavity, new in natural.items()}
    unsure: list[int] = []

    def searched(accepted: VerdictKind) -> Rewiring:
        """The search for places that come to ``accepted``; how many moves those have of which it is not known goes into ``unsure``."""
        free = frozenset(own.get(pin, pin) for pin in reads.pins) if reads else frozenset()
        circuits = {pin: seat.circuits[cavity] for cavity, pin in own.items()}

        def accept(place: Mapping[str, str]) -> bool:
            if any(place[own[cavity]] != natural[cavity] for cavity in held):
                return False
            # A wire takes its terminal along, and that goes into cavities that are made for such a one only.
            moved = [(on_pins[pin], slot) for pin, slot in place.items() if slot != on_pins[pin]] if terminal_at else []
            terminals = [(terminal_at.get(plug_at[old]), terminal_at.get(plug_at[new])) for old, new in moved]
            if any(None not in pair and pair[0] != pair[1] for pair in terminals):
                return False
            kind = judged(place)
            if kind is VerdictKind.REWIRE and any(None in pair for pair in terminals):
                kind = VerdictKind.UNKNOWN  # it is not known what is in a cavity that the plug does not have
            if kind is VerdictKind.UNKNOWN:
                unsure.append(sum(slot != on_pins[pin] for pin, slot in place.items()))
            return kind is accepted

        return search(Task(seat.inside, unwired.part, on_pins, tuple(from_plug), seat.positions, circuits, free, accept))

    found = searched(VerdictKind.REWIRE)
    if found.place is None and found.complete and unsure:
        found = searched(VerdictKind.UNKNOWN)
    if found.place is None:
        if found.complete:
            return None
        given_up = Reason(SearchGivenUp(len(natural), found.steps), Subject(Side.CANDIDATE, Of.CONTACTS))
        return Verdict(part, VerdictKind.UNKNOWN, checked=(*mating, given_up), way=way)
    place = {wire_at[pin]: new for pin, new in found.place.items()}
    wiring = _wiring(book, seat, part, way, place)
    in_plug = {old: plug_at[new] for old, new in place.items()}
    moved = {old: new for old, new in in_plug.items() if place[old] != natural[old]}
    checked = (
        *mating,
        _moves_reason(found, moved, judged(found.place), min(unsure, default=found.moved) >= found.moved),
        *_inside(seat, wiring),
        *_idle_pins(part, wiring),
        *doubts.kit_reasons(book, way.kits),
    )
    return Verdict(
        part,
        settle(VerdictKind.REWIRE, checked),
        tuple(needs),
        MappingProxyType(in_plug if way.handles_wires else moved),
        _unused(part, wiring),
        found.equal,
        checked=checked,
        way=way,
        fans=fans_of(seat, way),
    )


def _cavities_of(book: Book, leg: Leg, named: Sequence[str]) -> list[str]:
    """The cavities of the plug that goes on a connector; where it has no entry, those that are ``named`` of the connector."""
    plug = book.connectors.get(leg.last)
    own = (socket_and_cavity(one) for one in named)
    cavities = plug.cavities if plug else dict.fromkeys(cavity for name, cavity in own if name == leg.housing.name)
    return [leg.plug.label(cavity) for cavity in cavities]


def _terminals_of(book: Book, way: Way) -> dict[str, Terminal]:
    """The terminal of each cavity of the plugs that go on, by its label; empty where those of each plug are all alike."""
    found: dict[str, Terminal] = {}
    mixed = False
    for leg in way.legs:
        plug, kit = book.connectors.get(leg.last), leg.kits[-1] if leg.kits else None
        if plug is not None:
            mixed = mixed or bool(plug.terminals or (kit and kit.terminals))
            found |= {leg.plug.label(one): kit.terminal_for(one, plug) if kit else plug.terminal_at(one) for one in plug.cavities}
    return found if mixed else {}


def _is_refused_by_mating(trial: Verdict) -> bool:
    return any(reason.check is Check.MATING and reason.outcome is Outcome.AGAINST for reason in trial.checked)


def _moves_reason(found: Rewiring, moved: Mapping[str, str], kind: VerdictKind, fewest: bool) -> Reason:
    moves = tuple(Move(old, new) for old, new in moved.items())
    detail = (
        MovesUncertain(moves)
        if kind is VerdictKind.UNKNOWN
        else MovesNeeded(moves, min(found.equal, MAX_EQUAL), found.equal >= MAX_EQUAL or not found.complete, fewest)
    )
    return Reason(detail, Subject(Side.PLUG, Of.WIRE, tuple(moved)))


def _inside(seat: Seat, wiring: Wiring) -> list[Reason]:
    """What closes inside the part with these wires on it: whether it does the same, and whether it can hurt someone."""
    return [*check_behaviour(seat, wiring), *check_safety(seat, wiring)]


def _wiring(book: Book, seat: Seat, part: Part, way: Way, place: Mapping[str, str | None]) -> Wiring:
    own, loops = on_lever(book, seat.positions, seat.family, part), loops_on(seat, way)
    inside = with_loops(own.part, loops, tuple(dict.fromkeys((*seat.every_position, *own.positions))) if loops else ())
    fans = {old: tuple(met for one in every if (met := way.met(one))) for old, every in fans_of(seat, way).items()}
    return Wiring(inside, {**place, CASE: CASE}, own.positions, own.lacking, own.unclear, own.means, loops, fans)


def fans_of(seat: Seat, way: Way) -> Mapping[str, tuple[str, ...]]:
    """Each wire that leads bring to several cavities of the plug that goes on, with all of these."""
    if not any(kit.fans for kit in way.kits):
        return _NO_FANS
    return MappingProxyType({old: every for old in seat.plug.wires if len(every := way.every_cavity(old)) > 1})


def _unused(part: Part, wiring: Wiring) -> tuple[str, ...]:
    met = set(wiring.pin_of.values())
    return tuple(pin for pin in part.pins or () if pin not in met)


def _idle_pins(part: Part, wiring: Wiring) -> list[Reason]:
    unused = _unused(part, wiring)
    if not unused:
        return []
    return [Reason(IdlePins(unused), Subject(Side.CANDIDATE, Of.PIN, unused))]
