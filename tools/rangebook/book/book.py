"""The whole book and the ways to look something up in it."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field, replace
from enum import Flag, auto
from functools import cached_property
from itertools import combinations
from types import MappingProxyType
from typing import Any, NamedTuple, TypeVar

from rangebook.book import build
from rangebook.book.model import Connector, Family, Kit, Part, Plug, ids_of
from rangebook.book.numbers import look, normalise
from rangebook.reading.entry import Entry
from rangebook.reading.photos import photo_path
from rangebook.schema.store import Circuit

_Item = TypeVar("_Item")
_Key = TypeVar("_Key")
_NUMBER_LINE = re.compile(r"\bnumber:\s*[\"']?([^\"',}\n]+)")


class Asked(Flag):
    """Questions that are about the whole of a book, wherever they are asked."""

    LOST = auto()
    """What could not be taken in."""
    NAMES = auto()
    """Every number, id and file, to find the one that was meant."""
    LACKS = auto()
    """Whether a connector is named or a kit asked for that the book does not have."""
    ERRING = auto()
    """Which rules find an error anywhere."""


NOTHING = Asked(0)


@dataclass(eq=False, slots=True)
class Questions:
    """Those that were asked of a book."""

    asked: Asked = NOTHING


@dataclass(frozen=True, eq=False)
class Beyond:
    """What is to be known of the rest of a book, for who has an excerpt of it: all that hangs together with some entries, and all entries
    that could not be taken in. ``numbers`` are those of parts, normalised and as they are printed, ``kit_numbers`` those of kits;
    ``erring`` are the rules of one entry and of the book that find an error anywhere else."""

    states_plating: bool
    lacks_connector: bool
    lacks_kit: bool
    erring: frozenset[str]
    connectors: Callable[[], Iterable[str]]
    kits: Callable[[], Iterable[str]]
    numbers: Callable[[], Iterable[tuple[str, str]]]
    kit_numbers: Callable[[], Iterable[str]]
    files: Callable[[], Iterable[str]]

    def with_erring(self, erring: Iterable[str]) -> Beyond:
        """The same where these are the rules that find an error anywhere else."""
        return replace(self, erring=frozenset(erring))


class HiddenWays(NamedTuple):
    """Kits that could not be read or that name a connector which is not in the book, as the plug that is cut off and the one that is
    supplied, ``None`` for one that may be any; housings on which any plug may go, because they list one that is not in the book, or
    because a second entry of their id could not be read. ``files`` and ``names`` are what there is to mend."""

    kits: tuple[tuple[str | None, str | None], ...]
    housings: tuple[str, ...]
    files: tuple[str, ...]
    names: tuple[str, ...]


@dataclass(frozen=True)
class Book:
    """All that is believed, in a fixed order, with indexes. Two books of the same entries are the same.

    ``circuits`` is the controlled list by which pins and wires are named.
    ``lost`` are the entries that could not be taken in; what they would have said is not known, so nothing is
    concluded from their absence. ``beyond`` is what there is beside an excerpt; it is ``None`` of a whole book.
    """

    families: Mapping[str, Family]
    connectors: Mapping[str, Connector]
    kits: Mapping[str, Kit]
    circuits: Mapping[str, Circuit]
    lost: tuple[Entry, ...] = ()
    beyond: Beyond | None = field(default=None, compare=False, repr=False)
    questions: Questions = field(default_factory=Questions, compare=False, repr=False)
    layers: tuple[str, ...] = field(default=(), compare=False)
    """The names of the layers that it is laid together from, the lowest first; none where it is one folder."""

    @property
    def own_layer(self) -> int:
        """The number of the layer that is the book's own folder, in which alone anything is written."""
        return max(0, len(self.layers) - 1)

    @cached_property
    def kept(self) -> dict[Any, Any]:
        """What rooms further on work out of this book once and want to find again, each under a key of its own."""
        return {}

    @cached_property
    def parts(self) -> tuple[Part, ...]:
        """Every part of every family, duplicates of a number included."""
        return tuple(part for family in self.families.values() for part in family.parts)

    @cached_property
    def by_number(self) -> Mapping[str, Part]:
        """Parts by normalised number; the first one where a number is there twice."""
        found: dict[str, Part] = {}
        for part in self.parts:
            found.setdefault(part.key, part)
        return MappingProxyType(found)

    @cached_property
    def by_other_number(self) -> Mapping[str, Part]:
        """Parts by another number that they go by, normalised. One that is a part's or a kit's own, or that two parts are said to have,
        leads to none of them: it cannot be told which is meant."""
        return MappingProxyType({key: part for part in self.parts for key in sorted(part.keys - {part.key}) if key not in self.doubled})

    @cached_property
    def _by_look(self) -> Mapping[str, tuple[Part, ...]]:
        return _grouped((look(part.key), part) for part in self.by_number.values())

    @cached_property
    def doubled(self) -> frozenset[str]:
        """Normalised numbers that more than one part or kit has, as its own or as another one that it goes by. One kit may have several
        entries: :func:`is_one_kit`."""
        counts = Counter(key for part in self.parts for key in part.keys)
        for key, kits in _grouped((kit.key, kit) for kit in self.kits.values()).items():
            counts[key] += 1 if all(is_one_kit(*pair) for pair in combinations(kits, 2)) else len(kits)
        return frozenset(key for key, count in counts.items() if count > 1)

    def is_doubled(self, part: Part) -> bool:
        """Whether a number of a part is another one's too: nobody can tell by it which is in the box."""
        return not self.doubled.isdisjoint(part.keys)

    @cached_property
    def states_plating(self) -> bool:
        """Whether it says anywhere what terminals are plated with."""
        if self.beyond is not None:
            return self.beyond.states_plating
        plugs = (plug.plating for family in self.families.values() for plug in family.plugs.values())
        owners: tuple[Connector | Kit, ...] = (*self.connectors.values(), *self.kits.values())
        terminals = (one for owner in owners for one in (owner.terminal, *owner.terminals.values()))
        plated = (one.plating for one in terminals if one is not None)
        return any((*(part.plating for part in self.parts), *plugs, *plated))

    @cached_property
    def by_connector(self) -> Mapping[str | None, tuple[Part, ...]]:
        """Parts by the id of each connector of each design; those whose connectors are not known under ``None``."""
        return _grouped(
            pair
            for part in self.parts
            for pair in dict.fromkeys((name, part) for one in part.designs for name in ids_of(one.sockets) or (None,))
        )

    @cached_property
    def plugs_by_connector(self) -> Mapping[str, tuple[Plug, ...]]:
        """Plugs by the id of each of their connectors."""
        plugs = (plug for family in self.families.values() for plug in family.plugs.values())
        return _grouped((name, plug) for plug in plugs for name in ids_of(plug.sockets))

    @cached_property
    def by_gearbox(self) -> Mapping[str, tuple[Family, ...]]:
        """Families by gearbox."""
        return _grouped((gearbox, family) for family in self.families.values() for gearbox in family.gearboxes)

    @cached_property
    def kits_from(self) -> Mapping[str, tuple[Kit, ...]]:
        """Kits by the connector whose plug is cut off."""
        return _grouped((old, kit) for kit in self.kits.values() for old in kit.olds)

    @cached_property
    def switches_for_plug(self) -> Mapping[str, tuple[str, ...]]:
        """Connector of a plug -> connectors of the switches that it goes on: its own, and those that list it in ``mates``."""
        return _grouped(
            pair
            for one in self.connectors.values()
            for pair in dict.fromkeys([(one.id, one.id), *((mate.connector, one.id) for mate in one.mates)])
        )

    @cached_property
    def hidden_ways(self) -> HiddenWays:
        """What may be a way of some plug onto some housing and cannot be told from what could be read."""

        def meant(name: object) -> str | None:
            return name if isinstance(name, str) and (name in self.connectors or name in self.lost_ids) else None

        lost = [entry for entry in self.lost if entry.folder in ("kits", "connectors")]
        unread: list[Mapping[str, Any]] = [entry.front or {} for entry in lost if entry.folder == "kits"]
        kits = [(meant(old), meant(front.get("to"))) for front in unread for old in _listed(front.get("from"))]
        named = [(meant(old), meant(kit.new)) for kit in self.kits.values() for old in kit.olds]
        strange = [name for kit in self.kits.values() for name in (*kit.olds, kit.new) if meant(name) is None]
        housings = []
        for connector in self.connectors.values():
            nowhere = [mate.connector for mate in connector.mates if meant(mate.connector) is None]
            if nowhere or connector.id in self.lost_ids:
                housings.append(connector.id)
                strange += nowhere
        return HiddenWays(
            (*kits, *(pair for pair in named if None in pair)),
            tuple(housings),
            tuple(entry.file for entry in lost),
            tuple(dict.fromkeys(strange)),
        )

    @cached_property
    def knows_its_ways(self) -> bool:
        """Whether every connector that a kit or a connector names is in the book, and nothing that could not be read may be a kit."""
        named = [name for kit in self.kits.values() for name in (*kit.olds, kit.new)]
        named += [mate.connector for connector in self.connectors.values() for mate in connector.mates]
        return all(name in self.connectors for name in named) and not any(
            entry.folder == "kits" or entry.front is None or entry.front.get("kind") not in ("switch", "connector")
            for entry in self.every_lost()
        )

    def asks(self, question: Asked) -> None:
        """Remember that something was asked that is about the whole."""
        self.questions.asked |= question

    def every_lost(self) -> tuple[Entry, ...]:
        """What could not be taken in, for who goes by whether there is any."""
        self.asks(Asked.LOST)
        return self.lost

    def connector_ids(self) -> Iterable[str]:
        """The ids of all connectors, those beyond an excerpt too."""
        self.asks(Asked.NAMES)
        return self.beyond.connectors() if self.beyond else self.connectors

    def kit_ids(self) -> Iterable[str]:
        """The ids of all kits, those beyond an excerpt too."""
        self.asks(Asked.NAMES)
        return self.beyond.kits() if self.beyond else self.kits

    def every_number(self) -> list[str]:
        """The numbers of all parts as they are printed, those beyond an excerpt too."""
        self.asks(Asked.NAMES)
        return [number for _, number in self.beyond.numbers()] if self.beyond else [part.number for part in self.parts]

    def part_numbers(self) -> Mapping[str, str]:
        """Normalised number -> the number as it is printed, of all parts, those beyond an excerpt too."""
        self.asks(Asked.NAMES)
        found: dict[str, str] = {}
        for key, number in self.beyond.numbers() if self.beyond else ((part.key, part.number) for part in self.parts):
            found.setdefault(key, number)
        return found

    def printed_numbers(self) -> list[str]:
        """The numbers of all parts and of all kits, those beyond an excerpt too."""
        self.asks(Asked.NAMES)
        if self.beyond:
            return [*(number for _, number in self.beyond.numbers()), *self.beyond.kit_numbers()]
        return [*(part.number for part in self.parts), *(kit.number for kit in self.kits.values())]

    @cached_property
    def predecessors(self) -> Mapping[str, tuple[Part, ...]]:
        """Normalised number -> the parts that it is said to take the place of."""
        return _grouped((normalise(link.number), part) for part in self.parts for link in part.superseded_by)

    @cached_property
    def lost_ids(self) -> frozenset[str]:
        """Ids that a lost entry may have had: its file's stem, and its ``id`` where that could be read."""
        lost = self.every_lost()
        stated = (entry.front.get("id") for entry in lost if entry.front)
        return frozenset(entry.stem for entry in lost) | {one for one in stated if isinstance(one, str)}

    @cached_property
    def lost_numbers(self) -> frozenset[str]:
        """Normalised part numbers that a lost entry seems to hold."""
        return frozenset(normalise(found) for entry in self.every_lost() for found in _NUMBER_LINE.findall(entry.source))

    @cached_property
    def items(self) -> tuple[Family | Connector | Kit, ...]:
        """What each entry was made into: families, then connectors, then kits."""
        return (*self.families.values(), *self.connectors.values(), *self.kits.values())

    @cached_property
    def photo_files(self) -> tuple[str, ...]:
        """Where each picture that an entry states has to be, from the root."""
        stated = [(one.entry.file, one.photos) for one in self.items if one.photos]
        stated += [(self.families[part.family].entry.file, part.photos) for part in self.parts if part.photos]
        return tuple(photo_path(file, photo.file) for file, photos in stated for photo in photos)

    def part(self, number: str) -> Part | None:
        """The part with this number in any spelling, or ``None``."""
        return self.by_number.get(normalise(number))

    def look_alikes(self, number: str) -> tuple[Part, ...]:
        """The parts whose numbers look like this one, letters taken for figures or the other way round; not the one with this number."""
        key = normalise(number)
        return tuple(part for part in self._by_look.get(look(key), ()) if part.key != key)

    def family_of(self, part: Part) -> Family:
        """The family that a part belongs to."""
        return self.families[part.family]


def is_one_kit(one: Kit, other: Kit) -> bool:
    """Whether two entries of one number speak of one kit: it supplies one plug, and each tells where the wires go from another old one."""
    return one.new == other.new and not set(one.olds) & set(other.olds)


def _listed(stated: object) -> list[object]:
    return stated if isinstance(stated, list) else [stated]


def _grouped(pairs: Iterable[tuple[_Key, _Item]]) -> Mapping[_Key, tuple[_Item, ...]]:
    found: dict[_Key, list[_Item]] = {}
    for key, item in pairs:
        found.setdefault(key, []).append(item)
    return MappingProxyType({key: tuple(items) for key, items in found.items()})


def build_book(entries: Iterable[Entry], circuits: Mapping[str, Circuit]) -> Book:
    """A book from entries, each read and checked, and the controlled list of circuits. One with problems is set aside whole; the others are
    not touched by it."""
    return book_of(((entry, build.item(entry)) for entry in entries), circuits)


def book_of(read: Iterable[tuple[Entry, build.Item | None]], circuits: Mapping[str, Circuit], beyond: Beyond | None = None) -> Book:
    """A book from entries and what each was made into, ``None`` for one with problems, and the controlled list of circuits; or an excerpt
    of a book, with what is ``beyond`` it."""
    families: dict[str, Family] = {}
    connectors: dict[str, Connector] = {}
    kits: dict[str, Kit] = {}
    lost: list[Entry] = []
    for entry, item in read:
        match item:
            case Family():
                taken = families.setdefault(item.id, item) is item
            case Connector():
                taken = connectors.setdefault(item.id, item) is item
            case Kit():
                taken = kits.setdefault(item.id, item) is item
            case _:
                taken = False
        if not taken:
            lost.append(entry)
    return Book(MappingProxyType(families), MappingProxyType(connectors), MappingProxyType(kits), circuits, tuple(lost), beyond)
