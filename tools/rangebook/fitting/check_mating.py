"""The second check: whether the plug goes on, and what has to be ordered so that it does."""

from __future__ import annotations

from rangebook.book.book import Book
from rangebook.book.model import Part
from rangebook.fitting.kit_contents import Needed, needed_of
from rangebook.fitting.mating import Way, ways
from rangebook.fitting.seats import Seat
from rangebook.reasons.codes import (
    ConnectorNotInBook,
    EntryNotRead,
    GoesOn,
    HousingNotStated,
    KitJoinsWires,
    KitLacksWires,
    NoWay,
)
from rangebook.reasons.reason import Of, Reason, Side, Subject


def ways_onto(book: Book, seat: Seat, part: Part) -> list[Way]:
    """Every way of getting the seat's plug onto a part."""
    if part.connector is None:
        # The part that the vehicle was built with has been on this plug, whatever its housing is called.
        return [Way(())] if part.key == seat.original.key else []
    return ways(book, seat.plug.connector, part.connector)


def no_way(book: Book, seat: Seat, part: Part) -> list[Reason]:
    """Why there is no way onto a part, or why that is not known."""
    plug, housing = seat.plug.connector, part.connector
    missing = [] if housing is not None else [Reason(HousingNotStated(), Subject(Side.CANDIDATE, Of.CONNECTOR))]
    for side, name in ((Side.CANDIDATE, housing), (Side.PLUG, plug)):
        if name is not None and name not in book.connectors:
            missing.append(Reason(ConnectorNotInBook(name), Subject(side, Of.CONNECTOR, (name,))))
    if missing or housing is None:
        return missing
    lost = tuple(entry.file for entry in book.lost if entry.folder in ("kits", "connectors"))
    if lost:
        return [Reason(EntryNotRead(lost), Subject(Side.BOOK, Of.FILE, lost))]
    detail = NoWay(book.connectors[plug].title, book.connectors[housing].title)
    return [Reason(detail, Subject(Side.CANDIDATE, Of.CONNECTOR))]


def check_mating(book: Book, seat: Seat, part: Part, way: Way) -> tuple[list[Needed], list[Reason]]:
    """What one way needs, and whether every wire has its place and its seal."""
    if not way.kits:
        same = part.connector is None or part.connector == seat.plug.connector
        connector = book.connectors.get(part.connector or seat.plug.connector)
        title = connector.title if connector else seat.plug.connector
        return [], [Reason(GoesOn(title, same), Subject(Side.CANDIDATE, Of.CONNECTOR))]
    needs, reasons = [], []
    lost = tuple(cavity for cavity in seat.plug.wires if way.cavity(cavity) is None)
    if lost:
        detail = KitLacksWires(tuple(kit.number for kit in way.kits), lost)
        reasons.append(Reason(detail, Subject(Side.KIT, Of.ITSELF, tuple(kit.id for kit in way.kits))))
    places: dict[str, list[str]] = {}
    for cavity in seat.plug.wires:
        if (new := way.cavity(cavity)) is not None:
            places.setdefault(new, []).append(cavity)
    for new, olds in places.items():
        if len(olds) > 1:
            last = way.kits[-1]
            reasons.append(Reason(KitJoinsWires(last.number, tuple(olds), new), Subject(Side.KIT, Of.ITSELF, (last.id,))))
    wires = len(seat.plug.wires)
    for kit in way.kits:
        needed, of_bag = needed_of(kit, wires, wires - len(seat.optional), book.connectors.get(kit.new))
        needs.append(needed)
        reasons.append(Reason(of_bag, Subject(Side.KIT, Of.ITSELF, (kit.id,))))
    return needs, reasons
