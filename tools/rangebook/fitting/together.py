"""Parts that do the work of one together: one number became two, or two became one and the other.

Where a part's own connectors leave a plug of the vehicle over, the connectors of what goes with it are there too: what it is said to go
with, what it or the makers' chain to it needs, and what the vehicle's own part went with, which stays where it is. All of them are one
network then, and as they are bolted to one gearbox their metal is one. Common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace
from types import MappingProxyType

from rangebook.book.book import Book
from rangebook.book.model import CASE, Part, Sockets, socket_and_cavity
from rangebook.fitting.mating import Way, ways
from rangebook.fitting.on_lever import on_lever


def with_others(book: Book, plugs: Sockets, part: Part, numbers: Iterable[str]) -> Part:
    """A part with the connectors and contacts of those of ``numbers`` that the book knows the connectors of, where it has not a connector
    of its own for each of the plugs; else the part itself. The same object each time."""
    found = {one.key: one for number in numbers if (one := book.part(number)) is not None and one.key != part.key}
    others = tuple(one for one in found.values() if one.sockets)
    if not others or not part.sockets or ways(book, plugs, part.sockets):
        return part
    kept: dict[tuple[Part, ...], Part] = book.kept.setdefault(with_others, {})
    key = (part, *others)
    if key not in kept:
        kept[key] = _joined(book, part, others)
    return kept[key]


def with_joined(book: Book, part: Part) -> tuple[Part, ...]:
    """A part as it is stated, and those that are judged as one with it."""
    if not part.joined:
        return (part,)
    number, _, design = part.key.partition("/")
    stated = book.by_number[number]
    # Where the book is looked at with one design alone, that is the one.
    stated = stated.revisions[int(design) - 1] if design and stated.revisions else stated
    return (stated, *(book.by_number[key] for key in part.joined))


def with_own(book: Book, part: Part, found: list[Way]) -> list[Way]:
    """Of ways onto a part those on which a plug is on a connector of its own: what leaves all of them over says nothing of it."""
    if not part.joined:
        return found
    mine = part.sockets[: len(part.sockets) - sum(len(book.by_number[key].sockets) for key in part.joined)]
    return [way for way in found if any(leg.housing in mine for leg in way.legs)]


def owners(book: Book, part: Part) -> Mapping[str, Part]:
    """The name of each connector of a part -> whose it is: of the parts that are judged as one with it, or its own."""
    stated, *others = with_joined(book, part)
    return {socket.name: stated for socket in stated.sockets} | {_name(one, socket.name): one for one in others for socket in one.sockets}


def _joined(book: Book, part: Part, others: tuple[Part, ...]) -> Part:
    family = book.family_of(part)
    # What stops in other positions says nothing of those of this lever; by other names it does.
    levers = [on_lever(book, family.positions, family, one) for one in others]
    members = [part, *(_labelled(one.part) for one in levers)]
    listed = all(one.pins is not None for one in members)
    told = listed and not any(one.contacts is None for one in members) and not any(one.lacking or one.unclear for one in levers)
    return replace(
        part,
        sockets=tuple(socket for one in members for socket in one.sockets),
        tails=MappingProxyType({name: tail for one in members for name, tail in one.tails.items()}),
        pins=MappingProxyType({pin: name for one in members for pin, name in (one.pins or {}).items()}) if listed else None,
        contacts=tuple(contact for one in members for contact in one.contacts or ()) if told else None,
        signals=tuple(signal for one in members for signal in one.signals),
        plating=None,  # each has its own: see :func:`owners`
        joined=tuple(one.key for one in others),
    )


def _name(part: Part, socket: str) -> str:
    """What a connector of a part is called beside those of others."""
    return f"{part.number} {socket}".strip()


def _labelled(part: Part) -> Part:
    """A part whose connectors and pins have its number before them."""

    def label(pin: str) -> str:
        name, cavity = socket_and_cavity(pin)
        return pin if pin == CASE else f"{_name(part, name)}.{cavity}"

    names: Mapping[str, str] = {one.name: _name(part, one.name) for one in part.sockets}
    return replace(
        part,
        sockets=tuple(one._replace(name=names[one.name]) for one in part.sockets),
        tails={names[name]: tail for name, tail in part.tails.items() if name in names},
        pins=None if part.pins is None else {label(pin): circuit for pin, circuit in part.pins.items()},
        contacts=None if part.contacts is None else tuple(replace(one, a=label(one.a), b=label(one.b)) for one in part.contacts),
        signals=tuple(
            replace(one, pin=label(one.pin), supply=one.supply and label(one.supply), ground=one.ground and label(one.ground))
            for one in part.signals
        ),
    )
