"""What an edit does to the starter's and the backup lamps' circuits, whether a verdict changes by it or not.

An edit that makes the same mistake in two parts changes no verdict between them, so the circuits are looked at by themselves.
Which circuits those are says the controlled list in ``schema/circuits.json``.
"""

from __future__ import annotations

from collections.abc import Collection, Hashable, Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property

from rangebook.book.model import Contact, Part, Plug
from rangebook.desk.impact.states import States
from rangebook.desk.impact.touched import SeatKey
from rangebook.fitting.words import joined


@dataclass(frozen=True, slots=True)
class CircuitChange:
    """A part (``what`` is ``part``, ``name`` its number) or a vehicle's plug whose safety circuits read otherwise, in words."""

    family: str
    what: str
    name: str
    old: str
    new: str


@dataclass(frozen=True)
class SafetyCircuits:
    """The safety circuits of both states. What is in one of them only has not changed."""

    states: States

    @cached_property
    def changes(self) -> tuple[CircuitChange, ...]:
        """Every part and plug whose safety circuits differ."""
        return tuple(change for change in (*self._parts.values(), *self._plugs.values()) if change)

    def of(self, seat: SeatKey, number: str) -> tuple[str, ...]:
        """Which of these a verdict goes by, in words."""
        family, plug, original, _ = seat
        found = []
        for key in dict.fromkeys((number, original)):
            if change := self._parts.get(key):
                found.append(f"the start or backup circuits of {change.name} read otherwise")
        if self._plugs.get((family, plug)):
            found.append(f"the start or backup wires of the plug {plug} read otherwise")
        return tuple(found)

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
            if (self._facts(before), one) != (self._facts(part), other) and (self._pins(before) or self._pins(part)):
                found[key] = CircuitChange(part.family, "part", part.number, self._words(before, one), self._words(part, other))
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
                one, other = self._wires(earlier), self._wires(plug)
                if one != other:
                    found[name, plug.name] = CircuitChange(name, "plug", plug.name, _wire_words(one), _wire_words(other))
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
                None if one.ohms is None else frozenset(one.ohms.items()),
            )
            for one in self._contacts(part)
        )
        return frozenset(self._pins(part).items()), part.contacts is None, contacts

    def _words(self, part: Part, positions: Collection[str]) -> str:
        pins = self._pins(part)
        words = [f"pin {pin} {name}" for pin, name in pins.items()]
        words += [_contact_words(one, positions) for one in self._contacts(part)]
        if part.contacts is None:
            words.append("contacts not stated")
        return "; ".join(words) or "none stated"

    def _wires(self, plug: Plug) -> Mapping[str, str]:
        return {cavity: wire.circuit for cavity, wire in plug.wires.items() if wire.circuit in self._names}  # type: ignore[misc]


def _contact_words(contact: Contact, positions: Collection[str]) -> str:
    name = f"{contact.a}-{contact.b}"
    if contact.closed is not None:
        closed = [position for position in positions if position in contact.closed]
        closed += sorted(contact.closed - set(closed))
        return f"{name} closed in {joined(closed)}" if closed else f"{name} never closed"
    if contact.ohms is not None:
        return f"{name} " + ", ".join(f"{at} {'open' if ohms is None else f'{ohms:g} ohm'}" for at, ohms in contact.ohms.items())
    return f"{name} not stated"


def _wire_words(wires: Mapping[str, str]) -> str:
    return "; ".join(f"cavity {cavity} {name}" for cavity, name in wires.items()) or "none stated"
