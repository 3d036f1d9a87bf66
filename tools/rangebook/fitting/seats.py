"""Seats: one plug with the part it came with, its lever positions and its mount."""

from __future__ import annotations

from collections import Counter
from collections.abc import Hashable, Mapping
from dataclasses import dataclass, field, replace
from functools import cached_property, lru_cache
from types import MappingProxyType

from rangebook.book.book import Book
from rangebook.book.model import CASE, Application, Circuit, Cranks, Family, Kit, Mount, Part, Plug, Volts
from rangebook.electrics.meaning import Means, guard_on, means_of, meant
from rangebook.electrics.safety import lever_lacks
from rangebook.fitting.conditions import Truths, asked_of, known_of, together
from rangebook.fitting.cranking import PARK_OR_NEUTRAL, beyond_park
from rangebook.fitting.mating import Way, by_label, likeliest, loops_in, ways
from rangebook.fitting.on_lever import Loops, OnLever, joined_cavities, on_lever, with_loops
from rangebook.fitting.together import with_others, with_own
from rangebook.reasons.codes import Terminal


@dataclass(frozen=True, eq=False)
class Seat:
    """What a candidate is judged against: the original's behaviour on this vehicle's wires, and its mount."""

    family: Family
    plug: Plug
    original: Part
    positions: tuple[str, ...]
    mount: Mount | None
    applications: tuple[Application, ...]
    original_positions: tuple[str, ...]
    """Those of the family that the original belongs to."""
    listed: Mapping[str, Circuit]
    """The controlled list of circuits."""
    on_original: Way | None = None
    """How the plugs that the vehicle was built with sit on the original; ``None`` where that is not known."""
    renewal: tuple[Kit, ...] = ()
    """The kits with which the plug that is there now has been renewed since, one after the other."""
    built: Mapping[str, str] = field(default_factory=dict)
    """Cavity of the plug that is there now -> that of the plug that the vehicle was built with; one that is not named is the same."""
    as_built: Seat | None = None
    """The seat before its plug was renewed; ``None`` where it has not been."""
    on_lever: OnLever | None = None
    """The original with its positions by this lever's names; ``None`` where they are the same."""
    meet: frozenset[Truths] = frozenset({()})
    """Which of the conditions that are asked of the original its vehicles meet, in the order of :func:`conditions.asked_of`: each way that
    there may be."""
    place: int = 0
    """Several seats may have plug, original and lever in common, and vehicles that are told apart by conditions or by wires that some
    lack: which of them it is, from 0."""

    @property
    def key(self) -> tuple[str, str, str, tuple[str, ...]]:
        """What tells this seat from every other one of the book."""
        plug = "+".join((self.named_plug, *(kit.id for kit in self.renewal)))
        return self.family.id, plug, self.original.key, self.positions

    @property
    def named_plug(self) -> str:
        """The plug's name, and a number behind it where it has several seats with this original and lever."""
        return f"{self.plug.name}~{self.place + 1}" if self.place else self.plug.name

    @cached_property
    def unclear(self) -> tuple[str, ...]:
        """Positions of the lever that may be one or another of the original's."""
        return self.on_lever.unclear if self.on_lever else ()

    @cached_property
    def loops(self) -> Loops:
        """The cavities of the original's housing that the jumpers of the plug join with which the vehicle was built."""
        built = (self.as_built or self).plug.loops
        way = self.on_original
        return joined_cavities(built, way.met if way is not None and way.clear else str)

    @cached_property
    def inside(self) -> Part:
        """The original as the vehicle had it: its positions by the lever's names, the jumpers of its plug as contacts. What a candidate has
        to do as well."""
        return with_loops(self.on_lever.part if self.on_lever else self.original, self.loops, self.every_position)

    @cached_property
    def cranks(self) -> Cranks | None:
        """Where the engine cranks, as the seat's vehicles say, or else its plug; where they say different things nothing counts."""
        said = {one.cranks or self.plug.cranks for one in self.applications}
        return next(iter(said)) if len(said) == 1 else None

    @property
    def cranks_in(self) -> tuple[str, ...]:
        """The positions in which the engine has to crank on the road check: those of the lever that mean park or neutral, of these the ones
        that a vehicle names where it says where it cranks."""
        stated = (self.cranks and self.cranks.positions) or self.positions
        return self._meaning(stated, PARK_OR_NEUTRAL) or self._meaning(self.positions, PARK_OR_NEUTRAL)

    @property
    def reverse(self) -> tuple[str, ...]:
        """The positions of the lever in which the backup lamps have to light: those that mean reverse."""
        return self._meaning(self.positions, frozenset({"R"}))

    def _meaning(self, positions: tuple[str, ...], wanted: frozenset[str]) -> tuple[str, ...]:
        return tuple(at for at, one in zip(positions, meant(positions, means_of(self.family)), strict=True) if one in wanted)

    @cached_property
    def cranked_by_module(self) -> frozenset[str]:
        """Forward positions in which a module is said to crank the engine, by a source: there a start contact that is closed is not known
        to be what makes it crank, nor known not to be."""
        return beyond_park(self.cranks, means_of(self.family))

    @cached_property
    def terminals(self) -> tuple[str, ...]:
        """The cavities that carry a wire, in the order of the entry, and the housing."""
        return (*self.plug.wires, CASE)

    @cached_property
    def meets(self) -> Mapping[str, str | None]:
        """Terminal -> the pin of the original that it meets, or met with the plug that the vehicle was built with; by label where that is
        not :attr:`clear`."""
        own = {cavity: self.built.get(cavity, cavity) for cavity in self.plug.wires}
        found = {cavity: self._met(cavity) for cavity in own}
        return {**(found if self.clear else own), CASE: CASE}

    @cached_property
    def clear(self) -> bool:
        """Whether it is known which pin of the original each wire meets."""
        way = self.on_original
        return way is not None and way.clear and all(self._met(cavity) is not None for cavity in self.plug.wires)

    def _met(self, cavity: str) -> str | None:
        return self.on_original.met(self.built.get(cavity, cavity)) if self.on_original else None

    @cached_property
    def circuits(self) -> Mapping[str, frozenset[str]]:
        """Terminal -> every circuit that it is known as: by the wire, and by the pin of the original that it meets.

        Where the two differ one of them is wrong; the safety check then goes by both.
        """
        named = {}
        for cavity, wire in self.plug.wires.items():
            pin = (self.original.pins or {}).get(self.meets[cavity] or "")
            named[cavity] = _names(wire.circuits, pin)
        return named

    @cached_property
    def named(self) -> Mapping[str, tuple[Circuit, ...]]:
        """The same as the list of circuits has them. A name that is not on the list says nothing."""
        return {at: tuple(self.listed[name] for name in sorted(names) if name in self.listed) for at, names in self.circuits.items()}

    @cached_property
    def loaded(self) -> frozenset[str]:
        """Terminals of which it has to be known what goes through them: they are of a safety circuit."""
        return frozenset(at for at, names in self.named.items() if any(one.safety for one in names))

    @cached_property
    def carries(self) -> Mapping[str, float]:
        """Terminal -> the most current through it in amperes, where that is stated."""
        return {cavity: amps for cavity, wire in self.plug.wires.items() if (amps := wire.amps) is not None}

    @cached_property
    def half_named(self) -> tuple[str, ...]:
        """Terminals with several wires of which not each says what it is for."""
        return tuple(cavity for cavity, wire in self.plug.wires.items() if len(wire.circuits) <= len(wire.others) > 0)

    @cached_property
    def given(self) -> Mapping[str, Volts]:
        """Terminal -> the volts that the vehicle feeds through its wire, where that is stated."""
        stated = (
            (cavity, next((one.gives_volts for one in wire.all if one.gives_volts is not None), None))
            for cavity, wire in self.plug.wires.items()
        )
        return {cavity: volts for cavity, volts in stated if volts is not None}

    @cached_property
    def every_position(self) -> tuple[str, ...]:
        """Those of the lever, and those that the gearbox or the original has and the lever is said to lack."""
        return tuple(dict.fromkeys((*self.positions, *self.family.positions, *self.original_positions)))

    @cached_property
    def lever_lacks(self) -> tuple[str, ...]:
        """What the lever must have and is said to lack."""
        means = means_of(self.family)
        return lever_lacks(meant(self.positions, means), meant(self.family.positions, means))

    def terminal(self, cavity: str) -> Terminal:
        """A terminal as reasons name it."""
        return Terminal(cavity, tuple(sorted(self.circuits.get(cavity, ()))))

    @cached_property
    def optional(self) -> tuple[str, ...]:
        """Cavities in which some of the seat's vehicles have no wire."""
        listed = {cavity for one in self.applications for cavity in one.optional_cavities}
        return tuple(cavity for cavity in self.plug.wires if self.built.get(cavity, cavity) in listed)


def plug_of(named: str) -> str:
    """The name of the vehicle's plug that a seat's key names, without the kits that renewed it and without which of several seats it is."""
    return named.partition("+")[0].partition("~")[0]


@lru_cache(maxsize=1_024)
def _names(wires: tuple[str, ...], pin: str | None) -> frozenset[str]:
    return frozenset((*wires, pin) if pin else wires)


def mount_of(book: Book, part: Part) -> Mount | None:
    """How a part bolts on, as its family states it."""
    return book.family_of(part).mounts.get(part.mount) if part.mount else None


def _whole(book: Book, plug: Plug, original: Part) -> Part:
    """What a vehicle was built with: a part, and what goes with it where that has plugs of its own."""
    return with_others(book, plug.sockets, original, original.goes_with) if original.goes_with else original


def _on_original(book: Book, plug: Plug, original: Part) -> Way | None:
    # The part that the vehicle was built with has been on this plug, whatever its housing is called; of several plugs what goes with it may
    # have had one.
    if not original.sockets:
        return None if original.goes_with and len(plug.sockets) > 1 else by_label(plug.sockets)
    return likeliest([way for way in with_own(book, original, ways(book, plug.sockets, original.sockets)) if not way.kits])


def renewed(seat: Seat, way: Way) -> Seat | None:
    """A seat whose plugs have been renewed with a way's kits since; ``None`` where they have no place of its own for each wire."""
    plug = seat.plug
    places = {cavity: new for cavity in plug.wires if (new := way.plug_cavity(cavity)) is not None}
    if len(set(places.values())) < len(plug.wires):
        return None
    wires = {places[cavity]: replace(wire, cavity=places[cavity]) for cavity, wire in plug.wires.items()}
    reads = plug.reads and replace(plug.reads, pins=(places.get(plug.reads.pins[0], CASE), places.get(plug.reads.pins[1], CASE)))
    sockets = tuple(leg.plug._replace(connector=leg.last) for leg in way.legs)
    loops = tuple(loop for leg in way.legs for loop in loops_in(plug, leg))
    bags = [leg.kits[-1].terminal for leg in way.legs if leg.kits]
    now = replace(
        plug,
        sockets=sockets,
        wires=MappingProxyType(wires),
        reads=reads,
        plating=bags[-1].plating if bags and bags[-1] else None,
        loops=loops,
    )
    built = MappingProxyType({places[cavity]: seat.built.get(cavity, cavity) for cavity in plug.wires})
    return replace(seat, plug=now, renewal=(*seat.renewal, *way.kits), built=built, as_built=seat.as_built or seat)


def find_seats(book: Book) -> tuple[Seat, ...]:
    """Every seat of the book, in the order in which applications name it.

    An application whose plug or part is not stated, or is not in the book, has no seat: nothing can be said of it.
    """
    found: dict[tuple[Hashable, ...], tuple[Family, Plug, Part, tuple[str, ...], frozenset[Truths], list[Application]]] = {}
    for family in book.families.values():
        for one in family.applications:
            plug = family.plugs.get(one.plug) if one.plug else None
            original = book.part(one.came_with) if one.came_with else None
            if plug is None or original is None:
                continue
            positions = one.lever or family.positions
            conditions = asked_of(book, original)
            meet = together(conditions, known_of(one)) if conditions else frozenset({()})
            key = (family.id, plug.name, original.key, positions, meet, frozenset(one.optional_cavities))
            entry = found.setdefault(key, (family, plug, original, positions, meet, []))
            entry[-1].append(one)
    places: Counter[Hashable] = Counter()
    seats = []
    for family, plug, original, positions, meet, applications in found.values():
        alike = (family.id, plug.name, original.key, positions)
        original = _whole(book, plug, original)
        way, own, circuits = _on_original(book, plug, original), on_lever(book, positions, family, original), circuits_on(book, family)
        seats.append(
            Seat(
                family,
                plug,
                original,
                positions,
                own.mount,
                tuple(applications),
                own.positions,
                circuits,
                way,
                on_lever=own,
                meet=meet,
                place=places[alike],
            )
        )
        places[alike] += 1
    return tuple(seats)


def circuits_on(book: Book, family: Family) -> Mapping[str, Circuit]:
    """The controlled list of circuits with the positions in which they may be joined by the names of a family's lever."""
    means = means_of(family)
    if not means:
        return book.circuits
    kept: dict[Means, Mapping[str, Circuit]] = book.kept.setdefault("circuits by meaning", {})
    if means not in kept:
        kept[means] = MappingProxyType({name: guard_on(one, means) for name, one in book.circuits.items()})
    return kept[means]


def with_design(book: Book, seat: Seat, design: Part) -> Seat:
    """The seat as it is where the part that its vehicles came with is of one design."""
    if design is seat.original:
        return seat
    before = seat.as_built or seat
    design = _whole(book, before.plug, design)
    way, own = _on_original(book, before.plug, design), on_lever(book, seat.positions, seat.family, design)
    as_built = None if seat.as_built is None else with_design(book, seat.as_built, design)
    return replace(
        seat, original=design, mount=own.mount, on_original=way, as_built=as_built, on_lever=own, original_positions=own.positions
    )


def without_optional(seat: Seat) -> Seat:
    """The seat as it is where no wire is in the cavities in which some of its vehicles lack one."""
    wires = {cavity: wire for cavity, wire in seat.plug.wires.items() if cavity not in seat.optional}
    reads = seat.plug.reads
    if reads and not set(reads.pins) <= {*wires, CASE}:
        reads = None
    applications = tuple(replace(one, optional_cavities=()) for one in seat.applications)
    as_built = None if seat.as_built is None else without_optional(seat.as_built)
    return replace(seat, plug=replace(seat.plug, wires=MappingProxyType(wires), reads=reads), applications=applications, as_built=as_built)
