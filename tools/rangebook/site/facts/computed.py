"""The book with what several pages need of it, each thing computed once."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterator, Mapping, Sequence
from copy import copy
from functools import cached_property
from types import MappingProxyType
from typing import Any, NamedTuple, TypeVar

from rangebook.book.book import Book
from rangebook.book.load import Loaded
from rangebook.book.model import Application, Connector, Family, Kit, Mate, Part, Plug, ids_of
from rangebook.book.numbers import normalise
from rangebook.desk.identify.table import Seen
from rangebook.fitting.fitter import COMPUTING, Fitter
from rangebook.fitting.seats import Seat
from rangebook.fitting.verdict import Verdict
from rangebook.lint.stock import Lying, stock_of
from rangebook.reading import garbage
from rangebook.schema.settings import Settings
from rangebook.site.facts.edition import Edition, edition_of
from rangebook.site.facts.history import History
from rangebook.site.facts.repository import Repository
from rangebook.site.shared.shard import WHOLE
from rangebook.words.book import application_words, gone_words
from rangebook.words.catalogue import say
from rangebook.words.lists import listed

_Made = TypeVar("_Made")
_Plugged = tuple[Plug, Sequence[Application]]
"""A plug and the vehicles that have it."""


class Stocked(NamedTuple):
    """Of one part or kit: the numbers that it goes by, as they are compared; how many lie on the book's own shelf, and where."""

    keys: str
    pieces: int
    places: str


class Computed:
    """A loaded book, its verdicts, and a few indexes that only pages need. Nothing in it changes once it is asked for."""

    def __init__(self, loaded: Loaded, fitter: Fitter | None = None) -> None:
        self.loaded = loaded
        self.book: Book = loaded.book
        self.fitter = fitter or Fitter(loaded.book)
        self.drawn: dict[tuple[object, ...], Any] = {}
        """Drawings, and what else pages and data show alike, by what it is of."""
        self.site_url = ""
        """Where the site is published, from ``mkdocs.yml``; empty where that is not known. Set before any page is made."""
        self.settings = Settings()
        """What the book says of itself in its ``book.yml``. Set before any page is made."""
        self.history = History()
        """What changed when, as git has it. Set before any page is made."""
        self.repository = Repository()
        """Where the book's files can be edited, from ``mkdocs.yml``. Set before any page is made."""
        self.open_in: Collection[str] | None = None
        """The families in which an answer is not known, once somebody has looked at all; ``None``: nobody has."""
        self.shard = WHOLE
        """Which part of the site is built. Set before any page is made."""
        self.seen: Mapping[str, list[Seen]] | None = None
        """By the keys of parts what they may have been taken off, once somebody has looked at all; ``None``: nobody has."""
        self.codes: dict[str, Any] = {}
        """Codes to scan by numbers, as far as somebody has them already."""
        self._candidates: dict[tuple[object, ...], tuple[Verdict, ...]] = {}
        self._families: Collection[str] | None = None

    @cached_property
    def edition(self) -> Edition:
        """The edition of the whole book."""
        return edition_of(self.loaded)

    @cached_property
    def shelf(self) -> tuple[Lying, ...]:
        """The book's own stock list."""
        return stock_of(self.loaded.shelf).lying

    @cached_property
    def _lying(self) -> Mapping[str, list[Lying]]:
        found: dict[str, list[Lying]] = {}
        for one in self.shelf:
            key = normalise(one.number)
            part = self.book.by_other_number.get(key)
            found.setdefault(part.key if part else key, []).append(one)
        return found

    def stock(self, item: Part | Kit) -> Stocked:
        """What of a part or kit lies on the book's own shelf, and the numbers that a list of the reader's own may name it by."""
        lying = self._lying.get(item.key, ())
        keys = sorted(item.keys) if isinstance(item, Part) else [item.key]
        places = ", ".join(one.place for one in lying if one.place)
        return Stocked(" ".join(keys), sum(one.pieces for one in lying), places)

    @cached_property
    def gone(self) -> Mapping[str, str]:
        """Number -> its status in words, of the parts that are not to be had by it any more."""
        return MappingProxyType({part.number: words for part in self.book.parts if (words := gone_words(part.status))})

    @cached_property
    def seats_by_family(self) -> Mapping[str, tuple[Seat, ...]]:
        """Family id -> its own seats, in the order of its applications; no key where it has none."""
        found: dict[str, list[Seat]] = {}
        for seat in self.fitter.seats:
            found.setdefault(seat.family.id, []).append(seat)
        return MappingProxyType({family: tuple(seats) for family, seats in found.items()})

    @cached_property
    def seats_by_plug(self) -> Mapping[tuple[str, str], tuple[Seat, ...]]:
        """Family id and plug name -> the seats with that plug; no key where it has none."""
        found: dict[tuple[str, str], list[Seat]] = {}
        for seat in self.fitter.seats:
            found.setdefault((seat.family.id, seat.plug.name), []).append(seat)
        return MappingProxyType({plug: tuple(seats) for plug, seats in found.items()})

    @cached_property
    def _seat_of(self) -> Mapping[tuple[str, tuple[str | int, ...]], Seat]:
        return MappingProxyType({(seat.family.id, one.path): seat for seat in self.fitter.seats for one in seat.applications})

    def seat_of(self, family: Family, application: Application) -> Seat | None:
        """The seat of one vehicle; ``None`` where its plug or the part it came with is not stated."""
        return self._seat_of.get((family.id, application.path))

    def candidates(self, seat: Seat) -> tuple[Verdict, ...]:
        """What the book has to say for a seat, best verdict first."""
        found = self._candidates.get(seat.key)
        if found is None:
            found = self._candidates[seat.key] = tuple(self.fitter.candidates(seat))
        return found

    def of_piece(self, families: Collection[str]) -> Computed:
        """The same for who asks about nothing but what hangs together with some families; what it computes is gone with it, and what was
        computed for the one before is gone now."""
        garbage.let_go(COMPUTING)
        _ = self.seats_by_family, self.seats_by_plug, self.seat_places, self._seat_of, self._lying, self.gone, self.goes_on, self.kits_to
        piece = copy(self)
        vars(piece).pop("kit_use", None)
        vars(piece).update(fitter=self.fitter.apart(), drawn={}, _candidates={}, _families=families)
        return piece

    def once(self, key: tuple[object, ...], make: Callable[[], _Made]) -> _Made:
        """What several pages show of one thing, made for the first of them."""
        found: _Made | None = self.drawn.get(key)
        if found is None:
            found = self.drawn[key] = make()
        return found

    @property
    def open_verdicts(self) -> Iterator[tuple[Seat, Verdict]]:
        """Every answer of every seat of the part of the site that is built, but those of families in which all is known."""
        for seat in self.own_seats:
            if self.open_in is None or seat.family.id in self.open_in:
                for verdict in self.candidates(seat):
                    yield seat, verdict

    @cached_property
    def goes_on(self) -> Mapping[str, tuple[tuple[Connector, Mate], ...]]:
        """Connector id -> the others whose plug it is said to take, each with what is said; no key where there are none."""
        found: dict[str, list[tuple[Connector, Mate]]] = {}
        for one in self.book.connectors.values():
            for mate in one.mates:
                found.setdefault(mate.connector, []).append((one, mate))
        return MappingProxyType({name: tuple(those) for name, those in found.items()})

    @cached_property
    def kits_to(self) -> Mapping[str, tuple[Kit, ...]]:
        """Connector id -> the kits that supply it; no key where there are none."""
        found: dict[str, list[Kit]] = {}
        for kit in self.book.kits.values():
            found.setdefault(kit.new, []).append(kit)
        return MappingProxyType({name: tuple(those) for name, those in found.items()})

    @cached_property
    def own_families(self) -> tuple[Family, ...]:
        """The families of the part of the site that is built."""
        return tuple(family for family in self.book.families.values() if self.shard.has(family.id))

    @cached_property
    def own_seats(self) -> tuple[Seat, ...]:
        """Their seats, in the order of all."""
        own = {family.id for family in self.own_families}
        return tuple(seat for seat in self.fitter.seats if seat.family.id in own)

    @cached_property
    def seat_places(self) -> Mapping[tuple[object, ...], int]:
        """Key of a seat -> its place among all."""
        return MappingProxyType({seat.key: at for at, seat in enumerate(self.fitter.seats)})

    @cached_property
    def kit_use(self) -> Mapping[str, tuple[tuple[Seat, Verdict], ...]]:
        """Kit id -> the seats and the parts on them that it is needed for; no key where it is needed for none. Seats of the part of the
        site that is built."""
        found: dict[str, list[tuple[Seat, Verdict]]] = {}
        seats = self.fitter.seats
        if self._families is not None:
            seats = tuple(seat for family in self._families for seat in self.seats_by_family.get(family, ()))
        for seat in seats:
            if not self.shard.has(seat.family.id):
                continue
            for verdict in self.candidates(seat):
                for needed in verdict.needs:
                    if needed.kit:
                        found.setdefault(needed.kit, []).append((seat, verdict))
        return MappingProxyType({kit: tuple(used) for kit, used in found.items()})

    def circuit(self, name: str | None) -> str:
        """A circuit in plain words; its own name where the list does not have it."""
        if name is None:
            return say("page.no_circuit")
        known = self.loaded.schemas.circuits.get(name)
        return known.title if known else name

    def plug_words(self, plug: Plug) -> str:
        """How many wires a plug has, and the title of its connector: for where its vehicles stand beside it."""
        return say("page.plug_called", wires=len(plug.wires), connector=self.plug_title(plug), vehicle="")

    def seat_called(self, seat: Seat) -> str:
        """What a vehicle's plug is called in the bay, beside the other seats of its family."""
        others = [(one.plug, one.applications) for one in self.seats_by_family.get(seat.family.id, ()) if one.key != seat.key]
        return self._called((seat.plug, seat.applications), others)

    def plug_called(self, plug: Plug) -> str:
        """What a plug is called in the bay, beside the others of its family."""
        family = self.book.families[plug.family]
        on = {name: [one for one in family.applications if one.plug == name] for name in family.plugs}
        return self._called((plug, on[plug.name]), [(one, on[name]) for name, one in family.plugs.items() if name != plug.name])

    def _called(self, of: _Plugged, others: Sequence[_Plugged]) -> str:
        """How many wires it has; where others have as many and other connectors, also which; where they are alike in both, whose it is,
        and where one vehicle has both, which of its years or kinds. The name in the entry tells nobody who does not write entries."""
        plug, vehicles = of
        alike = [one for one in others if len(one[0].wires) == len(plug.wires)]
        title = self.plug_title(plug)
        same = [one for one in alike if self.plug_title(one[0]) == title]
        vehicle = ""
        if same and vehicles:
            both = any(one.vehicle == vehicles[0].vehicle for _, theirs in same for one in theirs)
            vehicle = application_words(vehicles[0]) if both else vehicles[0].vehicle
        return say("page.plug_called", wires=len(plug.wires), connector=title if len(same) < len(alike) else "", vehicle=vehicle)

    def plug_title(self, plug: Plug) -> str:
        """The title of a plug's connector; of several all theirs."""
        return listed(self.connector_title(name) for name in ids_of(plug.sockets))

    def connector_title(self, name: str) -> str:
        """The title of a connector; its id where it has no entry."""
        connector = self.book.connectors.get(name)
        return connector.title if connector else name

    def family_title(self, part: Part) -> str:
        """The title of a part's family."""
        return self.book.family_of(part).title
