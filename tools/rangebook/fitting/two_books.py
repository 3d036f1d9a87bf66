"""Two states of one book side by side: what is computed for the one is not computed again for the other."""

from __future__ import annotations

from collections.abc import Mapping

from rangebook.book.book import Book
from rangebook.fitting.fitter import Fitter


class _Beside(Fitter):
    """A fitter that knows every verdict of another one, by the facts from which it was computed."""

    def __init__(self, book: Book, other: Fitter) -> None:
        super().__init__(book)
        self._verdicts, self._numbers = other._verdicts, other._numbers
        self._part_facts, self._fits = other._part_facts, other._fits


def beside(book: Book, other: Fitter) -> Fitter:
    """A fitter of ``book`` beside ``other``, which is of an earlier or later state of it.

    Beside the facts of seat and part a verdict goes by connectors and kits alone, and by which of them could not be read. So
    they share what they compute where these are the very same objects in both books; else nothing is shared.
    """
    connectors = _are_the_same(book.connectors, other.book.connectors)
    same = connectors and _are_the_same(book.kits, other.book.kits) and lost_ways(book) == lost_ways(other.book)
    return _Beside(book, other) if same else Fitter(book)


def lost_ways(book: Book) -> tuple[str, ...]:
    """The files of connectors and kits that could not be read: while there are any, no way onto a housing is surely none."""
    return tuple(entry.file for entry in book.lost if entry.folder in ("connectors", "kits"))


def _are_the_same(one: Mapping[str, object], other: Mapping[str, object]) -> bool:
    return len(one) == len(other) and all(other.get(name) is item for name, item in one.items())
