"""The families that vehicles and makers' chains join: what is found along the chains of one may go by all of them."""

from __future__ import annotations

from collections.abc import Mapping

from rangebook.book.book import Book
from rangebook.lint.mentions import beside


def joined_families(*books: Book) -> Mapping[str, set[str]]:
    """Each family that names a part of another one, or has a part that another one names, in any of the books -> those others."""
    joined: dict[str, set[str]] = {}
    for book in books:
        for family in book.families.values():
            named = [one.came_with for one in family.applications if one.came_with]
            named += [link.number for part in family.parts for link in part.superseded_by]
            named += [number for part in family.parts for number in beside(part)]
            for number in named:
                part = book.part(number)
                if part is not None and part.family != family.id:
                    joined.setdefault(family.id, set()).add(part.family)
                    joined.setdefault(part.family, set()).add(family.id)
    return joined


def shares_of(book: Book, size: int) -> list[list[str]]:
    """The families of a book in shares of about that size, in the book's order; what is joined stays together."""
    joined, been = joined_families(book), set[str]()
    shares: list[list[str]] = []
    for name in book.families:
        if not shares or len(shares[-1]) >= size:
            shares.append([])
        todo = [name]
        while todo:
            one = todo.pop()
            if one not in been:
                been.add(one)
                shares[-1].append(one)
                todo += joined.get(one, ())
    return [share for share in shares if share]
