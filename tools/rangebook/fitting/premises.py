"""What a verdict is computed from: the entries, and in a family the part, the mount or the plug, that its facts stand in."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import NamedTuple

from rangebook.book.book import Book
from rangebook.book.model import Connector, Family, KeyPath, Kit, Part, Sockets
from rangebook.fitting.check_needs import together
from rangebook.fitting.mating import ways
from rangebook.fitting.seats import Seat, mount_of
from rangebook.fitting.together import with_joined


class Premise(NamedTuple):
    """A connector or kit, all of it; or of a family the positions and what stands at ``paths``."""

    owner: Family | Connector | Kit
    paths: tuple[KeyPath, ...] = ()


class Premises:
    """Answers for one book."""

    def __init__(self, book: Book) -> None:
        self._book = book

    def are_known(self, seat: Seat, parts: Iterable[Part]) -> bool:
        """Whether it is plain which facts they are: no number is meant twice, no position strange to the lever, no way perhaps over a kit
        that could not be read or a connector that is misspelt."""
        if not set(seat.positions) <= set(seat.family.positions):
            return False
        return all(
            not self._book.is_doubled(part)
            and (not part.sockets or bool(ways(self._book, seat.plug.sockets, part.sockets)) or self._book.knows_its_ways)
            for part in self._all_of(seat, parts)
        )

    def of(self, seat: Seat, parts: Iterable[Part]) -> Iterator[Premise]:
        """What the verdicts of parts on a seat are computed from."""
        book = self._book
        yield Premise(seat.family, (seat.plug.path,))
        yield from self._of_connectors(seat.plug.sockets)
        for part in dict.fromkeys(self._all_of(seat, parts)):
            mount = mount_of(book, part)
            yield Premise(book.family_of(part), (part.path, mount.path) if mount else (part.path,))
            yield from self._of_connectors(part.sockets)
            found = ways(book, seat.plug.sockets, part.sockets)
            yield from map(Premise, {kit.id: kit for way in found for kit in way.kits}.values())

    def _all_of(self, seat: Seat, parts: Iterable[Part]) -> Iterator[Part]:
        for part in parts:
            yield from with_joined(self._book, together(self._book, seat, part))

    def _of_connectors(self, sockets: Sockets) -> Iterator[Premise]:
        known = self._book.connectors
        yield from (Premise(known[one.connector]) for one in sockets if one.connector in known)
