"""Everything that can be seen of each part without a meter, as one table.

``None`` and an empty tuple mean that it is not stated. What a part can have been taken off is a *place*: a plug as it is now, with
the vehicles that have it. A part has the places of the seats that it came with and of those that it fits; where a kit was needed,
the plug is the one that the kit supplied, with the wires where the kit puts them. Gearboxes that a family names without a vehicle
are a place of which nothing else is known.

A pattern says for each cavity of a face, in the order of its rows, whether there is something in it: ``"1101"``.
"""

from __future__ import annotations

from collections.abc import Callable, Hashable, Iterable, Mapping
from dataclasses import dataclass, replace
from functools import cached_property
from typing import NamedTuple, TypeVar

from rangebook.book.book import Book
from rangebook.book.model import Application, Connector, Family, Part, Sockets, socket_and_cavity
from rangebook.fitting.fitter import Fitter
from rangebook.fitting.mating import loops_in
from rangebook.fitting.seats import Seat, mount_of
from rangebook.fitting.verdict import Verdict

_Item = TypeVar("_Item", bound=Hashable)


class Face(NamedTuple):
    """A connector's face, looking into the switch with the latch up; ``None`` in ``rows`` where there is no cavity.

    Connectors of one outline and the same rows are one face, ``id`` being the shortest of theirs, ``title`` all their titles.
    """

    id: str
    title: str
    outline: str
    rows: tuple[tuple[str | None, ...], ...]

    @property
    def cavities(self) -> tuple[str, ...]:
        """The labels row by row: what the characters of a pattern stand for."""
        return tuple(label for row in self.rows for label in row if label is not None)


class Mounting(NamedTuple):
    """What is seen at once of how a part bolts on."""

    bolts: int | None
    shaft: str | None
    across_mm: float | None


class Ride(NamedTuple):
    """A vehicle, with its first and last model year; ``last`` is ``None`` while it is still built, ``first`` where no years are
    stated. Vehicle and gearboxes are places in the table's lists."""

    vehicle: int | None
    first: int | None
    last: int | None
    gearboxes: tuple[int, ...]


class Place(NamedTuple):
    """What a part may have been taken off. ``must`` are the cavities that surely carry a wire, ``may`` those that some of its
    vehicles have one in too, or a jumper; ``fewest`` and ``most`` count the wires. ``seat`` is its name, ``None`` where only the
    gearbox is known."""

    face: int | None
    must: str | None
    may: str | None
    fewest: int | None
    most: int | None
    rides: tuple[Ride, ...]
    seat: str | None


class Row(NamedTuple):
    """One part: its family, face, mounting, marks and places by their places in the table's lists; and its status."""

    number: str
    family: int
    face: int | None
    pins: str | None
    mounting: int | None
    marks: tuple[int, ...]
    places: tuple[int, ...]
    status: str | None = None


@dataclass(frozen=True)
class Table:
    """The table. ``families`` are their ids."""

    families: tuple[str, ...]
    faces: tuple[Face, ...]
    mountings: tuple[Mounting, ...]
    marks: tuple[str, ...]
    gearboxes: tuple[str, ...]
    vehicles: tuple[str, ...]
    places: tuple[Place, ...]
    rows: tuple[Row, ...]

    @cached_property
    def face_at(self) -> Mapping[str, int]:
        """Id of a face -> its place in ``faces``."""
        return {face.id: at for at, face in enumerate(self.faces)}

    @cached_property
    def newest(self) -> int:
        """The last model year that the book names; 0 where it names none."""
        return max((year for place in self.places for ride in place.rides for year in (ride.first, ride.last) if year), default=0)


def seat_name(seat: Seat) -> str:
    """A name for a seat, where the caller has none of its own."""
    return f"{seat.family.id}/{seat.named_plug}/{seat.original.number}/{''.join(seat.positions)}"


class Seen(NamedTuple):
    """A seat as it is with a part on it: ``connector`` is the id of the only one that its plug has then, ``None`` of several or of one that
    the book has not; ``rides`` are the places of its vehicles among those of its family. The rest is as in a :class:`Place`."""

    connector: str | None
    must: str | None
    may: str | None
    fewest: int | None
    most: int | None
    seat: str
    family: str
    rides: tuple[int, ...]


def seen_of(fitter: Fitter, part: Part, name_of: Callable[[Seat], str] = seat_name) -> list[Seen]:
    """Every seat that a part may have been taken off. Nothing else in the table goes by verdicts."""
    taken = [(seat, fitter.verdict(seat, part) if how == "fits" else None) for seat, how in fitter.seats_taken_by(part)]
    taken += [(seat, fitter.verdict(seat, part)) for seat in fitter.seats_not_known_of(part)]
    return [_seen(fitter.book, name_of, seat, verdict) for seat, verdict in taken]


def make_table(
    fitter: Fitter,
    name_of: Callable[[Seat], str] = seat_name,
    seen: Mapping[str, Iterable[Seen]] | None = None,
    parts: Iterable[Part] | None = None,
) -> Table:
    """The table of a book, or of some of its ``parts``; ``name_of`` names its seats. ``seen`` has what :func:`seen_of` gives of each part,
    by its key."""
    book = fitter.book
    making = _Making(book)
    rows = tuple(
        making.row(part, seen_of(fitter, part, name_of) if seen is None else seen[part.key])
        for part in (book.parts if parts is None else parts)
    )
    return Table(
        tuple(book.families),
        tuple(making.faces.listed),
        tuple(making.mountings.listed),
        tuple(making.marks.listed),
        tuple(making.gearboxes.listed),
        tuple(making.vehicles.listed),
        tuple(making.places.listed),
        rows,
    )


class Listed(dict[_Item, int]):
    """Items, each once and in the order in which they came, with their places."""

    def __missing__(self, item: _Item) -> int:
        self[item] = place = len(self)
        return place

    @property
    def listed(self) -> Iterable[_Item]:
        """The items in their order."""
        return self.keys()


def _shared(part: Part) -> Part:
    """A part with what all designs of its number have in common: what they differ in tells none of them out."""
    if not part.revisions:
        return part
    first, *others = part.designs
    sockets, pins, mount = ((fact, getattr(first, fact)) for fact in ("sockets", "pins", "mount"))
    same = {fact: value for fact, value in (sockets, pins, mount) if all(getattr(one, fact) == value for one in others)}
    marks = tuple(one.when.marked for one in part.revisions if one.when is not None and one.when.marked is not None)
    return replace(part, sockets=same.get("sockets", ()), pins=same.get("pins"), mount=same.get("mount"), stamped=(*part.stamped, *marks))


class Lists:
    """What the rows of a table name by its place, each thing once, while the table is made."""

    def __init__(self) -> None:
        self.faces: Listed[Face] = Listed()
        self.mountings: Listed[Mounting] = Listed()
        self.marks: Listed[str] = Listed()
        self.gearboxes: Listed[str] = Listed()
        self.vehicles: Listed[str] = Listed()
        self.places: Listed[Place] = Listed()


class _Making(Lists):
    """A table while it is made."""

    def __init__(self, book: Book) -> None:
        super().__init__()
        self.book = book
        self.families = {family: at for at, family in enumerate(book.families)}
        self.face_of = self._faces()
        self._rides: dict[str, tuple[Ride, ...]] = {}

    def _faces(self) -> Mapping[str, Face]:
        """Id of a connector -> its face."""
        alike: dict[tuple[str, tuple[tuple[str | None, ...], ...]], list[Connector]] = {}
        for one in sorted(self.book.connectors.values(), key=lambda one: (len(one.id), one.id)):
            alike.setdefault((one.outline, one.rows), []).append(one)
        found = {}
        for (outline, rows), connectors in alike.items():
            face = Face(connectors[0].id, " or ".join(one.title for one in connectors), outline, rows)
            found.update({one.id: face for one in connectors})
        return found

    def row(self, whole: Part, seen: Iterable[Seen]) -> Row:
        part = _shared(whole)
        family, mount = self.book.family_of(part), mount_of(self.book, part)
        face = self._face(part.sockets)
        shaft = mount.shaft if mount else None
        shape, across = (shaft.shape, shaft.across_mm) if shaft else (None, None)
        mounting = Mounting(len(mount.bolts) or None, shape, across) if mount else None
        return Row(
            part.number,
            self.families[part.family],
            None if face is None else self.faces[face],
            None if face is None or part.pins is None else _pattern(face, part.pins),
            None if mounting is None else self.mountings[mounting],
            tuple(self.marks[mark] for mark in dict.fromkeys(part.stamped)),
            self._places(family, seen),
            part.status,
        )

    def _places(self, family: Family, seen: Iterable[Seen]) -> tuple[int, ...]:
        found = [self._place(one) for one in seen]
        told = {gearbox for place in found for ride in place.rides for gearbox in ride.gearboxes}
        others = tuple(at for gearbox in family.gearboxes if (at := self.gearboxes[gearbox]) not in told)
        if others or not found:
            found.append(Place(None, None, None, None, None, (Ride(None, None, None, others),), None))
        return tuple(dict.fromkeys(self.places[place] for place in found))

    def _face(self, sockets: Sockets) -> Face | None:
        """The face of the one connector. Of several nobody can tell which one is looked at: none of them excludes anything,
        and nothing goes by how many wires they have together."""
        return self.face_of.get(sockets[0].connector) if len(sockets) == 1 else None

    def _place(self, seen: Seen) -> Place:
        rides = self._rides.get(seen.seat)
        if rides is None:
            family = self.book.families[seen.family]
            rides = self._rides[seen.seat] = tuple(dict.fromkeys(self._ride(family.applications[at], family) for at in seen.rides))
        face = self.face_of.get(seen.connector or "")
        return Place(None if face is None else self.faces[face], seen.must, seen.may, seen.fewest, seen.most, rides, seen.seat)

    def _ride(self, application: Application, family: Family) -> Ride:
        gearboxes = [application.gearbox] if application.gearbox else family.gearboxes
        at = tuple(self.gearboxes[gearbox] for gearbox in gearboxes)
        return Ride(self.vehicles[application.vehicle], application.first_year, application.last_year, at)


def _seen(book: Book, name_of: Callable[[Seat], str], seat: Seat, verdict: Verdict | None) -> Seen:
    """A seat as it is with the part on it; ``verdict`` is ``None`` for the part that it came with."""
    sockets = seat.plug.sockets
    moves: Mapping[str, str] = verdict.moves if verdict else {}
    way = verdict.way if verdict and verdict.goes_on else None
    if way:
        sockets = tuple(leg.plug._replace(connector=leg.last) for leg in way.legs)
    place = {cavity: moves.get(cavity) or (way and way.plug_cavity(cavity)) or cavity for cavity in seat.plug.wires}
    sure = [place[cavity] for cavity in seat.plug.wires if cavity not in seat.optional]
    # A jumper may be a wire from one cavity to another, or a bridge in the shell that nobody sees.
    loops = [loop for leg in way.legs for loop in loops_in(seat.plug, leg)] if way else seat.plug.loops
    every = list(dict.fromkeys((*place.values(), *(end for loop in loops for end in loop))))
    connector = book.connectors.get(sockets[0].connector) if len(sockets) == 1 else None
    return Seen(
        None if connector is None else connector.id,
        None if connector is None else _pattern(connector, sure),
        None if connector is None else _pattern(connector, every),
        len(sure) if len(sockets) == 1 else None,
        len(every) if len(sockets) == 1 else None,
        name_of(seat),
        seat.family.id,
        tuple(int(one.path[1]) for one in seat.applications),
    )


def _pattern(face: Face | Connector, having: Iterable[str]) -> str:
    held = {socket_and_cavity(label)[1] for label in having}
    return "".join("1" if label in held else "0" for label in face.cavities)
