"""All verdicts of a book, each computed once."""

from __future__ import annotations

from collections.abc import Hashable, Iterable, Iterator, Mapping, Sequence
from copy import copy
from dataclasses import replace
from functools import cached_property
from typing import TypeVar

from rangebook.book.book import Book
from rangebook.book.model import Part, ids_of
from rangebook.fitting.cases import routes_to
from rangebook.fitting.check_mating import check_mating, ways_onto
from rangebook.fitting.check_needs import asked_on_the_way, together
from rangebook.fitting.facts import part_facts, seat_facts
from rangebook.fitting.judge import judge
from rangebook.fitting.mating import PLUG_IN, Way, reachable
from rangebook.fitting.seats import Seat, find_seats, mount_of, renewed
from rangebook.fitting.standing import is_look_alike, rank
from rangebook.fitting.supersession import chain_ends
from rangebook.fitting.verdict import Verdict, VerdictKind, settle
from rangebook.mounting.fit import fit_mounts
from rangebook.mounting.index import Geometry, MountIndex, geometry_of

_Key = TypeVar("_Key")
_Item = TypeVar("_Item")
_Look = tuple[str | None, Geometry | None]
"""A connector and the geometry of a mount, each ``None`` where it is not known."""
COMPUTING = ("rangebook.electrics.", "rangebook.fitting.", "rangebook.mounting.")
"""The rooms that compute. What functions there remember are parts, which hold all that is known of their families: who looks at a book
piece by piece lets go of it (:func:`rangebook.reading.garbage.let_go`)."""
FEW_MOUNTS = 64
"""With more mounts than this on one connector, those that may fit are looked up by their shaft and holes instead."""


class Fitter:
    """Answers what fits where in one book. It holds nothing but the book and what was computed from it.

    Seats and parts are joined by connector and mount, so only look-alikes are ever compared; and a verdict is computed once
    for all seats and parts of the same facts.
    """

    def __init__(self, book: Book, remembers: bool = True) -> None:
        """Without ``remembers`` a verdict is computed each time it is asked for: for who asks for each once, in a large book."""
        self.book = book
        self._remembers = remembers
        self._verdicts: dict[Hashable, Verdict] = {}
        self._numbers: dict[Hashable, int] = {}
        self._part_facts: dict[Part, int] = {}
        self._facts_with_others: dict[Part, int] = {}
        self._seat_facts: dict[int, int] = {}
        self._takers: dict[Geometry, list[Geometry]] = {}
        self._fits: dict[tuple[Geometry, Geometry], bool] = {}
        self._renewed: dict[Hashable, Seat | None] = {}
        self._taken: dict[Part, tuple[tuple[Seat, str], ...]] = {}

    def apart(self) -> Fitter:
        """The same for who asks about one piece of the book: the verdicts that it computes are gone with it."""
        _ = self._seats_by_reach, self._seats_by_family, self._part_mounts, self._geometries_by_connector, self._seat_geometries_by_reach
        _ = self.seats_of
        found = copy(self)
        vars(found).update(
            _verdicts={}, _numbers={}, _part_facts={}, _facts_with_others={}, _seat_facts={}, _takers={}, _fits={}, _renewed={}, _taken={}
        )
        return found

    @cached_property
    def seats(self) -> tuple[Seat, ...]:
        """Every seat of the book."""
        return find_seats(self.book)

    @cached_property
    def seats_of(self) -> Mapping[str, tuple[Seat, ...]]:
        """Normalised number -> the seats that the part came with."""
        return _grouped((seat.original.key, seat) for seat in self.seats)

    @cached_property
    def _seats_by_reach(self) -> Mapping[_Look, tuple[Seat, ...]]:
        """Connector of a switch and geometry of a seat -> the seats of that geometry whose (first) plug can be brought onto it."""
        return _grouped(
            ((switch, geometry), seat)
            for seat in self.seats
            for geometry in self._geometries_of(seat.original)
            for switch in reachable(self.book, _first(seat))
        )

    def _geometries_of(self, part: Part) -> tuple[Geometry | None, ...]:
        """Of every design of a part, each once."""
        return tuple(dict.fromkeys(geometry_of(mount_of(self.book, one)) for one in part.designs))

    @cached_property
    def _seats_by_family(self) -> Mapping[str, tuple[Seat, ...]]:
        return _grouped((seat.original.family, seat) for seat in self.seats)

    @cached_property
    def _seat_geometries_by_reach(self) -> Mapping[str | None, tuple[Geometry | None, ...]]:
        return _grouped(self._seats_by_reach)

    @cached_property
    def _part_mounts(self) -> MountIndex:
        designs = (one for part in self.book.parts for one in part.designs)
        return MountIndex(found for one in designs if (found := geometry_of(mount_of(self.book, one))))

    @cached_property
    def _parts_by_look(self) -> Mapping[_Look, tuple[Part, ...]]:
        """Each connector (``None`` where it is not known or not in the book) and geometry -> parts."""
        return _grouped(
            pair
            for part in self.book.parts
            for pair in dict.fromkeys(
                ((connector, geometry_of(mount_of(self.book, one))), part)
                for one in part.designs
                for connector in known_connectors(self.book, one)
            )
        )

    @cached_property
    def _geometries_by_connector(self) -> Mapping[str | None, tuple[Geometry | None, ...]]:
        return _grouped(self._parts_by_look)

    def verdict(self, seat: Seat, part: Part) -> Verdict:
        """The verdict of one part on one seat."""
        if not self._remembers:
            return judge(self.book, seat, part)
        original = seat.original
        itself = part.key == original.key
        mounts = [{one.mount for one in each.designs} - {None} for each in (part, original)] if part.family == original.family else []
        same_name = frozenset(set.intersection(*mounts)) if mounts else frozenset()
        key = (
            self._seat_number(seat),
            self._part_number(part),
            itself,
            same_name,
            routes_to(self.book, seat, part),
            *self._asked(original, part),
        )
        found = self._verdicts.get(key)
        if found is None:
            found = self._verdicts[key] = judge(self.book, seat, part)
        return found if found.part is part else replace(found, part=part)

    def _part_number(self, part: Part) -> int:
        # Facts of other parts are among those of what goes with them, and may be others in another state of the book.
        known = self._facts_with_others if part.goes_with or part.needs or part.sold_as else self._part_facts
        number = known.get(part)
        if number is None:
            number = known[part] = self._numbers.setdefault(part_facts(self.book, part), len(self._numbers))
        return number

    def _asked(self, original: Part, part: Part) -> tuple[Hashable, ...]:
        """What the makers' chain asks for with a part, and the facts of the parts among it: they do some of the work."""
        asked = asked_on_the_way(self.book, original).get(part.key, ())
        others = (self.book.part(one.what) for one in asked if one.kind == "part")
        return asked, tuple(None if one is None else (one.key, one.status, self._part_number(one)) for one in others)

    def _seat_number(self, seat: Seat) -> int:
        number = self._seat_facts.get(id(seat))
        if number is None:
            facts = (seat_facts(self.book, seat), self._part_number(seat.original))
            number = self._seat_facts[id(seat)] = self._numbers.setdefault(facts, len(self._numbers))
        return number

    def candidates(self, seat: Seat) -> list[Verdict]:
        """What the book has to say for a seat, in the order of :func:`rangebook.fitting.standing.rank`.

        Every part that is not a plain ``no``; even as ``no`` those that :meth:`tells` of.
        """
        near = dict.fromkeys((*seat.family.parts, *self.book.family_of(seat.original).parts, *self.successors(seat.original)))
        pool = dict.fromkeys((*near, *self._look_alikes(seat)))
        judged = [self.verdict(seat, part) for part in pool]
        kept = [one for one in judged if one.kind is not VerdictKind.NO or one.part in near or is_look_alike(one)]
        ends = self._chain_ends(seat.original)
        return sorted(kept, key=lambda one: (rank(one, seat, ends), one.part.number))

    def tells(self, seat: Seat, verdict: Verdict) -> bool:
        """Whether a verdict is among the candidates of a seat: all but a plain ``no``, and that too for parts of the family of the plug or
        of the original, for those that a maker says take the original's place, and for whatever bolts on with its plug."""
        part = verdict.part
        return (
            verdict.kind is not VerdictKind.NO
            or is_look_alike(verdict)
            or part.family in (seat.family.id, seat.original.family)
            or part in self.successors(seat.original)
        )

    def _chain_ends(self, part: Part) -> frozenset[str]:
        """The keys of the parts at which the makers' chain from a part ends: its own where nothing takes its place."""
        if not part.superseded_by:
            return frozenset({part.key})
        return frozenset(end.part.key for end in chain_ends(self.book, part) if end.part and not end.loops)

    def _look_alikes(self, seat: Seat) -> Iterator[Part]:
        """The parts that neither mount nor connector surely refuse."""
        # Where there are several plugs the first alone tells enough: each needs a connector.
        if _first(seat) in self.book.connectors:
            # A part whose connector is not known may take any plug.
            connectors: list[str | None] = [*reachable(self.book, _first(seat)), None]
        else:
            connectors = [*self.book.connectors, None]
        for geometry in self._geometries_of(seat.original):
            for connector in connectors:
                mounts = self._geometries_by_connector.get(connector, ())
                if geometry is not None:
                    if len(mounts) > FEW_MOUNTS:
                        mounts = (*self._takers_of(geometry), None)
                    else:
                        mounts = tuple(one for one in mounts if one is None or self._takes(geometry, one))
                for mount in mounts:
                    yield from self._parts_by_look.get((connector, mount), ())

    def _takers_of(self, geometry: Geometry) -> list[Geometry]:
        found = self._takers.get(geometry)
        if found is None:
            found = self._takers[geometry] = self._part_mounts.takers(geometry)
        return found

    def _takes(self, seat: Geometry, candidate: Geometry) -> bool:
        found = self._fits.get((seat, candidate))
        if found is None:
            found = self._fits[seat, candidate] = fit_mounts(seat.as_mount(), candidate.as_mount()).fits is not False
        return found

    def successors(self, part: Part) -> list[Part]:
        """Everything that the makers say takes a part's place, however far down the chain."""
        found: dict[str, Part] = {}
        todo = [part]
        while todo:
            for link in todo.pop().superseded_by:
                successor = self.book.part(link.number)
                if successor and successor.key not in found:
                    found[successor.key] = successor
                    todo.append(successor)
        return list(found.values())

    def seats_taken_by(self, part: Part) -> Sequence[tuple[Seat, str]]:
        """The seats that a part may have been taken off: ``came_with``, then those on which it ``fits``; each with the plug that is there
        then, and where that may be the one or the other, once for each."""
        if not self._remembers:
            return self._seats_taken_by(part)
        found = self._taken.get(part)
        if found is None:
            found = self._taken[part] = self._seats_taken_by(part)
        return found

    def _seats_taken_by(self, part: Part) -> tuple[tuple[Seat, str], ...]:
        own = self.seats_of.get(part.key, ())
        taken = [(seat, "came_with") for seat in own] + [(seat, "fits") for seat in self._near(part) if self.verdict(seat, part).fits]
        return tuple((now, how) for seat, how in taken for now in self.plugs_under(seat, part))

    def seats_gone_on(self, part: Part) -> list[Seat]:
        """The seats on which somebody will fit a part that did not come there: as it is, with what can be ordered, or wires moved."""
        return [seat for seat in self._near(part) if self.verdict(seat, part).goes_on]

    def seats_not_known_of(self, part: Part) -> list[Seat]:
        """The seats on which it is not known whether a part fits: it may have been taken off these too."""
        # Of one without a stated plug or mount nothing says which seats are near.
        known = all(
            None not in known_connectors(self.book, one) and geometry_of(mount_of(self.book, one)) is not None for one in part.designs
        )
        seats = self._near(part) if known else [seat for seat in self.seats if seat.original.key != part.key]
        return [seat for seat in seats if self.verdict(seat, part).kind is VerdictKind.UNKNOWN]

    def _near(self, part: Part) -> list[Seat]:
        """The seats of its own family and those whose mount and plug have room for it, but for those that it came with."""
        near = dict.fromkeys((*self._seats_by_family.get(part.family, ()), *self._seats_with_room_for(part)))
        return [seat for seat in near if seat.original.key != part.key]

    def plugs_under(self, seat: Seat, part: Part) -> Iterator[Seat]:
        """The seat with each plug that may be there while the part is on it: the one that the vehicle was built with, or one that it has
        been renewed by since, because the part does not go on without."""
        if not any(one.connector in self.book.kits_from for one in seat.plug.sockets):
            yield seat
            return
        needs = self.verdict(seat, part).needs
        if all(need.kit and self.book.kits[need.kit].joins == PLUG_IN for need in needs):  # an adapter lead comes off again
            yield seat
        whole = together(self.book, seat, part)
        for way in ways_onto(self.book, seat, whole):
            if way.kits and settle(VerdictKind.STRAIGHT, check_mating(self.book, seat, whole, way)[1]) is VerdictKind.STRAIGHT:
                now = self._renewed_seat(seat, way)
                if now is not None and (there := self.verdict(now, part)).fits and not there.needs:
                    yield now

    def _renewed_seat(self, seat: Seat, way: Way) -> Seat | None:
        key = (id(seat), tuple(tuple(kit.id for kit in leg.kits) for leg in way.legs))
        if key not in self._renewed:
            self._renewed[key] = renewed(seat, way)
        return self._renewed[key]

    def _seats_with_room_for(self, part: Part) -> Iterator[Seat]:
        for one in part.designs:
            geometry = geometry_of(mount_of(self.book, one))
            if geometry is None:
                continue
            for connector in ids_of(one.sockets):
                for seat_geometry in self._seat_geometries_by_reach.get(connector, ()):
                    if seat_geometry is not None and self._takes(seat_geometry, geometry):
                        yield from self._seats_by_reach[connector, seat_geometry]


def known_connectors(book: Book, part: Part) -> dict[str | None, None]:
    """The connectors of a part, an ordered set; ``None`` among them for what is not stated or not in the book."""
    return dict.fromkeys(one.connector if one.connector in book.connectors else None for one in part.sockets) or {None: None}


def _first(seat: Seat) -> str:
    return seat.plug.sockets[0].connector


def _grouped(pairs: Iterable[tuple[_Key, _Item]]) -> Mapping[_Key, tuple[_Item, ...]]:
    found: dict[_Key, list[_Item]] = {}
    for key, item in pairs:
        found.setdefault(key, []).append(item)
    return {key: tuple(items) for key, items in found.items()}
