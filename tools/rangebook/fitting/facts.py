"""What of a part and of a seat decides a verdict, as something that can be looked up: equal facts, equal verdict."""

from __future__ import annotations

from collections.abc import Hashable

from rangebook.book.book import Book
from rangebook.book.model import Part
from rangebook.electrics.meaning import means_of
from rangebook.electrics.signals import FACTS
from rangebook.fitting.conditions import asked_of
from rangebook.fitting.doubts import doubts_in
from rangebook.fitting.seats import Seat, mount_of
from rangebook.mounting.index import geometry_of


def part_facts(book: Book, part: Part) -> Hashable:
    """Connectors with their tails, mount, pins, contacts, signals and positions of a part, what of it contradicts itself, what it needs and
    goes with, and the facts of these others by themselves: two may name each other."""
    return (_own_facts(book, part), *(_beside(book, one) for one in (part, *part.revisions)))


def _beside(book: Book, part: Part) -> Hashable:
    numbers = [*part.goes_with, *part.sold_as.values(), *(need.part for need in part.needs if need.part is not None)]
    others = [book.part(number) for number in numbers]
    return tuple(None if one is None else (one.number, one.status, _own_facts(book, one)) for one in others)


def _own_facts(book: Book, part: Part) -> Hashable:
    contacts = part.contacts
    return (
        part.sockets,
        tuple((name, one.ends, one.length_mm) for name, one in part.tails.items()),
        part.inside,
        geometry_of(mount_of(book, part)),
        None if part.pins is None else tuple(part.pins.items()),
        None
        if contacts is None
        else tuple(
            (
                *(one.a, one.b, one.closed, None if one.ohms is None else tuple(one.ohms.items()), one.tolerance_percent),
                *(one.rated_a, one.overlaps, one.one_way),
            )
            for one in contacts
        ),
        tuple(
            (one.pin, one.supply, one.ground, one.kind, tuple(one.values.items()), one.tolerance, *(getattr(one, fact) for fact in FACTS))
            for one in part.signals
        ),
        part.plating,
        book.family_of(part).positions,
        means_of(book.family_of(part)),
        doubts_in(book).of_part(part),
        part.needs,
        part.goes_with,
        tuple(part.sold_as.items()),
        tuple((one.when, bool(one.restates), _own_facts(book, one)) for one in part.revisions),
    )


def seat_facts(book: Book, seat: Seat) -> Hashable:
    """The wires, what reads them and the lever of a seat; its original has facts of its own."""
    return (
        seat.plug.sockets,
        tuple(
            (cavity, one.circuit, one.size_mm2, one.carries_a, one.gives_volts, one.outer_mm)
            for cavity, wire in seat.plug.wires.items()
            for one in wire.all
        ),
        seat.plug.plating,
        tuple(seat.meets.values()),
        bool(seat.renewal),
        seat.plug.reads,
        seat.positions,
        seat.family.positions,
        means_of(seat.family),
        seat.plug.loops,
        seat.loops,
        seat.cranks,
        seat.optional,
        seat.meet,
        asked_of(book, seat.original),
        doubts_in(book).of_seat(seat),
    )
