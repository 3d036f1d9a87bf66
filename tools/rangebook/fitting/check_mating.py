"""The second check: whether the plug goes on, and what has to be ordered so that it does."""

from __future__ import annotations

from rangebook.book.book import Book
from rangebook.book.model import Part
from rangebook.fitting.mating import Way, ways
from rangebook.fitting.parcel import Needed, pack
from rangebook.fitting.seats import Seat
from rangebook.fitting.verdict import Reason, Says
from rangebook.fitting.words import joined


def ways_onto(book: Book, seat: Seat, part: Part) -> list[Way]:
    """Every way of getting the seat's plug onto a part."""
    if part.connector is None:
        # The part that the vehicle was built with has been on this plug, whatever its housing is called.
        return [Way(())] if part.key == seat.original.key else []
    return ways(book, seat.plug.connector, part.connector)


def no_way(book: Book, seat: Seat, part: Part) -> Reason:
    """Why there is no way onto a part, or why that is not known."""
    plug = seat.plug.connector
    if part.connector is None:
        text = "which connector this one has is not stated: compare its housing with the plug"
        return Reason("mating", Says.MISSING, text, settles=100_000)
    for name in (part.connector, plug):
        if name not in book.connectors:
            text = f"the connector {name} is not in the book, so whether the plug goes on is not known: try it, and add the connector"
            return Reason("mating", Says.MISSING, text, settles=100_000)
    lost = [entry.file for entry in book.lost if entry.folder in ("kits", "connectors")]
    if lost:
        text = f"no way onto this one's housing is known, but {joined(lost)} could not be read and may hold one: mend it"
        return Reason("mating", Says.MISSING, text, settles=100_000)
    mine, theirs = book.connectors[part.connector], book.connectors[plug]
    text = f"the vehicle's plug ({theirs.title}) does not go on this one's housing ({mine.title}), and no kit in the book leads there"
    return Reason("mating", Says.AGAINST, text)


def check_mating(book: Book, seat: Seat, part: Part, way: Way) -> tuple[list[Needed], list[Reason]]:
    """What one way needs, and whether every wire has its place and its seal."""
    if not way.kits:
        same = part.connector is None or part.connector == seat.plug.connector
        connector = book.connectors.get(part.connector or seat.plug.connector)
        title = connector.title if connector else seat.plug.connector
        text = f"the plug goes on: {'the same connector' if same else 'it mates'} ({title})"
        return [], [Reason("mating", Says.FOR, text)]
    needs, reasons = [], []
    lost = [cavity for cavity in seat.plug.wires if way.cavity(cavity) is None]
    if lost:
        names = " and then ".join(kit.number for kit in way.kits)
        text = f"kit {names} has no place for the wire{'s' if len(lost) > 1 else ''} in {joined(lost)}"
        reasons.append(Reason("mating", Says.AGAINST, text))
    places: dict[str, list[str]] = {}
    for cavity in seat.plug.wires:
        if (new := way.cavity(cavity)) is not None:
            places.setdefault(new, []).append(cavity)
    for new, olds in places.items():
        if len(olds) > 1:
            text = f"kit {way.kits[-1].number} sends the wires in {joined(olds)} to one cavity, {new}"
            reasons.append(Reason("mating", Says.AGAINST, text))
    wires = len(seat.plug.wires)
    for kit in way.kits:
        packed = pack(kit, wires, wires - len(seat.optional), book.connectors.get(kit.new))
        needs.append(packed.needed)
        reasons.append(Reason("mating", Says.FOR if packed.fits else Says.AGAINST, packed.text))
    return needs, reasons
