"""What of two states of a book can have other verdicts at all: the parts and seats whose facts are not the same in both."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property

from rangebook.book.book import Book
from rangebook.book.model import Part, ids_of
from rangebook.book.numbers import normalise
from rangebook.fitting.check_needs import asked_on_the_way
from rangebook.fitting.conditions import chains_in
from rangebook.fitting.facts import part_facts, seat_facts
from rangebook.fitting.fitter import Fitter, known_connectors
from rangebook.fitting.mating import reachable
from rangebook.fitting.seats import Seat, mount_of
from rangebook.mounting.fit import fit_mounts
from rangebook.mounting.index import Geometry, geometry_of
from rangebook.revisions.two_books import ChangedWays, differing

SeatKey = tuple[str, str, str, tuple[str, ...]]


@dataclass(frozen=True)
class Touched:
    """``parts`` by normalised number and ``seats`` by key whose verdicts may differ: facts changed, came or went."""

    old: Fitter
    new: Fitter

    @cached_property
    def ways(self) -> ChangedWays:
        """Connectors and kits that are not the same in both."""
        return ChangedWays(self.old.book, self.new.book)

    @cached_property
    def families(self) -> frozenset[str]:
        """Families that are not the same in both."""
        return differing(self.old.book.families, self.new.book.families)

    @cached_property
    def parts(self) -> Mapping[str, None]:
        """An ordered set."""
        old, new = self.old.book, self.new.book
        return {key: None for key in {**new.by_number, **old.by_number} if not self._is_same_part(old, new, key)}

    def _is_same_part(self, old: Book, new: Book, key: str) -> bool:
        one, other = old.by_number.get(key), new.by_number.get(key)
        if one is None or other is None or any(not self.ways.connectors.isdisjoint(ids_of(each.sockets)) for each in one.designs):
            return False
        lonely = not (one.needs or one.goes_with or one.sold_as)  # else what it goes with may be another now
        if one is other and lonely and one.family not in self.families and old.is_doubled(one) == new.is_doubled(other):
            return True
        if (one.number, one.family, one.mount) != (other.number, other.family, other.mount):
            return False
        return part_facts(old, one) == part_facts(new, other)

    @cached_property
    def seats(self) -> Mapping[SeatKey, None]:
        """An ordered set."""
        old, new = _by_key(self.old), _by_key(self.new)
        return {key: None for key in {**new, **old} if not self._is_same_seat(old.get(key), new.get(key))}

    def _is_same_seat(self, old: Seat | None, new: Seat | None) -> bool:
        if old is None or new is None or new.original.key in self.parts or self.hidden_ways:
            return False
        if new.family.id in self.families and seat_facts(self.old.book, old) != seat_facts(self.new.book, new):
            return False
        asked = asked_on_the_way(self.new.book, new.original)
        if asked_on_the_way(self.old.book, old.original) != asked:
            return False
        if any(one.kind == "part" and normalise(one.what) in self.parts for also in asked.values() for one in also):
            return False  # what the maker asks for does some of the work, and is another now
        if chains_in(self.old.book).from_part(old.original) != chains_in(self.new.book).from_part(new.original):
            return False
        return not any(map(self.ways.are_met_by, ids_of(new.plug.sockets)))

    @cached_property
    def hidden_ways(self) -> bool:
        """Whether it is not the same in both what may be a way of a plug and could not be read; then any answer may differ."""
        return self.old.book.hidden_ways != self.new.book.hidden_ways


def _by_key(fitter: Fitter) -> dict[SeatKey, Seat]:
    return {seat.key: seat for seat in fitter.seats}


def trials(fitter: Fitter, parts: Iterable[Part], left_out: Mapping[SeatKey, None]) -> Iterator[tuple[Seat, Part]]:
    """Each seat of one book, but those ``left_out``, with each of the given parts that is listed as a candidate there, or may be.

    Those are the seats of the part's own family, those that a maker's chain leads from, and all that neither connector nor
    mount surely refuse it for.
    """
    listed = list(dict.fromkeys(parts))
    if not listed:
        return
    book = fitter.book
    earlier = {part.key: _earlier(book, part) for part in listed}
    by_connector: dict[str | None, list[Part]] = {}
    for part in listed:
        for connector in dict.fromkeys(name for one in part.designs for name in known_connectors(book, one)):
            by_connector.setdefault(connector, []).append(part)
    takes: dict[tuple[Geometry, Geometry], bool] = {}
    reach: dict[str, tuple[Part, ...]] = {}
    for seat in fitter.seats:
        if seat.key in left_out:
            continue
        plug = seat.plug.sockets[0].connector  # where there are several it has to go on as well as all others
        if plug not in reach:
            reach[plug] = tuple(_on_plug(book, plug, listed, by_connector))
        near = [part for part in listed if part.family in (seat.family.id, seat.original.family) or seat.original.key in earlier[part.key]]
        may = [part for part in reach[plug] if _may_bolt_on(book, seat, part, takes)]
        for part in dict.fromkeys((*near, *may)):
            yield seat, part


def _on_plug(book: Book, plug: str, parts: list[Part], by_connector: Mapping[str | None, list[Part]]) -> Iterator[Part]:
    """The parts that a plug may go on, as it is or over kits. One whose connector is not known may take any plug."""
    if plug not in book.connectors:
        yield from parts
        return
    for connector in (*reachable(book, plug), None):
        yield from by_connector.get(connector, ())


def _may_bolt_on(book: Book, seat: Seat, part: Part, known: dict[tuple[Geometry, Geometry], bool]) -> bool:
    of_seats, of_parts = ({geometry_of(mount_of(book, one)) for one in each.designs} for each in (seat.original, part))
    return any(_takes(of_seat, of_part, known) for of_seat in of_seats for of_part in of_parts)


def _takes(of_seat: Geometry | None, of_part: Geometry | None, known: dict[tuple[Geometry, Geometry], bool]) -> bool:
    if of_seat is None or of_part is None:
        return True
    found = known.get((of_seat, of_part))
    if found is None:
        found = known[of_seat, of_part] = fit_mounts(of_seat.as_mount(), of_part.as_mount()).fits is not False
    return found


def _earlier(book: Book, part: Part) -> set[str]:
    """The numbers of all parts that a maker's chain leads from to this one."""
    found: set[str] = set()
    todo = [part.key]
    while todo:
        for one in book.predecessors.get(todo.pop(), ()):
            if one.key not in found:
                found.add(one.key)
                todo.append(one.key)
    return found
