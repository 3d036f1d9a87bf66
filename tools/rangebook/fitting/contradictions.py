"""Where stated facts cannot all be so: what the linter's rules of error level tell of, and what verdicts are not built on.

Each function looks at one thing and yields a slip for each place that contradicts another. What is only lacking is no slip.
"""

from __future__ import annotations

import itertools
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from functools import lru_cache
from typing import NamedTuple

from rangebook.book.model import (
    CASE,
    Application,
    Connector,
    Contact,
    Family,
    KeyPath,
    Kit,
    Mount,
    Part,
    Plug,
    Sockets,
    Volts,
    socket_and_cavity,
    socket_of,
)
from rangebook.electrics.meaning import STANDING, Means, meant
from rangebook.electrics.signals import within


class Slip(NamedTuple):
    """The way to what is wrong from the top of the entry, and the pins, cavities or positions that it is about."""

    path: KeyPath
    names: tuple[str, ...] = ()


# Parts --------------------------------------------------------------------------------------------------------------------


def contacts_without_pin(part: Part) -> Iterator[Slip]:
    """Each end of a contact that is neither a pin of the part nor its housing; nothing where its pins are not stated."""
    pins = part.pins
    for contact in part.contacts or () if pins is not None else ():
        for index, end in enumerate((contact.a, contact.b)):
            if end not in (pins or ()) and end != CASE and not (index and end == contact.a):
                yield Slip((*contact.path, "pins", index), (end,))


def contacts_to_themselves(part: Part) -> Iterator[Slip]:
    """The second end of each contact that is the same as its first."""
    for contact in part.contacts or ():
        if contact.a == contact.b:
            yield Slip((*contact.path, "pins", 1), (contact.a,))


def signals_without_pin(part: Part) -> Iterator[Slip]:
    """Each pin of a powered output that the part does not have; nothing where its pins are not stated."""
    pins = part.pins
    for signal in part.signals if pins is not None else ():
        for key, pin in (("pin", signal.pin), ("supply", signal.supply), ("ground", signal.ground)):
            if pin is not None and pin not in (pins or ()) and not (key == "ground" and pin == CASE):
                yield Slip((*signal.path, key), (pin,))


def signals_twice(part: Part) -> Iterator[Slip]:
    """The pin of each powered output that has one before it."""
    seen: set[str] = set()
    for signal in part.signals:
        if signal.pin in seen:
            yield Slip((*signal.path, "pin"), (signal.pin,))
        seen.add(signal.pin)


def signal_facts_against(part: Part) -> Iterator[Slip]:
    """Each fact of a powered output that its kind does not have, and each supply whose least is more than its most."""
    for signal in part.signals:
        for key, kind in (("protocol", "serial"), ("ratiometric", "volts")):
            if getattr(signal, key) and signal.kind not in (None, kind):
                yield Slip((*signal.path, key), (signal.pin,))
        if _is_turned(signal.supply_volts):
            yield Slip((*signal.path, "supply_volts"), (signal.pin,))


def _is_turned(volts: Volts | None) -> bool:
    return isinstance(volts, tuple) and volts[0] > volts[1]


def supplies_beyond(plug: Plug, original: Part, met: Mapping[str, str | None]) -> Iterator[Slip]:
    """Each wire that feeds the electronics of the part that the vehicle came with by what they are not made for; ``met`` maps the plug's
    cavities to that part's pins."""
    for path, wire in plug.each():
        made_for = [one.supply_volts for one in original.signals if one.supply is not None and one.supply == met.get(wire.cavity)]
        volts = wire.gives_volts
        if volts is not None and (_is_turned(volts) or any(one is not None and not within(volts, one) for one in made_for)):
            yield Slip((*path, "gives_volts"), (wire.cavity,))


def pins_outside(part: Part, connectors: Mapping[str, Connector]) -> Iterator[Slip]:
    """Each pin in a cavity that no housing of the part has; nothing where the housing is not known."""
    if part.sockets:
        for label in _outside(part.pins or (), part.sockets, connectors):
            yield Slip((*part.home("pins"), "pins", label), (label,))


def _outside(labels: Iterable[str], sockets: Sockets, connectors: Mapping[str, Connector]) -> Iterator[str]:
    """The labels that no cavity of the sockets has. Of a connector that is not in the book nothing is known."""
    known = {one.name: _cavities_of(connectors[one.connector]) for one in sockets if one.connector in connectors}
    unsure = {one.name for one in sockets if one.name not in known}
    for label in labels:
        name, cavity = socket_and_cavity(label)
        if name not in unsure and cavity not in known.get(name, ()):
            yield label


@lru_cache(maxsize=1_024)
def _cavities_of(connector: Connector) -> frozenset[str]:
    return frozenset(connector.cavities)


def strange_in_contact(contact: Contact, known: Collection[str]) -> Iterator[Slip]:
    """Each position of a contact that the lever does not have."""
    for index, position in enumerate(contact.listed or ()):
        if position not in known:
            yield Slip((*contact.path, "closed", index), (position,))
    for position in contact.ohms or ():
        if position not in known:
            yield Slip((*contact.path, "ohms", position), (position,))
    for index, position in enumerate(contact.overlaps):
        if position not in known:
            yield Slip((*contact.path, "overlaps", index), (position,))


def overlaps_apart(contact: Contact, positions: Sequence[str]) -> Iterator[Slip]:
    """Each position that a contact is said to overlap into and is not next to one in which it is closed; one of resistances overlaps into
    none, and what is closed anyhow is no overlap."""
    place = {position: index for index, position in enumerate(positions)}
    near = {place[one] + step for one in contact.closed or () if one in place for step in (-1, 1)}
    for index, position in enumerate(contact.overlaps):
        if position in place and (place[position] not in near or position in (contact.closed or ())):
            yield Slip((*contact.path, "overlaps", index), (position,))


def strange_in_signals(part: Part, known: Collection[str]) -> Iterator[Slip]:
    """Each position of a powered output that the lever does not have."""
    for signal in part.signals:
        for position in signal.values:
            if position not in known:
                yield Slip((*signal.path, "values", position), (position,))


# Levers -------------------------------------------------------------------------------------------------------------------


class Misplaced(NamedTuple):
    """A position that stands where it cannot. ``how``: ``outside`` (N outside R and all forward positions), ``beside_r`` (a forward
    position on R's side of N), ``no_neutral``, ``park_inside`` (between two others) or ``park_apart`` (at the end, and not next to R);
    ``others`` are the positions that it stands by."""

    position: str
    how: str
    others: tuple[str, ...] = ()


def out_of_place(lever: Sequence[str], means: Means = ()) -> Iterator[Misplaced]:
    """Each position that is out of place on a lever, by what it means. Source: 49 CFR 571.102 S3.1.1 and S3.1.1.1: neutral
    stands between reverse and the forward positions, and park at the end, next to reverse."""
    at = {position: index for index, position in enumerate(lever)}
    standing = meant(lever, means)
    at.update((meaning, standing.index(meaning)) for meaning in STANDING if meaning in standing)
    forward = [position for position, meaning in zip(lever, standing, strict=True) if meaning not in STANDING]
    if "R" in at and "N" in at:
        astray = [position for position in forward if (at[position] < at["N"]) == (at["R"] < at["N"])]
        if forward and len(astray) == len(forward):
            yield Misplaced("N", "outside", tuple(forward))
            return
        for position in astray:
            yield Misplaced(position, "beside_r")
    elif "R" in at and forward:
        yield Misplaced("R", "no_neutral", tuple(forward))
    if "P" in at and len(lever) > 1:
        neighbour = standing[1] if at["P"] == 0 else standing[at["P"] - 1]
        if 0 < at["P"] < len(lever) - 1:
            yield Misplaced("P", "park_inside", (neighbour, lever[at["P"] + 1]))
        elif "R" in at and neighbour != "R":
            yield Misplaced("P", "park_apart", (neighbour,))


def lever_against(application: Application, positions: Sequence[str]) -> Iterator[Slip]:
    """The first position of a vehicle's lever that stands behind one which its family's ``positions`` have after it, and that one."""
    place = {position: index for index, position in enumerate(dict.fromkeys(positions))}
    lever = application.lever or ()
    known = [position for position in lever if position in place]
    for before, position in itertools.pairwise(known):
        if place[position] < place[before] and position not in known[: known.index(before)]:
            yield Slip((*application.path, "lever", lever.index(position)), (position, before))
            return


def strange_in_lever(application: Application, known: Collection[str]) -> Iterator[Slip]:
    """Each position of a vehicle's lever that its family does not have."""
    for index, position in enumerate(application.lever or ()):
        if position not in known:
            yield Slip((*application.path, "lever", index), (position,))


def listed_twice(positions: Sequence[str], path: KeyPath) -> Iterator[Slip]:
    """Each position that its list, at ``path``, has already."""
    if len(set(positions)) < len(positions):
        for index, position in enumerate(positions):
            if position in positions[:index]:
                yield Slip((*path, index), (position,))


# Plugs, housings and kits -------------------------------------------------------------------------------------------------


def housing_at(sockets: Sockets, label: str, connectors: Mapping[str, Connector]) -> tuple[str, tuple[str, ...]]:
    """The connector in which a terminal's label is looked for, and the labels that it has; all of them where no connector has its name."""
    named = socket_of(sockets, label)
    among = (named,) if named else sockets
    has = (one.label(cavity) for one in among if one.connector in connectors for cavity in connectors[one.connector].cavities)
    return ", ".join(one.connector for one in among), tuple(has)


def wires_outside(plug: Plug, connectors: Mapping[str, Connector]) -> Iterator[Slip]:
    """Each wire, and each end of a jumper, in a cavity that the plug does not have. With one label there twice another one is missing: that
    is a slip of its own."""
    found = {one.connector: connectors[one.connector] for one in plug.sockets if one.connector in connectors}
    sure = {name: one for name, one in found.items() if one.cavities and not any(cavities_twice(one))}
    for label in _outside(plug.wires, plug.sockets, sure):
        yield Slip((*plug.path, "wires", label), (label,))
    for number, loop in enumerate(plug.loops):
        outside = set(_outside(loop, plug.sockets, sure))
        yield from (Slip((*plug.path, "loops", number, index), (end,)) for index, end in enumerate(loop) if end in outside)


def loops_to_nowhere(kit: Kit, connectors: Mapping[str, Connector]) -> Iterator[Slip]:
    """Each end of a jumper of a kit in a cavity that the new plug does not have."""
    new = connectors.get(kit.new)
    if new is None:
        return
    jumpers = kit.jumpers
    ends: dict[KeyPath, str] = {("loops", at, index): end for at, loop in enumerate(jumpers) for index, end in enumerate(loop)}
    # The first of the several cavities of a wire is looked at with all other moves.
    ends.update((("moves", old, index), end) for old, fan in kit.fans.items() for index, end in enumerate(fan) if index)
    yield from (Slip(path, (end,)) for path, end in ends.items() if end not in new.cavities)


def read_without_wire(plug: Plug) -> Iterator[Slip]:
    """Each cavity that the module is said to read at and that carries no wire."""
    for index, cavity in enumerate(plug.reads.pins if plug.reads else ()):
        if cavity != CASE and cavity not in plug.wires:
            yield Slip((*plug.path, "reads", "pins", index), (cavity,))


def optional_without_wire(application: Application, plug: Plug | None) -> Iterator[Slip]:
    """Each cavity that is said to lack its wire in some vehicles and has none in any."""
    for index, cavity in enumerate(application.optional_cavities):
        if plug is not None and cavity not in plug.wires:
            yield Slip((*application.path, "optional_cavities", index), (cavity,))


def cavities_twice(connector: Connector) -> Iterator[Slip]:
    """Each cavity with a label that is there already."""
    seen: set[str] = set()
    for row, labels in enumerate(connector.rows):
        for column, label in enumerate(labels):
            if label is not None and label in seen:
                yield Slip(("rows", row, column), (label,))
            elif label is not None:
                seen.add(label)


def moves_from_nowhere(kit: Kit, connectors: Mapping[str, Connector]) -> Iterator[Slip]:
    """Each wire that a kit takes from a cavity that no plug has which it is for; nothing where one of these is not known."""
    olds = [connectors.get(old) for old in kit.olds]
    there = {cavity for old in olds if old is not None for cavity in old.cavities}
    for here in kit.moves if None not in olds else ():
        if here not in there:
            yield Slip(("moves", here), (here,))


def moves_to_nowhere(kit: Kit, connectors: Mapping[str, Connector]) -> Iterator[Slip]:
    """Each wire that a kit puts into a cavity that the new plug does not have."""
    new = connectors.get(kit.new)
    for here, there in kit.moves.items() if new is not None else ():
        if there not in new.cavities:  # type: ignore[union-attr]
            yield Slip(("moves", here), (here, there))


def terminals_outside(owner: Connector | Kit, connector: Connector | None) -> Iterator[Slip]:
    """Each terminal that is stated for a cavity which the connector does not have."""
    for cavity in owner.terminals if connector is not None else ():
        if cavity not in connector.cavities:  # type: ignore[union-attr]
            yield Slip(("terminals", cavity), (cavity,))


def seals_beyond(kit: Kit, connectors: Mapping[str, Connector]) -> Iterator[Slip]:
    """Each rear seal of a kit with more holes than the new plug has cavities."""
    new = connectors.get(kit.new)
    for index, holes in enumerate(kit.seals or ()):
        if new is not None and holes > len(new.cavities):
            yield Slip(("seals", index), (str(holes),))


# Mounts -------------------------------------------------------------------------------------------------------------------


def holes_too_small(mount: Mount) -> Iterator[Slip]:
    """Each hole that its own bolt does not go through; the name is the bolt's number, from 1."""
    for index, bolt in enumerate(mount.bolts):
        if bolt.hole_mm is not None and bolt.bolt_mm is not None and bolt.hole_mm < bolt.bolt_mm:
            yield Slip((*mount.path, "bolts", index, "hole_mm"), (str(index + 1),))


def unknown_mount(family: Family, part: Part) -> Iterator[Slip]:
    """The mount of a part that its family does not describe."""
    if part.mount is not None and part.mount not in family.mounts:
        yield Slip((*part.home("mount"), "mount"), (part.mount,))
