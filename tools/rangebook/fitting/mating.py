"""How a vehicle's plugs get onto a switch: as they are, or renewed by kits. Mostly there is one plug, and one connector to go on."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property, lru_cache
from itertools import combinations, product
from types import MappingProxyType

from rangebook.book.book import Book
from rangebook.book.model import Connector, Kit, Mate, Plug, Socket, Sockets, Terminal, socket_and_cavity
from rangebook.reasons.codes import (
    CavitiesNotMatched,
    OutlineDiffers,
    RowsDiffer,
    SealingDiffers,
    SealingNotStated,
    TerminalDiffers,
    TerminalMade,
    TerminalNotStated,
)
from rangebook.reasons.reason import Detail, Of, Outcome, Reason, Side, Subject

MAX_KITS = 3
"""How many kits, one after the other, are tried."""

PLUG_IN = "plug_in"
"""How an adapter lead joins: nothing is cut."""

READY_MADE = (PLUG_IN, "splice")
"""How kits are joined whose plug has its terminals and seals in already."""

SAME_WIDTH_MM = 0.05
"""So far apart may two measured widths of one terminal be. Common practice, no source."""

_NOTHING: Mapping[str, None] = MappingProxyType({})


@dataclass(frozen=True, slots=True)
class Mated:
    """What two connectors say to a plug of the one going on a housing of the other.

    ``cavities`` maps the plug's cavity to the housing's, ``None`` where each meets the one of its own label; it says nothing where it is
    not ``clear`` which meets which. ``reasons`` is what speaks against it, and what is missing.
    """

    cavities: Mapping[str, str] | None = None
    clear: bool = True
    reasons: tuple[Reason, ...] = ()

    def cavity(self, of_plug: str) -> str | None:
        """The housing's cavity that one of the plug meets; ``None`` where that is not stated."""
        return of_plug if self.cavities is None else self.cavities.get(of_plug)


BY_LABEL = Mated()
"""A plug on its own housing."""


@dataclass(frozen=True, slots=True)
class Leg:
    """One plug of a vehicle on one connector of a switch. ``kits`` in the order in which they are fitted; none where the plug goes on as
    it is. ``mated`` is how the last plug sits on the housing."""

    plug: Socket
    housing: Socket
    kits: tuple[Kit, ...] = ()
    mated: Mated = BY_LABEL

    @property
    def last(self) -> str:
        """The connector of the plug that goes on."""
        return self.kits[-1].new if self.kits else self.plug.connector


@dataclass(frozen=True)
class Way:
    """One way for a vehicle's plugs onto a switch, a leg for each plug, in their order."""

    legs: tuple[Leg, ...]

    @cached_property
    def _by_name(self) -> dict[str, Leg]:
        return {leg.plug.name: leg for leg in self.legs}

    @cached_property
    def _moved(self) -> dict[str, str | None]:
        return {}

    @cached_property
    def _met(self) -> dict[str, str | None]:
        return {}

    @property
    def kits(self) -> tuple[Kit, ...]:
        """All kits that it takes, plug by plug."""
        return tuple(kit for leg in self.legs for kit in leg.kits)

    @property
    def handles_wires(self) -> bool:
        """Whether wires are cut or moved on it: an adapter lead only goes between."""
        return any(kit.joins != PLUG_IN for kit in self.kits)

    @property
    def clear(self) -> bool:
        """Whether it is clear of each plug which of its cavities meets which."""
        return all(leg.mated.clear for leg in self.legs)

    @property
    def names_kept(self) -> int:
        """How many plugs go on a connector of their own name."""
        return sum(leg.plug.name == leg.housing.name for leg in self.legs)

    def plug_cavity(self, old: str) -> str | None:
        """Where the wire from cavity ``old`` of the vehicle's plugs ends up in the plug that goes on; ``None`` if some kit has no place for
        it."""
        known = self._moved
        if old not in known:
            leg, here = self._leg(old)
            at: str | None = here
            for kit in leg.kits if leg else ():
                at = None if at is None else kit.moves.get(at)
            known[old] = leg.plug.label(at) if leg and at is not None else None
        return known[old]

    def every_cavity(self, old: str) -> tuple[str, ...]:
        """Where the wire from cavity ``old`` ends up in the plug that goes on: in several where a lead fans it out, none where some kit has
        no place for it."""
        leg, here = self._leg(old)
        at: tuple[str, ...] = (here,) if leg else ()
        for kit in leg.kits if leg else ():
            at = tuple(new for one in at for new in kit.places(one))
        return tuple(leg.plug.label(one) for one in at) if leg else ()

    def fans(self, wires: Iterable[str]) -> list[tuple[str, ...]]:
        """The cavities of the plugs that go on which leads bring one wire to, each lead's where it is several: of leads that are ready made
        all, of a plug that is cut on those of ``wires``, cavities of the vehicle's plugs."""
        found = [self.every_cavity(old) for old in wires]
        for leg in self.legs:
            for kit in leg.kits[-1:]:
                found += [tuple(map(leg.plug.label, group)) for group in kit.fans.values() if kit.joins in READY_MADE]
        return [one for one in found if len(one) > 1]

    def met(self, of_plug: str) -> str | None:
        """Which cavity of the switch one of the plugs that go on meets; ``None`` where that is not stated."""
        known = self._met
        if of_plug not in known:
            leg, here = self._leg(of_plug)
            met = leg.mated.cavity(here) if leg else None
            known[of_plug] = leg.housing.label(met) if leg and met is not None else None
        return known[of_plug]

    def cavity(self, old: str) -> str | None:
        """Which cavity of the switch the wire from cavity ``old`` of the vehicle's plugs meets; ``None`` if a kit has no place for it, or
        it is not stated."""
        here = self.plug_cavity(old)
        return None if here is None else self.met(here)

    def _leg(self, label: str) -> tuple[Leg | None, str]:
        """The leg of a plug's cavity, and the cavity by itself."""
        name, cavity = socket_and_cavity(label)
        return self._by_name.get(name), cavity


def loops_in(plug: Plug, leg: Leg) -> list[tuple[str, ...]]:
    """The jumpers inside a plug that goes on, by its cavities: the vehicle's own are cut off with its plug, a kit's are in its bag.
    Where the old plug stays, with an adapter lead, so do its jumpers, at the cavities that they are led to. What a lead fans out to is
    joined in the lead, whatever is cut off behind it; in a plug that is cut on only where there is a wire."""
    found = [tuple(socket_and_cavity(end)[1] for end in loop) for loop in plug.loops if socket_and_cavity(loop[0])[0] == leg.plug.name]
    fans: list[tuple[str, ...]] = []
    wired = {cavity for name, cavity in map(socket_and_cavity, plug.wires) if name == leg.plug.name}
    for kit in leg.kits:
        found = [*(_led(found, kit) if kit.joins == PLUG_IN else ()), *kit.jumpers]
        fans = [*_led(fans, kit), *(every for old, every in kit.fans.items() if kit.joins in READY_MADE or old in wired)]
        wired = {new for old in wired for new in kit.places(old)}
    return [tuple(leg.plug.label(end) for end in loop) for loop in (*found, *fans)]


def _led(loops: Iterable[tuple[str, ...]], kit: Kit) -> list[tuple[str, ...]]:
    """Cavities that are joined, by those of a kit's plug to which they are led."""
    led = (tuple(kit.moves[end] for end in loop if end in kit.moves) for loop in loops)
    return [loop for loop in led if len(loop) > 1]


def likeliest(found: Sequence[Way]) -> Way | None:
    """Of several ways that take the same kits the one on which most plugs go on a connector of their own name; ``None`` where there is
    none, or no name tells them apart."""
    best = sorted(found, key=lambda way: -way.names_kept)[:2]
    return best[0] if best and (len(best) == 1 or best[1].names_kept < best[0].names_kept) else None


def by_label(plugs: Sockets) -> Way:
    """Each plug on its own housing."""
    return Way(tuple(Leg(one, one) for one in plugs))


def mates(book: Book, plug_connector: str, switch_connector: str) -> bool:
    """Whether a plug is said to go on a switch's housing as it is, by their connectors."""
    return plug_connector == switch_connector or switch_connector in book.switches_for_plug.get(plug_connector, ())


def mated(book: Book, plug_connector: str, switch_connector: str, kit: Kit | None = None) -> Mated:
    """How a plug that :func:`mates` with a switch's housing sits on it; ``kit`` is the one that it comes from."""
    plug = book.connectors.get(plug_connector)
    own = plug and kit and bool(kit.terminal or kit.terminals) and _from_bag(kit, plug)
    if plug_connector == switch_connector:
        return _in_own_housing(own, book.connectors[switch_connector]) if own else BY_LABEL
    # A housing that is listed has an entry; the plug that it lists may have none.
    return on_housing(own or plug, book.connectors[switch_connector]) if plug else Mated(clear=False)


@lru_cache(maxsize=1_000)
def _from_bag(kit: Kit, supplied: Connector) -> Connector:
    """The new plug of a kit with the terminals that are in its bag."""
    return replace(supplied, terminal=None, terminals={one: kit.terminal_for(one, supplied) for one in supplied.cavities})


@lru_cache(maxsize=1_000)
def _in_own_housing(plug: Connector, housing: Connector) -> Mated:
    """A plug with other terminals than its connector has: only what speaks against these is told."""
    return Mated(None, True, tuple(one for one in _terminals(plug, housing, None) if one.outcome is Outcome.AGAINST))


@lru_cache(maxsize=10_000)
def on_housing(plug: Connector, housing: Connector) -> Mated:
    """The law of mates, for a plug of one connector on the housing of another that lists it.

    Outline, style, width and sex of the terminals and the sealing are the same in both, and so are the rows; or a map says by place which
    cavity meets which. Common practice, no source. What is stated in both and not the same speaks against it.
    """
    stated = [mate for mate in housing.mates if mate.connector == plug.id]
    cavities, of_rows = _matched(plug, housing, stated)
    reasons = [*of_rows]
    if plug.outline != housing.outline:
        reasons.append(_against(housing, OutlineDiffers(plug.outline, housing.outline)))
    reasons += _terminals(plug, housing, cavities)
    if plug.sealed is None or housing.sealed is None:
        reasons += [_missing(side, one, SealingNotStated()) for side, one in _sides(plug, housing) if one.sealed is None]
    elif plug.sealed != housing.sealed:
        reasons.append(_against(housing, SealingDiffers(plug.sealed, housing.sealed)))
    return Mated(cavities, not of_rows, tuple(reasons))


def places(connector: Connector) -> dict[tuple[int, int], str]:
    """Where each cavity is, by row and column from the first that there is."""
    found = {(row, column): label for row, labels in enumerate(connector.rows) for column, label in enumerate(labels) if label is not None}
    top = min((row for row, _ in found), default=0)
    left = min((column for _, column in found), default=0)
    return {(row - top, column - left): label for (row, column), label in found.items()}


def map_faults(plug: Connector, housing: Connector, cavities: Mapping[str, str]) -> dict[str, str]:
    """What cannot be in a map of cavities: plug's cavity -> ``plug``, ``housing`` or ``doubled``."""
    here, there = set(plug.cavities), set(housing.cavities)
    met = list(cavities.values())
    return {
        one: "plug" if one not in here else "housing" if other not in there else "doubled"
        for one, other in cavities.items()
        if one not in here or other not in there or met.count(other) > 1
    }


def _matched(plug: Connector, housing: Connector, stated: list[Mate]) -> tuple[Mapping[str, str] | None, list[Reason]]:
    """Which cavity of the plug meets which of the housing, and why that is not known."""
    first = stated[0].cavities if stated else None
    if len({None if one.cavities is None else tuple(sorted(one.cavities.items())) for one in stated}) > 1:
        return None, [_missing(Side.CANDIDATE, housing, CavitiesNotMatched(plug.title, housing.title))]
    if first is not None:
        if map_faults(plug, housing, first):
            return None, [_missing(Side.CANDIDATE, housing, CavitiesNotMatched(plug.title, housing.title))]
        return first, []
    here, there = places(plug), places(housing)
    if here == there:
        return None, []
    if here.keys() == there.keys():
        return None, [_missing(Side.CANDIDATE, housing, CavitiesNotMatched(plug.title, housing.title))]
    return None, [_against(housing, RowsDiffer(plug.title, housing.title))]


def _terminals(plug: Connector, housing: Connector, cavities: Mapping[str, str] | None) -> Iterator[Reason]:
    """What of the terminals is not the same, and whose is not stated; cavity by cavity where one of the two mixes them."""
    pairs: dict[tuple[TerminalMade, TerminalMade], list[str]] = {}
    if plug.terminals or housing.terminals:
        for cavity in plug.cavities:
            there = cavity if cavities is None else cavities.get(cavity)
            if there is not None:
                pairs.setdefault((_made(plug.terminal_at(cavity)), _made(housing.terminal_at(there))), []).append(cavity)
    else:
        pairs[_made(plug.terminal), _made(housing.terminal)] = []
    lacking: dict[tuple[Side, tuple[str, ...]], list[str]] = {}
    for (one, other), where in pairs.items():
        if (
            _differ(one.style, other.style)
            or _differ(one.on_switch, other.on_switch)
            or (one.width_mm is not None and other.width_mm is not None and abs(one.width_mm - other.width_mm) > SAME_WIDTH_MM)
        ):
            yield _against(housing, TerminalDiffers(one, other, tuple(where)))
            continue
        for side, made in ((Side.PLUG, one), (Side.CANDIDATE, other)):
            facts = tuple(name for name, value in made._asdict().items() if value is None)
            if facts:
                lacking.setdefault((side, facts), []).extend(where)
    owner = {Side.PLUG: plug, Side.CANDIDATE: housing}
    for (side, facts), where in lacking.items():
        yield _missing(side, owner[side], TerminalNotStated(facts, tuple(where)))


def _made(terminal: Terminal | None) -> TerminalMade:
    return TerminalMade(terminal.style, terminal.width_mm, terminal.on_switch) if terminal else TerminalMade(None, None, None)


def _differ(one: str | None, other: str | None) -> bool:
    return one is not None and other is not None and one != other


def _sides(plug: Connector, housing: Connector) -> tuple[tuple[Side, Connector], ...]:
    return (Side.PLUG, plug), (Side.CANDIDATE, housing)


def _against(housing: Connector, detail: Detail) -> Reason:
    return Reason(detail, Subject(Side.CANDIDATE, Of.CONNECTOR, (housing.id,)))


def _missing(side: Side, connector: Connector, detail: Detail) -> Reason:
    return Reason(detail, Subject(side, Of.CONNECTOR, (connector.id,)))


def ways(book: Book, plugs: Sockets, housings: Sockets) -> list[Way]:
    """Every way of all plugs onto a switch's connectors, each on one of its own; as they are first, then with fewest kits; of equal ones
    those first where most plugs go on a connector of their own name. None where a plug is left over."""
    if len(plugs) == len(housings) == 1:
        return [Way((leg,)) for leg in _legs(book, plugs[0], housings[0])]
    legs = {(plug, housing): _legs(book, plug, housing) for plug in plugs for housing in housings}
    placed = placings(plugs, housings, lambda plug, housing: bool(legs[plug, housing]))
    found = [Way(way) for one in placed for way in product(*(legs[pair] for pair in one))]
    return sorted(found, key=lambda way: (len(way.kits), -way.names_kept))


def _legs(book: Book, plug: Socket, housing: Socket) -> list[Leg]:
    """Every way of one plug onto one connector."""
    return [
        Leg(plug, housing, kits, mated(book, reached, housing.connector, kits[-1] if kits else None))
        for reached, kits in _from(book, plug.connector)
        if mates(book, reached, housing.connector)
    ]


Goes = Callable[[Socket, Socket], bool]
"""Whether a plug goes on a housing."""


def placings(plugs: Sockets, housings: Sockets, goes: Goes) -> Iterator[tuple[tuple[Socket, Socket], ...]]:
    """Every way of putting each plug on a housing of its own on which it goes, as pairs in the order of the plugs."""
    if not plugs:
        yield ()
        return
    for at, housing in enumerate(housings):
        if goes(plugs[0], housing):
            for rest in placings(plugs[1:], (*housings[:at], *housings[at + 1 :]), goes):
                yield ((plugs[0], housing), *rest)


def left_hanging(plugs: Sockets, housings: Sockets, goes: Goes) -> Sockets:
    """The plugs that are left over when as many as can be are on a housing; of equal choices one that keeps most names."""
    for count in range(len(plugs), 0, -1):
        found = [one for some in combinations(plugs, count) for one in placings(some, housings, goes)]
        if found:
            best = max(found, key=lambda one: sum(plug.name == housing.name for plug, housing in one))
            return tuple(plug for plug in plugs if plug not in {on for on, _ in best})
    return plugs


def reachable(book: Book, plug_connector: str) -> Mapping[str, None]:
    """The connectors of all switches that a plug can be brought onto, an ordered set; after them those that it may be brought onto by
    what could not be read."""
    return dict.fromkeys(
        [
            *(switch for reached, _ in _from(book, plug_connector) for switch in (reached, *book.switches_for_plug.get(reached, ()))),
            *perhaps(book, plug_connector),
        ]
    )


def _from(book: Book, plug_connector: str) -> Iterator[tuple[str, tuple[Kit, ...]]]:
    """Plugs that a vehicle's plug can become, breadth first, each with the kits; no plug is come back to on one way."""
    level: list[tuple[str, tuple[Kit, ...]]] = [(plug_connector, ())]
    for depth in range(MAX_KITS + 1):
        following = []
        for reached, kits in level:
            yield reached, kits
            if depth < MAX_KITS:
                been = {plug_connector, *(kit.new for kit in kits)}
                following += [
                    (kit.new, (*kits, kit))
                    for kit in book.kits_from.get(reached, ())
                    # A kit may renew a plug by one of the same kind, with its wires in other places.
                    if kit.new not in been or (kit.new == reached and kit not in kits)
                ]
        level = following


# What could not be read ---------------------------------------------------------------------------------------------------


def perhaps(book: Book, plug_connector: str) -> Mapping[str, None]:
    """The housings onto which an entry that could not be read, or a name that leads nowhere, may be the way of a plug; an ordered set."""
    hidden = book.hidden_ways
    if not hidden.kits and not hidden.housings:
        return _NOTHING
    found: dict[str, None] = {}
    waiting = [plug_connector, *(new for old, new in hidden.kits if old is None and new is not None)]
    if any(old is None and new is None for old, new in hidden.kits):
        return dict.fromkeys(book.connectors)
    while waiting:
        here = waiting.pop()
        if here in found:
            continue
        found[here] = None
        for old, new in (*((here, kit.new) for kit in book.kits_from.get(here, ())), *hidden.kits):
            if old == here and (new is None or new not in book.connectors):
                return dict.fromkeys(book.connectors)
            if old == here and new is not None:
                waiting.append(new)
    switches = (switch for one in found for switch in book.switches_for_plug.get(one, ()))
    return dict.fromkeys((*found, *switches, *hidden.housings))
