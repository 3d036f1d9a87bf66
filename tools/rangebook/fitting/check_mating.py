"""The second check: whether the plug goes on, and what has to be ordered so that it does."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from rangebook.book.book import Book
from rangebook.book.model import Connector, Kit, Part
from rangebook.fitting.kit_contents import Needed, blanks_left, needed_of
from rangebook.fitting.mating import Way, perhaps, ways
from rangebook.fitting.on_lever import Loops, joined_cavities
from rangebook.fitting.seats import Seat
from rangebook.fitting.verdict import Verdict
from rangebook.reasons.codes import (
    ConnectorNotInBook,
    EntryNotRead,
    GoesOn,
    HousingNotStated,
    KitJoinsWires,
    KitLacksWires,
    MapLacksWires,
    NoWay,
    OriginalNotOnPlug,
    SealingNotStated,
    TerminalNotStated,
    WireSize,
    WireSizeDiffers,
)
from rangebook.reasons.reason import Of, Reason, Side, Subject

NOT_ASKED_OF_THE_ORIGINAL = (TerminalNotStated, SealingNotStated)
"""What need not be stated of a plug on the part that it came on."""


def ways_onto(book: Book, seat: Seat, part: Part) -> list[Way]:
    """Every way of getting the seat's plug onto a part."""
    if part.connector is None:
        # The part that the vehicle was built with has been on this plug, whatever its housing is called.
        return [Way(())] if part.key == seat.original.key and not seat.renewal else []
    return ways(book, seat.plug.connector, part.connector)


def place_of(book: Book, seat: Seat, verdict: Verdict) -> Mapping[str, str | None] | None:
    """Which cavity of a part's housing each wire meets: moved as its verdict says where it goes on, else as the first way brings it there;
    ``None`` where no way is known."""
    found = ways_onto(book, seat, verdict.part)
    if not found:
        return None
    if not verdict.goes_on:
        return {cavity: found[0].cavity(cavity) for cavity in seat.plug.wires}
    needed = [one.kit for one in verdict.needs]
    way = next(one for one in found if [kit.id for kit in one.kits] == needed)
    return {cavity: way.mated.cavity(verdict.moves.get(cavity, cavity)) for cavity in seat.plug.wires}


def no_way(book: Book, seat: Seat, part: Part) -> list[Reason]:
    """Why there is no way onto a part, or why that is not known."""
    plug, housing = seat.plug.connector, part.connector
    missing = [] if housing is not None else [Reason(HousingNotStated(), Subject(Side.CANDIDATE, Of.CONNECTOR))]
    for side, name in ((Side.CANDIDATE, housing), (Side.PLUG, plug)):
        if name is not None and name not in book.connectors:
            missing.append(Reason(ConnectorNotInBook(name), Subject(side, Of.CONNECTOR, (name,))))
    if missing or housing is None:
        return missing
    hidden = hidden_ways(book, seat, part)
    if hidden:
        return hidden
    detail = NoWay(book.connectors[plug].title, book.connectors[housing].title)
    return [Reason(detail, Subject(Side.CANDIDATE, Of.CONNECTOR))]


def hidden_ways(book: Book, seat: Seat, part: Part) -> list[Reason]:
    """What may hold a way onto a part and could not be read, or names a connector that is not in the book; empty where nothing can."""
    if part.connector not in perhaps(book, seat.plug.connector):
        return []
    files, names = book.hidden_ways.files, book.hidden_ways.names
    found = [Reason(EntryNotRead(files), Subject(Side.BOOK, Of.FILE, files))] if files else []
    return [*found, *(Reason(ConnectorNotInBook(name), Subject(Side.BOOK, Of.CONNECTOR, (name,))) for name in names)]


def original_unclear(seat: Seat) -> Reason | None:
    """Why it is not known which pin of the original each wire meets; ``None`` where it is."""
    if seat.clear:
        return None
    return Reason(OriginalNotOnPlug(seat.plug.connector, seat.original.connector or ""), Subject(Side.ORIGINAL, Of.CONNECTOR))


def on_housing(book: Book, seat: Seat, part: Part, way: Way) -> Iterator[Reason]:
    """How the plug that goes on sits on a part's housing."""
    last = way.kits[-1].new if way.kits else seat.plug.connector
    itself = part.key == seat.original.key and not way.kits and not seat.renewal
    for reason in way.mated.reasons:
        if not (itself and isinstance(reason.detail, NOT_ASKED_OF_THE_ORIGINAL)):
            yield reason
    if part.connector not in (None, last) and last not in book.connectors:
        yield Reason(ConnectorNotInBook(last), Subject(Side.PLUG, Of.CONNECTOR, (last,)))
    placed = [new for cavity in seat.plug.wires if (new := way.plug_cavity(cavity)) is not None]
    placed += [cavity for loop in plug_loops(seat, way) for cavity in loop if cavity not in placed]
    left_out = tuple(cavity for cavity in placed if way.mated.clear and way.mated.cavity(cavity) is None)
    if left_out and part.connector is not None:
        yield Reason(MapLacksWires(left_out), Subject(Side.CANDIDATE, Of.CONNECTOR, (part.connector,)))


def plug_loops(seat: Seat, way: Way) -> tuple[tuple[str, ...], ...]:
    """The jumpers inside the plug that goes on: the vehicle's own are cut off with its plug, and a kit's are those in its bag."""
    return way.kits[-1].loops if way.kits else seat.plug.loops


def loops_on(seat: Seat, way: Way) -> Loops:
    """The cavities of a part's housing that the jumpers inside the plug join."""
    own = {cavity for loop in plug_loops(seat, way) for cavity in loop}
    if not own:
        return ()
    met = {cavity: way.mated.cavity(cavity) if way.mated.clear else cavity for cavity in own}
    return joined_cavities(plug_loops(seat, way), {cavity: one for cavity, one in met.items() if one is not None})


def check_mating(book: Book, seat: Seat, part: Part, way: Way) -> tuple[list[Needed], list[Reason]]:
    """What one way needs, and whether every wire has its place and its seal."""
    reasons = list(on_housing(book, seat, part, way))
    if not way.kits:
        same = part.connector is None or part.connector == seat.plug.connector
        connector = book.connectors.get(part.connector or seat.plug.connector)
        title = connector.title if connector else seat.plug.connector
        return [], reasons or [Reason(GoesOn(title, same), Subject(Side.CANDIDATE, Of.CONNECTOR))]
    needs = []
    lost = tuple(cavity for cavity in seat.plug.wires if way.plug_cavity(cavity) is None)
    if lost:
        detail = KitLacksWires(tuple(kit.number for kit in way.kits), lost)
        reasons.append(Reason(detail, Subject(Side.KIT, Of.ITSELF, tuple(kit.id for kit in way.kits))))
    places: dict[str, list[str]] = {}
    for cavity in seat.plug.wires:
        if (new := way.plug_cavity(cavity)) is not None:
            places.setdefault(new, []).append(cavity)
    for new, olds in places.items():
        if len(olds) > 1:
            last = way.kits[-1]
            reasons.append(Reason(KitJoinsWires(last.number, tuple(olds), new), Subject(Side.KIT, Of.ITSELF, (last.id,))))
    wires = len(seat.plug.wires)
    spare: int | None = 0
    for kit in way.kits:
        needed, of_bag = needed_of(kit, wires, wires - len(seat.optional), book.connectors.get(kit.new), spare)
        spare = blanks_left(kit, needed, spare)
        needs.append(needed)
        reasons.append(Reason(of_bag, Subject(Side.KIT, Of.ITSELF, (kit.id,))))
        reasons += _wire_sizes(book, seat, kit)
    return needs, reasons


def sizes_taken(connector: Connector) -> list[tuple[str, tuple[float, float]]]:
    """The wires, in square millimetres from the smallest to the largest, that a plug's ``terminal`` and its ``seal`` take, where stated."""
    terminals = connector.terminal.wire_mm2 if connector.terminal else None
    return [(part, sizes) for part, sizes in (("terminal", terminals), ("seal", connector.seal_wire_mm2)) if sizes is not None]


def _wire_sizes(book: Book, seat: Seat, kit: Kit) -> Iterator[Reason]:
    """Wires that the terminals or the seal of a kit's plug are not made for, where both are stated."""
    supplied = book.connectors.get(kit.new)
    for part, (smallest, largest) in sizes_taken(supplied) if supplied else ():
        beyond = tuple(
            WireSize(one.cavity, one.size_mm2)
            for one in seat.plug.wires.values()
            if one.size_mm2 is not None and not smallest <= one.size_mm2 <= largest
        )
        if beyond:
            yield Reason(WireSizeDiffers(kit.number, part, smallest, largest, beyond), Subject(Side.KIT, Of.ITSELF, (kit.id,)))
