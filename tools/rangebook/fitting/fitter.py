"""All verdicts of a book, each computed once."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from functools import cached_property

from rangebook.book.book import Book
from rangebook.book.model import Part
from rangebook.fitting.judge import judge
from rangebook.fitting.mating import reachable
from rangebook.fitting.seats import Seat, find_seats
from rangebook.fitting.verdict import RANK, Verdict, Word

_STATUS_RANK = {"current": 0, None: 1, "superseded": 2, "discontinued": 3, "withdrawn": 4}


class Fitter:
    """Answers what fits where in one book. It holds nothing but the book and what was computed from it."""

    def __init__(self, book: Book) -> None:
        self.book = book
        self._verdicts: dict[tuple, Verdict] = {}

    @cached_property
    def seats(self) -> tuple[Seat, ...]:
        """Every seat of the book."""
        return find_seats(self.book)

    @cached_property
    def seats_of(self) -> Mapping[str, tuple[Seat, ...]]:
        """Normalised number -> the seats that the part came with."""
        return _grouped((seat.original.key, seat) for seat in self.seats)

    @cached_property
    def seats_by_reach(self) -> Mapping[str | None, tuple[Seat, ...]]:
        """Connector of a switch -> the seats whose plug can be brought onto it."""
        return _grouped(
            (switch, seat) for seat in self.seats for switch in reachable(self.book, seat.plug.connector)
        )

    def verdict(self, seat: Seat, part: Part) -> Verdict:
        """The verdict of one part on one seat."""
        key = (seat.key, part.family, part.path)
        found = self._verdicts.get(key)
        if found is None:
            found = self._verdicts[key] = judge(self.book, seat, part)
        return found

    def candidates(self, seat: Seat) -> list[Verdict]:
        """Every part of the book that is not a plain ``no`` on the seat, best first.

        Parts of the seat's own family, and those that a maker says take the original's place, are there even as ``no``.
        """
        book = self.book
        near = {id(part) for part in (*seat.family.parts, *self._said(seat.original))}
        pool = [
            *(part for connector in reachable(book, seat.plug.connector) for part in book.by_connector.get(connector, ())),
            *book.by_connector.get(None, ()),
            # A connector that is not in the book may still take the plug: nobody has said.
            *(part for name, parts in book.by_connector.items() if name and name not in book.connectors for part in parts),
            *seat.family.parts,
            *self._said(seat.original),
        ]
        if seat.plug.connector not in book.connectors:
            pool += book.parts
        judged = [self.verdict(seat, part) for part in {id(part): part for part in pool}.values()]
        kept = [one for one in judged if one.word is not Word.NO or id(one.part) in near]
        return sorted(kept, key=lambda one: rank(one, seat))

    def _said(self, part: Part) -> list[Part]:
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

    def seats_taken_by(self, part: Part) -> list[tuple[Seat, str]]:
        """The seats that a part may have been taken off: ``came_with``, then those on which it ``fits``."""
        own = self.seats_of.get(part.key, ())
        taken = [(seat, "came_with") for seat in own]
        others = self.seats_by_reach.get(part.connector, ()) if part.connector else self.seats
        taken += [(seat, "fits") for seat in others if seat.original.key != part.key and self.verdict(seat, part).fits]
        return taken


def rank(verdict: Verdict, seat: Seat) -> tuple:
    """Sorts answers: best verdict first, then what can be bought, then the seat's own family, then by number."""
    part = verdict.part
    return RANK[verdict.word], _STATUS_RANK.get(part.status, 1), part.family != seat.family.id, part.number


def _grouped(pairs: Iterable[tuple[str | None, Seat]]) -> Mapping:
    found: dict[str | None, list[Seat]] = {}
    for key, seat in pairs:
        found.setdefault(key, []).append(seat)
    return {key: tuple(seats) for key, seats in found.items()}
