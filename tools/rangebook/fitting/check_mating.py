"""The second check: whether the plug goes on, and what has to be ordered so that it does."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from rangebook.book.book import Book
from rangebook.book.model import Connector, Kit, Part, Socket, Sockets, Wire, ids_of, socket_and_cavity
from rangebook.fitting.kit_contents import Needed, blanks_left, needed_of
from rangebook.fitting.mating import Leg, Way, by_label, left_hanging, loops_in, perhaps, placings, ways
from rangebook.fitting.on_lever import Loops, joined_cavities
from rangebook.fitting.seats import Seat
from rangebook.fitting.verdict import Verdict
from rangebook.reasons.codes import (
    AdapterNeeded,
    BareLeads,
    ConnectorNotInBook,
    ConnectorUnused,
    EntryNotRead,
    GoesOn,
    HousingNotStated,
    KitJoinsWires,
    KitLacksWires,
    MapLacksWires,
    NoWay,
    OriginalNotOnPlug,
    PlugGoesOn,
    PlugLeftHanging,
    PlugNamed,
    SealingNotStated,
    TailCompare,
    TailTooShort,
    TerminalNotStated,
    WireSize,
    WireSizeDiffers,
)
from rangebook.reasons.reason import Of, Reason, Side, Subject

READY_MADE = ("plug_in", "splice")
"""How kits are joined whose plug has its terminals and seals in already."""

NOT_ASKED_OF_THE_ORIGINAL = (TerminalNotStated, SealingNotStated)
"""What need not be stated of a plug on the part that it came on."""


BARE = "bare"
"""Leads that end in nothing."""

SAME_LENGTH_MM = 5.0
"""So far apart may two lengths of one tail be, measured with a tape. Common practice, no source."""


def ways_onto(book: Book, seat: Seat, part: Part) -> list[Way]:
    """Every way of getting the seat's plugs onto a part."""
    if not part.sockets:
        # The part that the vehicle was built with has been on this plug, whatever its housing is called.
        return [by_label(seat.plug.sockets)] if part.key == seat.original.key and not seat.renewal else []
    found = ways(book, seat.plug.sockets, part.sockets)
    asked = {need.kit for need in part.needs if need.kit is not None} if part.needs and part.key != seat.original.key else ()
    if asked:  # a kit that the part itself asks for is fitted wherever there is a way over it
        wanted = asked & {kit.id for way in found for kit in way.kits}
        found = [way for way in found if wanted <= {kit.id for kit in way.kits}] or found
    return found


def place_of(book: Book, seat: Seat, verdict: Verdict) -> Mapping[str, str | None] | None:
    """Which cavity of a part's housing each wire meets: moved as its verdict says where it goes on, else as the first way brings it there;
    ``None`` where no way is known."""
    if verdict.way is not None and verdict.goes_on:
        places = {cavity: verdict.moves.get(cavity) or verdict.way.plug_cavity(cavity) for cavity in seat.plug.wires}
        return {cavity: None if place is None else verdict.way.met(place) for cavity, place in places.items()}
    found = ways_onto(book, seat, verdict.part)
    return {cavity: found[0].cavity(cavity) for cavity in seat.plug.wires} if found else None


def no_way(book: Book, seat: Seat, part: Part) -> list[Reason]:
    """Why there is no way onto a part, or why that is not known."""
    plugs, housings = seat.plug.sockets, part.sockets
    bare = part.tail is not None and part.tail.ends == BARE and part.key != seat.original.key
    if bare:
        return [Reason(BareLeads(), Subject(Side.CANDIDATE, Of.CONNECTOR))]
    missing = [] if housings else [Reason(HousingNotStated(), Subject(Side.CANDIDATE, Of.CONNECTOR))]
    if housings and len(plugs) > len(housings):
        return [_hanging(book, plugs, housings)]
    for side, sockets in ((Side.CANDIDATE, housings), (Side.PLUG, plugs)):
        lacking = [name for name in ids_of(sockets) if name not in book.connectors]
        missing += [Reason(ConnectorNotInBook(name), Subject(side, Of.CONNECTOR, (name,))) for name in lacking]
    if missing:
        return missing
    hidden = hidden_ways(book, seat, part)
    if hidden:
        return hidden
    if len(plugs) == len(housings) == 1:
        detail = NoWay(book.connectors[plugs[0].connector].title, book.connectors[housings[0].connector].title)
        return [Reason(detail, Subject(Side.CANDIDATE, Of.CONNECTOR))]
    return [_hanging(book, plugs, housings)]


def _hanging(book: Book, plugs: Sockets, housings: Sockets) -> Reason:
    """Which plugs of the vehicle find no connector."""
    left = left_hanging(plugs, housings, lambda plug, housing: bool(ways(book, (plug,), (housing,))))
    named = tuple(PlugNamed(one.name, _title(book, one.connector)) for one in left)
    return Reason(PlugLeftHanging(named, tuple(_title(book, one.connector) for one in housings)), Subject(Side.CANDIDATE, Of.CONNECTOR))


def _title(book: Book, connector: str) -> str:
    known = book.connectors.get(connector)
    return known.title if known else connector


def hidden_ways(book: Book, seat: Seat, part: Part) -> list[Reason]:
    """What may hold a way onto a part and could not be read, or names a connector that is not in the book; empty where nothing can."""
    if not any(_perhaps(book, plug, housing) for plug in seat.plug.sockets for housing in part.sockets):
        return []
    may = placings(
        seat.plug.sockets, part.sockets, lambda plug, housing: _perhaps(book, plug, housing) or bool(ways(book, (plug,), (housing,)))
    )
    if next(may, None) is None:
        return []
    files, names = book.hidden_ways.files, book.hidden_ways.names
    found = [Reason(EntryNotRead(files), Subject(Side.BOOK, Of.FILE, files))] if files else []
    return [*found, *(Reason(ConnectorNotInBook(name), Subject(Side.BOOK, Of.CONNECTOR, (name,))) for name in names)]


def _perhaps(book: Book, plug: Socket, housing: Socket) -> bool:
    return housing.connector in perhaps(book, plug.connector)


def original_unclear(seat: Seat) -> Reason | None:
    """Why it is not known which pin of the original each wire meets; ``None`` where it is."""
    if seat.clear:
        return None
    return Reason(
        OriginalNotOnPlug(", ".join(ids_of(seat.plug.sockets)), ", ".join(ids_of(seat.original.sockets))),
        Subject(Side.ORIGINAL, Of.CONNECTOR),
    )


def on_housing(book: Book, seat: Seat, part: Part, way: Way) -> Iterator[Reason]:
    """How the plug that goes on sits on a part's housing."""
    itself = part.key == seat.original.key and not way.kits and not seat.renewal
    for leg in way.legs:
        for reason in leg.mated.reasons:
            if not (itself and isinstance(reason.detail, NOT_ASKED_OF_THE_ORIGINAL)):
                yield reason
        if leg.housing.connector != leg.last and leg.last not in book.connectors:
            yield Reason(ConnectorNotInBook(leg.last), Subject(Side.PLUG, Of.CONNECTOR, (leg.last,)))
        placed = [new for cavity in wires_of(seat, leg.plug) if (new := way.plug_cavity(cavity)) is not None]
        placed += [end for loop in loops_in(seat.plug, leg) for end in loop if end not in placed]
        left_out = tuple(cavity for cavity in placed if leg.mated.clear and way.met(cavity) is None)
        if left_out:
            yield Reason(MapLacksWires(left_out), Subject(Side.CANDIDATE, Of.CONNECTOR, (leg.housing.connector,)))


def wires_of(seat: Seat, plug: Socket) -> list[str]:
    """The cavities of one of a seat's plugs that carry a wire."""
    return [cavity for cavity in seat.plug.wires if socket_and_cavity(cavity)[0] == plug.name]


def loops_on(seat: Seat, way: Way) -> Loops:
    """The cavities of a part's housings that the jumpers inside the plugs join."""
    loops = [loop for leg in way.legs for loop in loops_in(seat.plug, leg)]
    met = {end: way.met(end) if way.clear else end for loop in loops for end in loop}
    return joined_cavities(loops, {end: one for end, one in met.items() if one is not None})


def check_mating(book: Book, seat: Seat, part: Part, way: Way) -> tuple[list[Needed], list[Reason]]:
    """What one way needs, and whether every wire has its place and its seal."""
    reasons = [*on_housing(book, seat, part, way), *check_tails(seat, part, way)]
    several = len(way.legs) > 1 or len(part.sockets) > 1
    if several:
        reasons += _which_on_which(book, part, way)
    elif not way.kits and not reasons:
        (leg,) = way.legs
        reasons.append(
            Reason(GoesOn(_title(book, leg.housing.connector), leg.housing.connector == leg.last), Subject(Side.CANDIDATE, Of.CONNECTOR))
        )
    needs: list[Needed] = []
    for leg in way.legs:
        if leg.kits:
            reasons += _of_kits(book, seat, way, leg, needs)
    return needs, reasons


def _which_on_which(book: Book, part: Part, way: Way) -> Iterator[Reason]:
    """Which plug goes on which connector, where there are several of either; and the connectors that get none."""
    for leg in way.legs:
        detail = PlugGoesOn(leg.plug.name, leg.housing.name, _title(book, leg.housing.connector), tuple(kit.number for kit in leg.kits))
        yield Reason(detail, Subject(Side.CANDIDATE, Of.CONNECTOR, (leg.housing.connector,)))
    taken = {leg.housing for leg in way.legs}
    unused = tuple(PlugNamed(one.name, _title(book, one.connector)) for one in part.sockets if one not in taken)
    if unused:
        yield Reason(ConnectorUnused(unused), Subject(Side.CANDIDATE, Of.CONNECTOR))


def _of_kits(book: Book, seat: Seat, way: Way, leg: Leg, needs: list[Needed]) -> Iterator[Reason]:
    """Whether each wire of a plug that kits renew has its place and its seal; what of the kits is used goes into ``needs``."""
    own = wires_of(seat, leg.plug)
    lost = tuple(cavity for cavity in own if way.plug_cavity(cavity) is None)
    if lost:
        detail = KitLacksWires(tuple(kit.number for kit in leg.kits), lost)
        yield Reason(detail, Subject(Side.KIT, Of.ITSELF, tuple(kit.id for kit in leg.kits)))
    places: dict[str, list[str]] = {}
    for cavity in own:
        if (new := way.plug_cavity(cavity)) is not None:
            places.setdefault(new, []).append(cavity)
    for new, olds in places.items():
        if len(olds) > 1:
            last = leg.kits[-1]
            yield Reason(KitJoinsWires(last.number, tuple(olds), new), Subject(Side.KIT, Of.ITSELF, (last.id,)))
    optional = sum(cavity in seat.optional for cavity in own)
    spare: int | None = 0
    for kit in leg.kits:
        if kit.joins in READY_MADE:
            needs.append(Needed(kit.id, None, 0))
            yield Reason(AdapterNeeded(kit.number, kit.title, kit.joins), Subject(Side.KIT, Of.ITSELF, (kit.id,)))
            continue
        needed, of_bag = needed_of(kit, len(own), len(own) - optional, book.connectors.get(kit.new), spare)
        spare = blanks_left(kit, needed, spare)
        needs.append(needed)
        yield Reason(of_bag, Subject(Side.KIT, Of.ITSELF, (kit.id,)))
        yield from _wire_sizes(book, [seat.plug.wires[cavity] for cavity in own], kit)


def check_tails(seat: Seat, part: Part, way: Way) -> Iterator[Reason]:
    """Whether the leads of a part's connectors reach as far as those of the original did, as far as their lengths are stated."""
    if part.key == seat.original.key or not (part.tails or seat.original.tails):
        return
    before = {leg.plug.name: leg.housing.name for leg in seat.on_original.legs} if seat.on_original else {}
    for leg in way.legs:
        own, had = part.tails.get(leg.housing.name), seat.original.tails.get(before.get(leg.plug.name, leg.plug.name))
        subject = Subject(Side.CANDIDATE, Of.CONNECTOR, (leg.housing.connector,))
        if own and own.ends == BARE:
            yield Reason(BareLeads(), subject)
        was, now = (one.length_mm if one else None for one in (had, own))
        if was is None or now is None:
            if own or had:
                yield Reason(TailCompare(leg.plug.name, was, now), subject)
        elif now < was - SAME_LENGTH_MM:
            yield Reason(TailTooShort(leg.plug.name, was, now), subject)


def sizes_taken(connector: Connector) -> list[tuple[str, tuple[float, float]]]:
    """The wires, in square millimetres from the smallest to the largest, that a plug's ``terminal`` and its ``seal`` take, where stated."""
    terminals = connector.terminal.wire_mm2 if connector.terminal else None
    return [(part, sizes) for part, sizes in (("terminal", terminals), ("seal", connector.seal_wire_mm2)) if sizes is not None]


def _wire_sizes(book: Book, wires: Sequence[Wire], kit: Kit) -> Iterator[Reason]:
    """Wires that the terminals or the seal of a kit's plug are not made for, where both are stated."""
    supplied = book.connectors.get(kit.new)
    for part, (smallest, largest) in sizes_taken(supplied) if supplied else ():
        beyond = tuple(
            WireSize(one.cavity, one.size_mm2) for one in wires if one.size_mm2 is not None and not smallest <= one.size_mm2 <= largest
        )
        if beyond:
            yield Reason(WireSizeDiffers(kit.number, part, smallest, largest, beyond), Subject(Side.KIT, Of.ITSELF, (kit.id,)))
