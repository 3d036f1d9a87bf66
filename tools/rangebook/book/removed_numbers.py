"""Published numbers that a change takes out of the book. A number once published keeps its place: somebody has a part with it in the
hand, and "not in the book" tells them less than "withdrawn, do not fit it"."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from rangebook.book.book import Book
from rangebook.book.model import Kit, Part


@dataclass(frozen=True, slots=True)
class RemovedNumber:
    """A number that was in the book and is not any more: ``kind`` is ``part`` or ``kit``, ``entry`` the id and ``file`` the file that it
    was in."""

    number: str
    kind: str
    entry: str
    file: str


def removed_numbers(old: Book, new: Book) -> Iterator[RemovedNumber]:
    """Numbers of parts and kits that only the old book has, in its order. What an entry that cannot be read seems to hold is not gone,
    and neither is what stood in its file: that is told once the file can be read again."""
    unread = {entry.file for entry in new.lost}
    kept = {*new.by_number, *(kit.key for kit in new.kits.values()), *new.lost_numbers}
    told = set()
    owners: tuple[Part | Kit, ...] = (*old.parts, *old.kits.values())
    for one in owners:
        if one.key in kept or one.key in told:
            continue
        told.add(one.key)
        kind, owner = ("part", old.family_of(one)) if isinstance(one, Part) else ("kit", one)
        if owner.entry.file not in unread:
            yield RemovedNumber(one.number, kind, owner.id, owner.entry.file)
