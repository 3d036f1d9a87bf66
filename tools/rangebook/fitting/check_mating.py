"""The second check: whether the plug goes on, and what has to be ordered so that it does."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence

from rangebook.book.book import Book
from rangebook.book.model import Connector, Kit, Part, Terminal, Wire, WireSeals
from rangebook.fitting.kit_contents import Needed, blanks_left, needed_of
from rangebook.fitting.mating import Way, perhaps, ways
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
    PlatingDiffers,
    PlatingNotStated,
    SealingNotStated,
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
from rangebook.reasons.reason import Detail, Of, Reason, Side, Subject

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
    left_out = tuple(cavity for cavity in placed if way.mated.clear and way.mated.cavity(cavity) is None)
    if left_out and part.connector is not None:
        yield Reason(MapLacksWires(left_out), Subject(Side.CANDIDATE, Of.CONNECTOR, (part.connector,)))
    if book.states_plating and not itself and part.connector is not None:
        yield from _plating(book, seat, part, way)


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
    reasons += _crimped(book, seat, way.kits)
    return needs, reasons


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


def _crimped(book: Book, seat: Seat, kits: tuple[Kit, ...]) -> Iterator[Reason]:
    """What each kit's terminals and seals are not made for, or are not known to be, of the wires that go into its plug."""
    here = [(wire, cavity) for cavity, wire in seat.plug.wires.items()]
    for kit in kits:
        here = [(wire, kit.moves[at]) for wire, at in here if at in kit.moves]
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


def _plating(book: Book, seat: Seat, part: Part, way: Way) -> Iterator[Reason]:
    """Tin on gold or silver, where the wires have their terminals.

    Tin rubs through to its oxide on a metal that is too noble for it (common practice, no source). A plug that was never renewed is plated
    as the part is that the vehicle was built with, where nothing else is stated.
    """
    kit = way.kits[-1] if way.kits else None
    plug = book.connectors.get(kit.new if kit else seat.plug.connector)
    pairs: dict[tuple[str | None, str | None], list[str]] = {}
    for cavity in seat.plug.wires:
        at = way.plug_cavity(cavity)
        met = None if at is None else way.mated.cavity(at)
        if at is None or met is None:
            continue
        own = kit.terminal_for(at, plug).plating if kit else seat.plug.plating or (plug.terminal_at(at).plating if plug else None)
        if own is None and kit is None and not seat.renewal:
            own = plated(book, seat.original, seat.meets[cavity] or "")
        pairs.setdefault((own, plated(book, part, met)), []).append(cavity)
    for (own, other), cavities in pairs.items():
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
    if part.plating is not None:
        return part.plating
    housing = book.connectors.get(part.connector or "")
    return housing.terminal_at(pin).plating if housing else None
