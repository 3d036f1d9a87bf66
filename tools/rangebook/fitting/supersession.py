"""What the makers say takes a part's place, followed to every end, with all that is needed on the way."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from rangebook.book.book import Book
from rangebook.book.model import Need, Part, Succession


@dataclass(frozen=True, slots=True)
class End:
    """One end of a chain.

    ``part`` is ``None`` where the last number is not in the book. ``links`` lead there, in order; ``needs`` is what all
    of them ask for, each thing once. ``loops`` where the chain comes back to a number that it has been at.
    """

    number: str
    part: Part | None
    links: tuple[Succession, ...]
    needs: tuple[Need, ...]
    loops: bool = False


def chain_ends(book: Book, part: Part) -> list[End]:
    """Every end that the chain from ``part`` leads to; none where nothing takes its place."""
    return [] if not part.superseded_by else list(_walk(book, part, (), (part.key,)))


def _walk(book: Book, part: Part, links: tuple[Succession, ...], been: tuple[str, ...]) -> Iterator[End]:
    for link in part.superseded_by:
        path = (*links, link)
        successor = book.part(link.number)
        needs = tuple(dict.fromkeys(need for one in path for need in one.needs or ()))
        if successor is None:
            yield End(link.number, None, path, needs)
        elif successor.key in been:
            yield End(successor.number, successor, path, needs, loops=True)
        elif successor.superseded_by:
            yield from _walk(book, successor, path, (*been, successor.key))
        else:
            yield End(successor.number, successor, path, needs)
