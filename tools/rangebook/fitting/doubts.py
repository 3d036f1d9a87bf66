"""Facts that cannot all be so, and the verdicts that therefore are not built on them.

Of a part, plug, lever, mount, connector or kit whose facts contradict each other nobody knows which are right. So what goes by them is
``unknown`` at best, whether an entry allows the linter's finding or not: both go by the same functions. Each thing is looked at once.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from functools import cached_property
from typing import NamedTuple

from rangebook.book.book import Book
from rangebook.book.laid_over import contradicted
from rangebook.book.model import NOT_CONNECTED, Circuit, Connector, Family, KeyPath, Kit, Mount, Part
from rangebook.electrics.meaning import means_of, strange_meanings
from rangebook.electrics.mistakable import alike, overlapping
from rangebook.electrics.range_output import CircuitRoles, roles_of
from rangebook.electrics.safety import danger_of, is_guarded
from rangebook.electrics.safety_paths import ends_of, wrong_ways
from rangebook.fitting.check_mating import original_goes_on
from rangebook.fitting.contradictions import (
    Slip,
    cavities_twice,
    contacts_to_themselves,
    contacts_without_pin,
    holes_too_small,
    lever_against,
    listed_twice,
    loops_to_nowhere,
    moves_from_nowhere,
    moves_to_nowhere,
    optional_without_wire,
    out_of_place,
    overlaps_apart,
    pins_outside,
    read_without_wire,
    seals_beyond,
    signal_facts_against,
    signals_twice,
    signals_without_pin,
    strange_in_contact,
    strange_in_lever,
    strange_in_signals,
    supplies_beyond,
    terminals_outside,
    unknown_mount,
    wires_outside,
)
from rangebook.fitting.cranking import asked_of, lacking_of, strange_cranking
from rangebook.fitting.jumpers import jumpers_in, jumpers_on
from rangebook.fitting.seats import Seat, mount_of
from rangebook.fitting.together import with_joined
from rangebook.reasons.codes import Contradiction, Danger, FactsContradict
from rangebook.reasons.reason import Of, Reason, Side, Subject


class Doubt(NamedTuple):
    """One contradiction: of what, and the pins, cavities, positions, circuits or ids that it is about. ``connector`` is the id of the one
    that it is in, if it is in one."""

    kind: Contradiction
    of: Of
    names: tuple[str, ...] = ()
    connector: str = ""


Doubts = tuple[Doubt, ...]

_C = Contradiction


def doubts_in(book: Book) -> DoubtsIn:
    """What is known of a book's contradictions; the same object each time."""
    found: DoubtsIn | None = book.kept.get(DoubtsIn)
    if found is None:
        found = book.kept[DoubtsIn] = DoubtsIn(book)
    return found


def reasons(book: Book, seat: Seat, part: Part) -> list[Reason]:
    """Why nothing is built on what is stated of a seat and a part. Kits have theirs by the way that leads over them."""
    known = doubts_in(book)
    own, others = known.of_part(part), known.of_part(seat.original)
    if part.key == seat.original.key:
        others = ()
    found = [_reason(Side.BOTH if one in others else Side.CANDIDATE, one) for one in own]
    found += [_reason(Side.ORIGINAL, one) for one in others if one not in own]
    return found + [_reason(Side.PLUG, one) for one in known.of_seat(seat)]


def kit_reasons(book: Book, kits: Iterable[Kit]) -> list[Reason]:
    """The same of the kits on one way."""
    known = doubts_in(book)
    return [
        Reason(FactsContradict(one.kind, one.names), Subject(Side.KIT, Of.ITSELF, (kit.id,))) for kit in kits for one in known.of_kit(kit)
    ]


def _reason(side: Side, one: Doubt) -> Reason:
    names = (one.connector,) if one.connector else one.names if one.of is not Of.MOUNT else ()
    return Reason(FactsContradict(one.kind, one.names), Subject(side, one.of, names))


class DoubtsIn:
    """Answers for one book, each computed once."""

    def __init__(self, book: Book) -> None:
        self._book = book
        self._of_part: dict[Part, Doubts] = {}
        self._of_seat: dict[Seat, Doubts] = {}
        self._of_kit: dict[str, Doubts] = {}
        self._of_lever: dict[str, Doubts] = {}
        self._of_connector: dict[str, Doubts] = {}
        self._of_mount: dict[Mount, Doubts] = {}

    def of_part(self, part: Part) -> Doubts:
        """Those of a part, its family's lever, its mount and its housing."""
        found = self._of_part.get(part)
        if found is None:
            found = self._of_part[part] = tuple(dict.fromkeys(self._in_part(part)))
        return found

    def of_seat(self, seat: Seat) -> Doubts:
        """Those of a seat's plug and lever, and of how its own part goes with them; not those of that part itself."""
        seat = seat.as_built or seat  # a plug that has been renewed since says nothing against what is stated
        found = self._of_seat.get(seat)
        if found is None:
            found = self._of_seat[seat] = tuple(dict.fromkeys(self._in_seat(seat)))
        return found

    def of_kit(self, kit: Kit) -> Doubts:
        """Those of a kit and of both its plugs."""
        found = self._of_kit.get(kit.id)
        if found is None:
            found = self._of_kit[kit.id] = tuple(dict.fromkeys(self._in_kit(kit)))
        return found

    def of_connector(self, name: str | None) -> Doubts:
        """Those of a connector by its id. One whose entry could not be read is not unknown."""
        if name is None:
            return ()
        found = self._of_connector.get(name)
        if found is None:
            found = self._of_connector[name] = tuple(self._in_connector(name))
        return found

    @cached_property
    def _roles(self) -> CircuitRoles:
        return roles_of(self._book.circuits)

    @cached_property
    def _guards(self) -> list[Circuit]:
        """The circuits that may be joined to others in some positions only."""
        return [one for one in self._book.circuits.values() if is_guarded(one)]

    def _in_part(self, part: Part) -> Iterator[Doubt]:
        book = self._book
        family = book.family_of(part)
        yield from self._in_lever(family)
        yield from _about(_C.LAYERS_CONTRADICT, Of.ITSELF, self._contradicted(family, part.path[:2]))
        if book.is_doubled(part):
            yield Doubt(_C.DUPLICATE_NUMBER, Of.ITSELF)
        for one in part.sockets:
            yield from self.of_connector(one.connector)
        yield from _about(_C.PIN_OUTSIDE_HOUSING, Of.PIN, pins_outside(part, book.connectors))
        yield from _about(_C.UNKNOWN_CIRCUIT, Of.PIN, self._strange_circuits(part.pins.items() if part.pins else ()))
        yield from _about(_C.UNKNOWN_MOUNT, Of.MOUNT, unknown_mount(family, part))
        mount = mount_of(book, part)
        if mount is not None:
            yield from self._in_mount(mount)
            yield from _about(_C.LAYERS_CONTRADICT, Of.MOUNT, self._contradicted(family, mount.path))
        if part.contacts or part.signals:
            yield from self._inside(part, family)
        for other in with_joined(book, part)[1:] if part.joined else ():
            yield from self.of_part(other)

    def _inside(self, part: Part, family: Family) -> Iterator[Doubt]:
        """What its contacts and powered outputs contradict."""
        positions, means = family.positions, means_of(family)
        known = frozenset(positions)
        contacts = part.contacts or ()
        yield from _about(_C.CONTACT_WITHOUT_PIN, Of.PIN, contacts_without_pin(part))
        yield from _about(_C.CONTACT_TO_ITSELF, Of.PIN, contacts_to_themselves(part))
        yield from _about(_C.SIGNAL_WITHOUT_PIN, Of.PIN, signals_without_pin(part))
        yield from _about(_C.SIGNAL_TWICE, Of.PIN, signals_twice(part))
        yield from _about(_C.SIGNAL_FACTS, Of.PIN, signal_facts_against(part))
        strange = [slip for one in contacts for slip in strange_in_contact(one, known)]
        yield from _about(_C.UNKNOWN_POSITION, Of.POSITION, [*strange, *strange_in_signals(part, known)])
        yield from _about(
            _C.OVERLAP_APART, Of.POSITION, (slip for one in contacts if one.overlaps for slip in overlaps_apart(one, positions))
        )
        yield from _about(_C.POSITION_TWICE, Of.POSITION, (slip for one in contacts for slip in listed_twice(one.listed or (), ())))
        for guard in self._guards:
            kind = _C.BACKUP_LAMP if danger_of(guard) is Danger.BACKUP else _C.START_PATH
            asked = asked_of(family, part, guard)
            ends = ends_of(part, asked.guard, positions, asked.needed)
            if ends is not None:
                lacking = lacking_of(ends, jumpers_on(part, jumpers_in(self._book)))
                wrong = [one.position for one in wrong_ways(ends)] + list(lacking.positions if lacking else ())
                yield from _about(kind, Of.POSITION, [Slip((), (position,)) for position in wrong])
        for kind, pairs in ((_C.POSITIONS_ALIKE, alike), (_C.WINDOWS_OVERLAP, overlapping)):
            found = pairs(part, positions, self._roles, means)
            yield from _about(kind, Of.POSITION, (Slip((), (one.earlier, one.position)) for one in found))

    def _in_lever(self, family: Family) -> Doubts:
        found = self._of_lever.get(family.id)
        if found is None:
            positions = family.positions
            wrong = [Slip((), (one.position,)) for one in out_of_place(tuple(dict.fromkeys(positions)), means_of(family))]
            found = self._of_lever[family.id] = (
                *_about(_C.LEVER_ORDER, Of.POSITION, wrong),
                *_about(_C.POSITION_TWICE, Of.POSITION, listed_twice(positions, ("positions",))),
                *_about(_C.POSITION_MEANING, Of.POSITION, (Slip((), (name,)) for name, _ in strange_meanings(family))),
                *_about(_C.UNKNOWN_POSITION, Of.POSITION, (Slip((), (name,)) for name in family.means if name not in positions)),
                *_about(_C.LAYERS_CONTRADICT, Of.POSITION, self._contradicted(family, ("positions",))),
                *_about(_C.LAYERS_CONTRADICT, Of.POSITION, self._contradicted(family, ("means",))),
            )
        return found

    def _in_mount(self, mount: Mount) -> Doubts:
        found = self._of_mount.get(mount)
        if found is None:
            found = self._of_mount[mount] = tuple(_about(_C.HOLE_TOO_SMALL, Of.MOUNT, holes_too_small(mount)))
        return found

    def _in_connector(self, name: str) -> Iterator[Doubt]:
        connector = self._book.connectors.get(name)
        if connector is not None:
            layers = _about(_C.LAYERS_CONTRADICT, Of.CONNECTOR, self._contradicted(connector, ()))
            found = _about(_C.CAVITY_TWICE, Of.CONNECTOR, cavities_twice(connector))
            outside = _about(_C.TERMINAL_OUTSIDE, Of.CONNECTOR, terminals_outside(connector, connector))
            yield from (one._replace(connector=name) for one in (*layers, *found, *outside))
            if name in self._claimed_ids:
                yield Doubt(_C.ID_AND_FILE, Of.CONNECTOR, (name,), name)
        elif name not in self._book.lost_ids:
            yield Doubt(_C.UNKNOWN_CONNECTOR, Of.CONNECTOR, (name,), name)

    @cached_property
    def _claimed_ids(self) -> frozenset[str]:
        """The ids of connectors that a second entry, with nothing against it, claims for itself."""
        heads = [entry.head for entry in self._book.lost if entry.head is not None and not entry.problems]
        return frozenset(head["id"] for head in heads if head["kind"] == "connector")

    def _in_seat(self, seat: Seat) -> Iterator[Doubt]:
        book, plug, family = self._book, seat.plug, seat.family
        said = [plug.path, *(using.path for using in seat.applications)]
        yield from _about(_C.LAYERS_CONTRADICT, Of.WIRE, [slip for path in said for slip in self._contradicted(family, path)])
        for one in plug.sockets:
            yield from self.of_connector(one.connector)
        wires = [*wires_outside(plug, book.connectors), *read_without_wire(plug)]
        wires += [slip for using in seat.applications for slip in optional_without_wire(using, plug)]
        yield from _about(_C.WIRE_OUTSIDE_PLUG, Of.WIRE, wires)
        circuits = [(cavity, circuit) for cavity, wire in plug.wires.items() for circuit in wire.circuits]
        yield from _about(_C.UNKNOWN_CIRCUIT, Of.WIRE, self._strange_circuits(circuits))
        yield from _about(_C.WIRE_CIRCUIT_DISAGREES, Of.WIRE, self._disagreeing(seat))
        yield from _about(_C.SUPPLY_BEYOND, Of.WIRE, supplies_beyond(plug, seat.original, seat.meets))
        if family is not book.family_of(seat.original):
            yield from self._in_lever(family)
        for using in seat.applications:
            yield from _about(_C.UNKNOWN_POSITION, Of.POSITION, strange_in_lever(using, family.positions))
            yield from _about(_C.LEVER_ORDER, Of.POSITION, lever_against(using, family.positions))
            yield from _about(_C.POSITION_TWICE, Of.POSITION, listed_twice(using.lever or (), ()))
        if seat.cranks is not None:
            strange = [Slip((), (one,)) for one in seat.cranks.positions or () if one not in family.positions]
            yield from _about(_C.UNKNOWN_POSITION, Of.POSITION, strange)
            yield from _about(_C.CRANKING, Of.POSITION, (Slip((), (one,)) for one in strange_cranking(seat.cranks, means_of(family))))
        if original_goes_on(book, seat) is False:
            yield Doubt(_C.ORIGINAL_MISFIT, Of.ITSELF, (plug.name,))

    def _disagreeing(self, seat: Seat) -> Iterator[Slip]:
        """Wires that are said to be a circuit on which safety hangs, and whose pin is said to be another, or the other way about."""
        known = self._book.circuits
        pins = seat.original.pins or {}
        for cavity, wire in seat.plug.wires.items():
            pin = pins.get(seat.meets[cavity] or "")
            named = {name for name in (*wire.circuits, pin) if name and name != NOT_CONNECTED}
            # Of several wires on one pin, which has one name, one agrees.
            if pin in named and pin not in wire.circuits and len(named) > 1 and any(name in known and known[name].safety for name in named):
                yield Slip((), (cavity,))

    def _contradicted(self, owner: Family | Connector | Kit, path: KeyPath) -> Iterator[Slip]:
        """What layers say different things of, below a path of an entry: by the last name on the way to it."""
        if owner.entry.clashes:
            for found in contradicted(owner, self._book.circuits):
                if found[: len(path)] == path:
                    yield Slip(found, (".".join(str(step) for step in found[len(path) :]) or str(found[-1]),))

    def _strange_circuits(self, named: Iterable[tuple[str, str]]) -> Iterator[Slip]:
        """Pins or cavities, each with its circuit, of which that is not on the list."""
        known = self._book.circuits
        yield from (Slip((), (label,)) for label, circuit in named if circuit not in known)

    def _in_kit(self, kit: Kit) -> Iterator[Doubt]:
        known = self._book.connectors
        yield from _about(_C.LAYERS_CONTRADICT, Of.ITSELF, self._contradicted(kit, ()))
        if kit.key in self._book.doubled:
            yield Doubt(_C.DUPLICATE_NUMBER, Of.ITSELF)
        moves = [*moves_from_nowhere(kit, known), *moves_to_nowhere(kit, known), *loops_to_nowhere(kit, known)]
        yield from _about(_C.KIT_MOVES, Of.WIRE, [Slip((), slip.names[:1]) for slip in moves])
        yield from _about(_C.KIT_SEALS, Of.ITSELF, seals_beyond(kit, known))
        yield from _about(_C.TERMINAL_OUTSIDE, Of.ITSELF, terminals_outside(kit, known.get(kit.new)))
        for name in (*kit.olds, kit.new):
            yield from self.of_connector(name)


def _about(kind: Contradiction, of: Of, slips: Iterable[Slip]) -> Doubts:
    """One doubt for all slips of a kind; none without."""
    found = list(slips)  # nearly always there are none
    names = tuple(dict.fromkeys(name for slip in found for name in slip.names)) if found else ()
    return (Doubt(kind, of, names),) if names else ()
