"""What a range switch must never do, checked apart from all else.

The law: an output of the starter has no path, of whatever resistance and over whatever contacts, to any other wire or the housing in any
position but P and N; an output of the backup lamps none but in R. Which circuits are such outputs, and in which positions they may be
joined, says the controlled list of circuits.

Sources: 49 CFR 571.102 S3.1.3 (the starter is inoperative in the forward and reverse positions); 49 CFR 571.108 Table
I-a (the backup lamp is lit in reverse and not in forward motion); for a second jurisdiction, from memory, UN Regulation No. 48, paragraph
6.4.7 (reversing lamps can be lit only if the reverse gear is engaged).
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import NamedTuple

from rangebook.book.model import CASE, Circuit, Part, Signal
from rangebook.electrics.bundles import INFINITE, bundles_of, contact_ohms
from rangebook.electrics.network import Groups
from rangebook.reasons.codes import Danger

OFF_VOLTS = 0.8
"""A powered output of so many volts at the most does not drive what more volts drive: the low level of TTL inputs, from memory. A relay for
12 V has let go long before, at a tenth of its voltage: common practice, no source."""


class Touch(NamedTuple):
    """The other pins, ``case`` among them, to which a pin surely has a path, and those to which it may have one."""

    sure: frozenset[str]
    perhaps: frozenset[str]


@dataclass(frozen=True, slots=True)
class Hazard:
    """A guarded terminal ``out`` with a path to terminal ``other`` in ``positions`` where it must not be; not ``sure``: it may be there.

    ``other`` is ``None`` where electronics on its pin drive it there, or may.
    """

    guard: Circuit
    out: str
    other: str | None
    positions: tuple[str, ...]
    sure: bool


def is_guarded(circuit: Circuit) -> bool:
    """Whether a terminal of a circuit may be joined to others in some positions only."""
    return circuit.joined_in is not None


def danger_of(circuit: Circuit) -> Danger:
    """What a path that must not be there does, by the list of circuits."""
    return _DANGERS.get(circuit.danger, Danger.OTHER)


_DANGERS: Mapping[str | None, Danger] = {str(one): one for one in Danger}


def lever_lacks(lever: Sequence[str], gearbox: Iterable[str]) -> tuple[str, ...]:
    """What a lever that drives a vehicle has and this one is said to lack: R, N, P where the gearbox has it, and :data:`FORWARD`.

    Source: 49 CFR 571.102 S3.1.1 (neutral between reverse and forward drive positions; park where there is one).
    """
    wanted = [one for one in ("P", "R", "N") if one != "P" or one in gearbox]
    lacking = [one for one in wanted if one not in lever]
    return tuple(lacking if set(lever) - {"P", "R", "N"} else [*lacking, FORWARD])


FORWARD = "forward"
"""Any position but P, R and N."""


@lru_cache(maxsize=16_384)
def touched(part: Part, pin: str, positions: tuple[str, ...]) -> Mapping[str, Touch]:
    """What a pin has a path to inside a part, by position, of whatever resistance and over whatever contacts and other pins; positions in
    which it touches nothing are left out. Contacts that are listed are taken to be all there are.

    Between the signal, the supply and the ground of electronics there may be a path. Of electronics on the pin itself :func:`drives` tells.
    """
    bundle = bundles_of(part).of.get(pin)
    electronics = [pair for one in part.signals if one.pin != pin for pair in _inside(one)]
    contacts = (part.contacts or ()) if electronics else bundle.contacts if bundle else ()
    nodes = {end for one in contacts for end in (one.a, one.b)} | {end for pair in electronics for end in pair}
    found = {}
    for position in positions:
        sure, perhaps = Groups(), Groups(electronics)
        for one in contacts:
            ohms = contact_ohms(one, position)
            if ohms != INFINITE:
                perhaps.join(one.a, one.b)
                if ohms is not None:
                    sure.join(one.a, one.b)
        maybe = frozenset(node for node in nodes if node != pin and perhaps.together(pin, node))
        if maybe:
            surely = frozenset(node for node in maybe if sure.together(pin, node))
            found[position] = Touch(surely, maybe - surely)
    return found


def _inside(signal: Signal) -> Iterator[tuple[str, str]]:
    yield from ((signal.pin, end) for end in (signal.supply, signal.ground) if end)


def drives(signal: Signal, guard: Circuit, position: str) -> bool | None:
    """Whether a powered output works what hangs on it in a position where it must not; ``None``: not known.

    It does where it gives the same as in every position in which it may. It does not where it is next to no volts there, and in all of
    those more.
    """
    value, slack = signal.values.get(position), signal.tolerance or 0
    working = [at for where, at in signal.values.items() if where in (guard.joined_in or ())]
    if value is None or not working or signal.kind is None:
        return None
    if all(abs(value - one) <= slack + 1e-9 for one in working):
        return True
    off = signal.kind == "volts" and abs(value) + slack <= OFF_VOLTS < min(working) - slack
    return False if off else None


def hazards(
    part: Part,
    pin_of: Mapping[str, str | None],
    known: Mapping[str, Iterable[Circuit]],
    positions: Sequence[str],
) -> list[Hazard]:
    """Guarded terminals that ``part`` joins, or may join, to another terminal in a position where it must not, or drives there.

    ``pin_of`` maps terminals, ``case`` among them, to pins, ``known`` terminals to every circuit that they are known as. Of several others
    that a terminal touches in a position, one is told, its feed before all.
    """
    outs = [(guard, out) for out, names in known.items() for guard in names if is_guarded(guard) and _has_pin(part, pin_of.get(out))]
    if not outs:
        return []
    listed = bundles_of(part).listed
    there = {terminal: pin for terminal, pin in pin_of.items() if _has_pin(part, pin)}
    bare = [terminal for terminal, pin in there.items() if pin not in listed]
    found: dict[tuple[Circuit, str, str | None, bool], list[str]] = {}
    for guard, out in outs:
        pin = pin_of[out]
        assert pin is not None, "what meets no pin is left out above"
        outside = outside_of(guard, tuple(positions))
        # A pin of which nothing is stated may be joined to anything.
        anything = [] if pin in listed else list(there)
        touches = touched(part, pin, outside)
        signals = [one for one in part.signals if one.pin == pin]
        if not touches and not bare and not signals and not anything:
            continue
        for position in outside:
            touch = touches.get(position, _NOTHING)
            sure = [one for one, at in there.items() if one != out and (at in touch.sure or at == pin)]
            unsure = anything or [one for one, at in there.items() if at in touch.perhaps] or [one for one in bare if one != out]
            for others, is_sure in ((sure, True), ([] if sure else unsure, False)):
                if others:
                    found.setdefault((guard, out, _first(others, out, guard, known), is_sure), []).append(position)
            driven = [drives(one, guard, position) for one in signals]
            if any(one is not False for one in driven):
                found.setdefault((guard, out, None, True in driven), []).append(position)
    return [Hazard(guard, out, other, tuple(where), sure) for (guard, out, other, sure), where in found.items()]


_NOTHING = Touch(frozenset(), frozenset())


@lru_cache(maxsize=4_096)
def outside_of(guard: Circuit, positions: tuple[str, ...]) -> tuple[str, ...]:
    """The positions in which a guarded circuit may not be joined to anything."""
    return tuple(position for position in positions if position not in (guard.joined_in or ()))


def _has_pin(part: Part, pin: str | None) -> bool:
    return pin is not None and (pin == CASE or part.pins is None or pin in part.pins)


def _first(others: Iterable[str], out: str, guard: Circuit, known: Mapping[str, Iterable[Circuit]]) -> str:
    """The terminal to tell of: a feed of the circuit before others, in the order of the plug."""
    listed = [one for one in others if one != out]
    return next((one for one in listed if any(name.name in guard.feeds for name in known.get(one, ()))), listed[0])
