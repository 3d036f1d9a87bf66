"""What an edit does to the starter's and the backup lamps' circuits, whether a verdict changes by it or not.

An edit that makes the same mistake in two parts changes no verdict between them, so the circuits are looked at by themselves.
Which circuits those are, and where each may be joined to others, says the controlled list in ``schema/circuits.json``; what it says of
one is looked at as well.
"""

from __future__ import annotations

from collections.abc import Hashable, Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property
from itertools import zip_longest

from rangebook.book.model import Circuit, Contact, Cranks, Part, Plug
from rangebook.electrics.meaning import Means, means_of
from rangebook.fitting.check_needs import beside
from rangebook.fitting.seats import plug_of
from rangebook.revisions.states import States
from rangebook.revisions.touched import SeatKey


@dataclass(frozen=True, slots=True)
class PartCircuits:
    """The safety circuits inside a part: its pins by circuit, and the contacts on them with the lever's positions; ``contacts`` is
    ``None`` where they are not stated."""

    pins: Mapping[str, str]
    contacts: tuple[Contact, ...] | None
    positions: tuple[str, ...]
    means: Means = ()


@dataclass(frozen=True, slots=True)
class PlugCircuits:
    """Cavity of a plug -> safety circuit of its wire; the jumpers inside it, and where the engine cranks."""

    wires: Mapping[str, str]
    loops: tuple[tuple[str, ...], ...] = ()
    cranks: Cranks | None = None
    grounded: tuple[str, ...] = ()
    """The cavities of those wires that are said to go to what the switch grounds."""


Circuits = PartCircuits | PlugCircuits | Circuit


@dataclass(frozen=True, slots=True)
class CircuitChange:
    """A part (``what`` is ``part``, ``name`` its number) or a vehicle's plug whose safety circuits read otherwise, or a ``circuit`` of
    which the list says something else; that is of no ``family``."""

    family: str
    what: str
    name: str
    old: Circuits
    new: Circuits


@dataclass(frozen=True)
class SafetyCircuits:
    """The safety circuits of both states. What is in one of them only has not changed."""

    states: States

    @cached_property
    def changes(self) -> tuple[CircuitChange, ...]:
        """Every safety circuit of which the list says something else, then every part and plug whose safety circuits differ."""
        return (*self._listed.values(), *self._parts.values(), *self._plugs.values())

    def of(self, seat: SeatKey, number: str) -> tuple[CircuitChange, ...]:
        """Which of these a verdict goes by."""
        family, plug, original, _ = seat
        books = (self.states.new.book, self.states.old.book)
        along = [key for book in books for key in beside(book, original, number)] if self._parts else []
        found = [self._parts.get(key) for key in dict.fromkeys((number, original, *along))]
        found.append(self._plugs.get((family, plug_of(plug))))
        if self._listed:
            found += [self._listed.get(name) for name in sorted(self._met(seat, number))]
        return tuple(change for change in found if change)

    def _met(self, seat: SeatKey, number: str) -> set[str]:
        """The safety circuits that the plug, the original and a part name, in either state."""
        family, plug, original, _ = seat
        found: set[str] = set()
        for book in (self.states.old.book, self.states.new.book):
            parts = [part for key in (number, original) if (part := book.by_number.get(key))]
            found.update(name for part in parts for design in (part, *part.revisions) for name in self._pins(design).values())
            if family in book.families and (wired := book.families[family].plugs.get(plug_of(plug))):
                found.update(name for wire in wired.wires.values() for name in wire.circuits if name in self._names)
        return found

    @cached_property
    def _listed(self) -> Mapping[str, CircuitChange]:
        old, new = self.states.old.schemas.circuits, self.states.new.schemas.circuits
        both = [(old[name], new[name]) for name in sorted(self._names) if name in old and name in new]
        return {one.name: CircuitChange("", "circuit", one.name, one, now) for one, now in both if _law(one) != _law(now)}

    @cached_property
    def _names(self) -> frozenset[str]:
        return frozenset(
            name for loaded in (self.states.old, self.states.new) for name, circuit in loaded.schemas.circuits.items() if circuit.safety
        )

    @cached_property
    def _parts(self) -> Mapping[str, CircuitChange]:
        old, new = self.states.old.book, self.states.new.book
        found = {}
        for key, part in new.by_number.items():
            before = old.by_number.get(key)
            if before is None or before is part:
                continue
            # The positions say where a contact is open: a lever with one more has one more in which it does not close.
            one, other = old.family_of(before).positions, new.family_of(part).positions
            means = means_of(old.family_of(before)), means_of(new.family_of(part))
            # Until a design of its own is told of, a part of the number was taken to be as is said of the part itself.
            designs = zip_longest(before.revisions, part.revisions)
            for was, now in ((before, part), *((was or before, now or part) for was, now in designs)):
                facts = (self._facts(was), one, means[0]), (self._facts(now), other, means[1])
                if facts[0] != facts[1] and (self._pins(was) or self._pins(now)):
                    found[key] = CircuitChange(
                        part.family, "part", part.number, self._inside(was, one, means[0]), self._inside(now, other, means[1])
                    )
                    break
        return found

    @cached_property
    def _plugs(self) -> Mapping[tuple[str, str], CircuitChange]:
        old, new = self.states.old.book, self.states.new.book
        found = {}
        for name, family in new.families.items():
            before = old.families.get(name)
            if before is None or before is family:
                continue
            for plug in family.plugs.values():
                earlier = before.plugs.get(plug.name)
                if earlier is None:
                    continue
                # A jumper can lead any wire onto such a circuit, and where it cranks is what its parts are held against.
                one, other = (_of_plug(at, self._wires(at)) for at in (earlier, plug))
                if one != other and (one.wires or other.wires):
                    found[name, plug.name] = CircuitChange(name, "plug", plug.name, one, other)
        return found

    def _pins(self, part: Part) -> Mapping[str, str]:
        return {pin: name for pin, name in (part.pins or {}).items() if name in self._names}

    def _contacts(self, part: Part) -> Iterator[Contact]:
        pins = self._pins(part)
        for contact in part.contacts or ():
            if contact.a in pins or contact.b in pins:
                yield contact

    def _facts(self, part: Part) -> Hashable:
        contacts = frozenset(
            (
                frozenset((one.a, one.b)),
                one.closed,
                one.overlaps,
                None if one.ohms is None else frozenset(one.ohms.items()),
                (one.a, one.b) if one.one_way else None,
            )
            for one in self._contacts(part)
        )
        return frozenset(self._pins(part).items()), part.contacts is None, contacts

    def _inside(self, part: Part, positions: tuple[str, ...], means: Means) -> PartCircuits:
        return PartCircuits(self._pins(part), None if part.contacts is None else tuple(self._contacts(part)), positions, means)

    def _wires(self, plug: Plug) -> Mapping[str, str]:
        named = {cavity: "/".join(one for one in wire.circuits if one in self._names) for cavity, wire in plug.wires.items()}
        return {cavity: circuits for cavity, circuits in named.items() if circuits}


def _of_plug(plug: Plug, wires: Mapping[str, str]) -> PlugCircuits:
    grounded = (cavity for cavity in wires if any(one.side == "ground" for one in plug.wires[cavity].all))
    return PlugCircuits(wires, plug.loops, plug.cranks, tuple(grounded))


def _law(circuit: Circuit) -> Hashable:
    """What a listed circuit asks for; its plain words and its role ask for nothing."""
    return circuit.law, circuit.joined_in, frozenset(circuit.feeds), circuit.danger
