"""The second check: whether the plug goes on, and what has to be ordered so that it does."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence

from rangebook.book.book import Book
from rangebook.book.model import Connector, Kit, Part, Socket, Sockets, Terminal, Wire, WireSeals, ids_of, socket_and_cavity, socket_of
from rangebook.fitting.check_needs import together, without_plug
from rangebook.fitting.kit_contents import Needed, blanks_left, needed_of
from rangebook.fitting.mating import READY_MADE, Leg, Way, by_label, left_hanging, loops_in, mates, perhaps, placings, ways
from rangebook.fitting.on_lever import Loops, joined_cavities, on_lever
from rangebook.fitting.seats import Seat, with_design
from rangebook.fitting.together import owners, with_joined, with_own
from rangebook.fitting.verdict import Verdict
from rangebook.reasons.codes import (
    AdapterNeeded,
    BareLeads,
    CompanionHousingNotStated,
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
    PlatingDiffers,
    PlatingNotStated,
    PlugGoesOn,
    PlugLeftHanging,
    PlugNamed,
    SealingNotStated,
    TailCompare,
    TailTooShort,
    TerminalNotStated,
    WireOver,
    WireOverDiffers,
    WireSealsLacking,
    WireSize,
    WireSizeDiffers,
    WiresTogether,
    WiresTogetherNotStated,
    WireTooThick,
)
from rangebook.reasons.reason import Detail, Of, Outcome, Reason, Side, Subject

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
    found = with_own(book, part, ways(book, seat.plug.sockets, part.sockets))
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
    found = ways_onto(book, seat, together(book, seat, verdict.part))
    return {cavity: found[0].cavity(cavity) for cavity in seat.plug.wires} if found else None


def original_goes_on(book: Book, seat: Seat) -> bool | None:
    """Whether the part that a vehicle was built with goes straight on, safety apart: what :func:`rangebook.fitting.judge.judge` comes to,
    from its own pieces; ``None`` where that is not known, or hangs on its design.

    Of all checks only these two can speak against a part in its own place: it is mounted where it was, and what it does there is what is
    asked for.
    """
    found = {_design_goes_on(book, with_design(book, seat, one)) for one in seat.original.designs}
    return found.pop() if len(found) == 1 else None


def _design_goes_on(book: Book, seat: Seat) -> bool | None:
    part, way = seat.original, seat.on_original
    lever = on_lever(book, seat.positions, seat.family, part)
    if lever.lacking:
        return False
    if way is None:
        left = left_hanging(seat.plug.sockets, part.sockets, lambda plug, housing: _may_mate(book, plug.connector, housing.connector))
        return False if left else None
    outcomes = {reason.outcome for reason in on_housing(book, seat, part, way)}
    return False if Outcome.AGAINST in outcomes else None if Outcome.MISSING in outcomes or lever.unclear else True


def _may_mate(book: Book, plug: str, housing: str) -> bool:
    """A connector that is not in the book may be listed by one that is, once somebody writes its entry."""
    return mates(book, plug, housing) or plug not in book.connectors or housing not in book.connectors


def no_way(book: Book, seat: Seat, part: Part) -> list[Reason]:
    """Why there is no way onto a part, or why that is not known."""
    plugs = seat.plug.sockets
    stated = with_joined(book, part)[0]
    if part.joined and ways(book, plugs, part.sockets):
        part = stated
    housings = part.sockets
    bare = part.tail is not None and part.tail.ends == BARE and part.key != seat.original.key
    if bare:
        return [Reason(BareLeads(), Subject(Side.CANDIDATE, Of.CONNECTOR))]
    missing = [] if housings else [Reason(HousingNotStated(), Subject(Side.CANDIDATE, Of.CONNECTOR))]
    if len(plugs) > 1 and any(ways(book, (plug,), (own,)) for plug in plugs for own in stated.sockets):
        lacking = without_plug(book, seat, stated, stays=True)
        missing += [Reason(CompanionHousingNotStated(one), Subject(Side.CANDIDATE, Of.CONNECTOR)) for one in lacking]
    if not missing and len(plugs) > len(housings):
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
    if not seat.original.sockets:
        return Reason(HousingNotStated(), Subject(Side.ORIGINAL, Of.CONNECTOR))
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
        if book.states_plating and not itself:
            yield from _plating(book, seat, part, leg)


def wires_of(seat: Seat, plug: Socket) -> list[str]:
    """The cavities of one of a seat's plugs that carry a wire."""
    return [cavity for cavity in seat.plug.wires if socket_and_cavity(cavity)[0] == plug.name]


def loops_on(seat: Seat, way: Way) -> Loops:
    """The cavities of a part's housings that the jumpers inside the plugs join."""
    loops = [loop for leg in way.legs for loop in loops_in(seat.plug, leg)]
    return joined_cavities(loops, way.met if way.clear else str)


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
        for new in way.every_cavity(cavity):
            places.setdefault(new, []).append(cavity)
    for new, olds in places.items():
        if len(olds) > 1:
            last = leg.kits[-1]
            yield Reason(KitJoinsWires(last.number, tuple(olds), new), Subject(Side.KIT, Of.ITSELF, (last.id,)))
    spare: int | None = 0
    held: dict[str, tuple[str, ...]] = {cavity: (socket_and_cavity(cavity)[1],) for cavity in own}
    for kit in leg.kits:
        # One wire has a hole for each of the cavities that a lead fans it out to; one without a place is told of above.
        held = {cavity: tuple(new for one in at for new in kit.places(one)) for cavity, at in held.items()}
        holes = {cavity: len(at) or 1 for cavity, at in held.items()}
        if kit.joins in READY_MADE:
            needs.append(Needed(kit.id, None, 0))
            yield Reason(AdapterNeeded(kit.number, kit.title, kit.joins), Subject(Side.KIT, Of.ITSELF, (kit.id,)))
            continue
        most, optional = sum(holes.values()), sum(count for cavity, count in holes.items() if cavity in seat.optional)
        needed, of_bag = needed_of(kit, most, most - optional, book.connectors.get(kit.new), spare)
        spare = blanks_left(kit, needed, spare)
        needs.append(needed)
        yield Reason(of_bag, Subject(Side.KIT, Of.ITSELF, (kit.id,)))
    yield from _crimped(book, [seat.plug.wires[cavity] for cavity in own], leg.kits)


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


MM2_PER_MM = 1.7
"""No terminal is crimped on more copper than so much for each millimetre of its width, in mm2: a pin of 0.6 mm on 1 mm2, a blade of 2.8 mm
on 4 mm2, one of 6.3 mm on 10 mm2 at the most. Common practice, no source."""


def largest_wire(made: Terminal) -> float | None:
    """The most copper, in mm2, that a terminal can be crimped on by its width; a thick round pin takes as much as it has itself. ``None``
    where its width is not stated."""
    if made.width_mm is None:
        return None
    round_pin = math.pi / 4 * made.width_mm**2 if made.style in ("pin", "socket") else 0.0
    return max(MM2_PER_MM * made.width_mm, round_pin)


Placed = list[tuple[Wire, str]]
"""The wires of a plug, each with the cavity that it goes into."""


def _crimped(book: Book, wires: Sequence[Wire], kits: tuple[Kit, ...]) -> Iterator[Reason]:
    """What each kit's terminals and seals are not made for, or are not known to be, of the wires that go into its plug."""
    here = [(wire, socket_and_cavity(wire.cavity)[1]) for wire in wires]
    for kit in kits:
        here = [(wire, new) for wire, at in here for new in kit.places(at)]
        if kit.joins in READY_MADE:
            continue
        for detail in in_bag(kit, book.connectors.get(kit.new), here):
            yield Reason(detail, Subject(Side.KIT, Of.ITSELF, (kit.id,)))


def in_bag(kit: Kit, supplied: Connector | None, placed: Placed) -> Iterator[Detail]:
    """The same of one kit, whose plug is of the connector ``supplied``. What is stated on one side only is not asked for, but where several
    wires share a terminal."""
    sizes: dict[tuple[str, tuple[float, float]], list[WireSize]] = {}
    thick: dict[tuple[float, float], list[WireSize]] = {}
    over: dict[tuple[float, float], list[WireOver]] = {}
    crowded: dict[int, list[str]] = {}
    unsaid: dict[str, list[str]] = {}
    sealed_mm2 = supplied.seal_wire_mm2 if supplied else None
    for wire, cavity in placed:
        made = kit.terminal_for(cavity, supplied)
        at = wire.cavity
        known = [one.size_mm2 for one in wire.all if one.size_mm2 is not None]
        most = largest_wire(made)
        if made.wire_mm2 is not None:
            if known and (sum(known) > made.wire_mm2[1] or (wire.mm2 is not None and wire.mm2 < made.wire_mm2[0])):
                sizes.setdefault(("terminal", made.wire_mm2), []).append(WireSize(at, sum(known)))
        elif most is not None and made.width_mm is not None and sum(known) > most + 1e-9:
            thick.setdefault((made.width_mm, most), []).append(WireSize(at, sum(known)))
        if sealed_mm2 is not None:
            beyond = [WireSize(at, one) for one in known if not sealed_mm2[0] <= one <= sealed_mm2[1]]
            if beyond:
                sizes.setdefault(("seal", sealed_mm2), []).extend(beyond)
        if made.seal_mm is not None:
            outer = [one.outer_mm for one in wire.all if one.outer_mm is not None]
            wrong = [WireOver(at, one) for one in outer if not made.seal_mm[0] <= one <= made.seal_mm[1]]
            if wrong:
                over.setdefault(made.seal_mm, []).extend(wrong)
        if wire.others and made.wires is not None and len(wire.all) > made.wires:
            crowded.setdefault(made.wires, []).append(at)
        elif wire.others and made.wires is None:
            if made.wire_mm2 is None or wire.mm2 is None:
                unsaid.setdefault("terminal", []).append(at)
            if supplied is None or supplied.sealed is not False:
                unsaid.setdefault("seal", []).append(at)
    for (part, (smallest, largest)), beyond in sizes.items():
        yield WireSizeDiffers(kit.number, part, smallest, largest, tuple(beyond))
    for (width, most), beyond in thick.items():
        yield WireTooThick(kit.number, width, round(most, 2), tuple(beyond))
    for (smallest, largest), wrong in over.items():
        yield WireOverDiffers(kit.number, smallest, largest, tuple(wrong))
    for limit, cavities in crowded.items():
        yield WiresTogether(kit.number, limit, tuple(cavities))
    for part, cavities in unsaid.items():
        yield WiresTogetherNotStated(kit.number, part, tuple(cavities))
    if kit.wire_seals is not None and supplied is not None and supplied.sealed:
        bare = _without_seal(kit.wire_seals, [wire for wire, _ in placed])
        if bare:
            yield WireSealsLacking(kit.number, bare)


def _without_seal(seals: Sequence[WireSeals], wires: Sequence[Wire]) -> tuple[str, ...]:
    """The cavities of wires for which no seal is left, when the seals are given out to as many as can be."""
    taken: list[list[Wire]] = [[] for _ in seals]

    def give(wire: Wire, seen: set[int]) -> bool:
        for index, size in enumerate(seals):
            if index in seen or not _closes_round(size, wire):
                continue
            seen.add(index)
            if len(taken[index]) < size.count:
                taken[index].append(wire)
                return True
            for other in taken[index]:
                if give(other, seen):
                    taken[index].remove(other)
                    taken[index].append(wire)
                    return True
        return False

    return tuple(wire.cavity for wire in wires if not give(wire, set()))


def _closes_round(size: WireSeals, wire: Wire) -> bool:
    """Whether a seal closes round a wire, as far as both are stated; of several in one it goes by each."""
    return all(
        value is None or bounds is None or bounds[0] <= value <= bounds[1]
        for one in wire.all
        for value, bounds in ((one.size_mm2, size.wire_mm2), (one.outer_mm, size.outer_mm))
    )


def _plating(book: Book, seat: Seat, part: Part, leg: Leg) -> Iterator[Reason]:
    """Tin on gold or silver, where the wires of a plug have their terminals.

    Tin rubs through to its oxide on a metal that is too noble for it (common practice, no source). A plug that was never renewed is plated
    as the part is that the vehicle was built with, where nothing else is stated.
    """
    kit = leg.kits[-1] if leg.kits else None
    plug = book.connectors.get(leg.last)
    pairs: dict[tuple[str | None, str | None], list[str]] = {}
    way = Way((leg,))
    for cavity in wires_of(seat, leg.plug):
        for there in way.every_cavity(cavity):
            met, at = way.met(there), socket_and_cavity(there)[1]
            if met is None:
                continue
            own = kit.terminal_for(at, plug).plating if kit else seat.plug.plating or (plug.terminal_at(at).plating if plug else None)
            if own is None and kit is None and not seat.renewal:
                own = plated(book, seat.original, seat.meets[cavity] or "")
            pairs.setdefault((own, plated(book, part, met)), []).append(cavity)
    for (own, other), met_by in pairs.items():
        cavities = list(dict.fromkeys(met_by))
        if own is not None and other is not None:
            if (own == "tin") is not (other == "tin"):
                yield Reason(PlatingDiffers(own, other, tuple(cavities)), Subject(Side.CANDIDATE, Of.CONNECTOR))
        elif own is not None or other is not None:
            if other is None:
                subject = Subject(Side.CANDIDATE, Of.CONNECTOR)
            else:
                subject = Subject(Side.KIT, Of.ITSELF, (kit.id,)) if kit else Subject(Side.PLUG, Of.WIRE, tuple(cavities))
            yield Reason(PlatingNotStated(own or other or "", tuple(cavities)), subject)


def plated(book: Book, part: Part, pin: str) -> str | None:
    """What a pin of a part is plated with."""
    socket = socket_of(part.sockets, pin)
    owner = owners(book, part).get(socket.name) if part.joined and socket else part
    if owner is not None and owner.plating is not None:
        return owner.plating
    housing = book.connectors.get(socket.connector) if socket else None
    return housing.terminal_at(socket_and_cavity(pin)[1]).plating if housing else None
