"""Where the makers' chains end, in two states of a book."""

from __future__ import annotations

from dataclasses import dataclass

from rangebook.book.book import Book
from rangebook.book.model import Need
from rangebook.fitting.supersession import End, chain_ends
from rangebook.revisions.states import States


@dataclass(frozen=True, slots=True)
class EndSeen:
    """One end of a chain. ``status`` is ``None`` where it is not stated or the number is not in the book."""

    number: str
    in_book: bool
    status: str | None
    loops: bool
    needs: tuple[Need, ...]


@dataclass(frozen=True, slots=True)
class ChainChange:
    """A part whose chain ends elsewhere than it did; ``old`` and ``new`` are empty where nothing takes its place, ``None``
    where the part is not in that state of the book (``broken``: its entry could not be taken in)."""

    number: str
    family: str
    old: tuple[EndSeen, ...] | None
    new: tuple[EndSeen, ...] | None
    broken: bool


def chain_changes(states: States) -> list[ChainChange]:
    """Every part of either state whose chain ends elsewhere, by family and number. Parts that came or went without one are left out."""
    old, new = states.old.book, states.new.book
    found = []
    for key in {**new.by_number, **old.by_number}:
        before, after = _ends(old, key), _ends(new, key)
        if before == after or not (before or after):
            continue
        part = new.by_number.get(key) or old.by_number[key]
        broken = (after is None and key in new.lost_numbers) or (before is None and key in old.lost_numbers)
        found.append(ChainChange(part.number, part.family, before, after, broken))
    return sorted(found, key=lambda one: (one.family, one.number))


def _ends(book: Book, key: str) -> tuple[EndSeen, ...] | None:
    part = book.by_number.get(key)
    return None if part is None else tuple(map(_seen, chain_ends(book, part)))


def _seen(end: End) -> EndSeen:
    return EndSeen(end.number, end.part is not None, end.part.status if end.part else None, end.loops, end.needs)
