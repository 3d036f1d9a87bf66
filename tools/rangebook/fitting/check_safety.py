"""The check apart from all others: whether a part on a vehicle's wires can hurt someone, whatever else it does."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from dataclasses import replace
from functools import lru_cache

from rangebook.book.model import CASE, NOT_CONNECTED, Circuit, Part
from rangebook.electrics.bundles import bundles_of
from rangebook.electrics.meaning import Means
from rangebook.electrics.safety import FORWARD, Hazard, danger_of, hazards
from rangebook.fitting.check_behaviour import Wiring, is_itself
from rangebook.fitting.check_rating import NO_FANS, Fans
from rangebook.fitting.seats import Seat
from rangebook.reasons.codes import (
    Danger,
    GuardNotStated,
    HazardDriven,
    HazardDrivenNotKnown,
    HazardNotStated,
    HazardPath,
    LeverIncomplete,
    ModuleCranks,
    WireNotNamed,
)
from rangebook.reasons.reason import Detail, Of, Reason, Side, Subject


def check_safety(seat: Seat, wiring: Wiring) -> Iterator[Reason]:
    """Everything about the starter's and the backup lamps' circuits that must not be with this part, or is not known.

    A wire is what any of the three says that it is: the plug, the original's pin, and each pin of the candidate that it meets. All
    positions are looked at that either part has, whether the lever is said to have them or not.
    """
    if lacking := seat.lever_lacks:
        names = tuple(one for one in lacking if one != FORWARD)
        yield Reason(LeverIncomplete(seat.positions, names, FORWARD in lacking), Subject(Side.PLUG, Of.POSITION, seat.positions))
    known = known_circuits(seat, wiring.part, wiring.pin_of, wiring.fans)
    if wiring.means:
        # A position that only the part has is guarded as what its own family says that it means.
        known = {at: tuple(_also_on(one, wiring.means) for one in names) for at, names in known.items()}
    # What is not stated about the part that the vehicle was built with cannot speak against it.
    itself = is_itself(seat, wiring)
    if not itself:
        yield from _not_named(seat, wiring, known)
    for hazard in hazards(wiring.part, wiring.pin_of, known, _all_of(seat.every_position, wiring.own)):
        by_module = (
            tuple(at for at in hazard.positions if at in seat.cranked_by_module) if danger_of(hazard.guard) is Danger.STARTER else ()
        )
        if by_module:
            out = hazard.out
            yield Reason(ModuleCranks(out, hazard.guard.name, by_module), Subject(Side.PLUG, Of.WIRE, (out,)), len(by_module))
            hazard = replace(hazard, positions=tuple(at for at in hazard.positions if at not in by_module))
        if hazard.positions and (hazard.sure or not itself):
            yield _reason(hazard, known)


@lru_cache(maxsize=1_024)
def _also_on(guard: Circuit, means: Means) -> Circuit:
    """A guard that may be joined in some more positions, by what they mean: those that the lever has not."""
    more = [name for name, one in means if guard.joined_in is not None and one in guard.joined_in]
    return replace(guard, joined_in=guard.joined_in | frozenset(more)) if more and guard.joined_in is not None else guard


@lru_cache(maxsize=1_024)
def _all_of(one: tuple[str, ...], other: tuple[str, ...]) -> tuple[str, ...]:
    return tuple(dict.fromkeys((*one, *other)))


Known = dict[str, tuple[Circuit, ...]]
"""Terminal -> the circuits that it is known as; the housing has none."""


def known_circuits(seat: Seat, part: Part, pin_of: Mapping[str, str | None], fans: Fans = NO_FANS) -> Known:
    """What each of a seat's terminals is known as with a part on it: by the plug, by the original, and by the pin that it meets, or the
    pins, where ``fans`` has several."""
    pins, listed = part.pins or {}, seat.listed
    found: Known = {}
    for terminal, pin in pin_of.items():
        if terminal != CASE:
            names = seat.named[terminal]
            for one in fans.get(terminal) or (pin,):
                own = listed.get(pins.get(one, "")) if one is not None else None
                names = names if own is None or own in names else (*names, own)
            found[terminal] = names
    return found


def _not_named(seat: Seat, wiring: Wiring, known: Known) -> Iterator[Reason]:
    unnamed = tuple(at for at, names in known.items() if at in seat.half_named or not _says(seat, wiring, at, names))
    if unnamed:
        yield Reason(WireNotNamed(unnamed), Subject(Side.PLUG, Of.WIRE, unnamed), len(unnamed))
    unguarded: dict[str, list[str]] = {}
    for terminal, names in known.items():
        for one in names:
            if one.is_open:
                unguarded.setdefault(one.name, []).append(terminal)
    for name, cavities in unguarded.items():
        yield Reason(GuardNotStated(name, tuple(cavities)), Subject(Side.PLUG, Of.WIRE, tuple(cavities)), len(cavities))


def _says(seat: Seat, wiring: Wiring, terminal: str, names: Collection[Circuit]) -> bool:
    """Whether anybody says what a wire is for. That a pin is not connected says so only of a pin that no contact leads to."""
    if any(one.name != NOT_CONNECTED for one in names) or (names and seat.plug.wires[terminal].circuits):
        return True
    return bool(names) and wiring.pin_of[terminal] not in bundles_of(wiring.part).of


def _reason(hazard: Hazard, known: Known) -> Reason:
    guard, out, other, positions = hazard.guard, hazard.out, hazard.other, hazard.positions
    danger = danger_of(guard)
    if other is None:
        driven = HazardDriven if hazard.sure else HazardDrivenNotKnown
        return Reason(driven(danger, out, guard.name, positions), Subject(Side.CANDIDATE, Of.WIRE, (out,)), len(positions))
    named = next((one.name for one in known.get(other, ()) if one.name in guard.feeds), None)
    name = named or next((one.name for one in known.get(other, ())), None)
    path = HazardPath if hazard.sure else HazardNotStated
    detail: Detail = path(danger, other, name, out, guard.name, positions)
    return Reason(detail, Subject(Side.CANDIDATE, Of.PAIR, (other, out)), len(positions))
