"""A number once published keeps its place; one that goes is told of, by impact and by the linter."""

from __future__ import annotations

from tests.making import book, connector, family, part

from rangebook.book.book import Book
from rangebook.book.removed_numbers import removed_numbers

KIT = {"kind": "kit", "id": "k", "number": "K-1", "title": "k", "from": "c", "to": "c", "moves": {"1": "1"}}


def of(*numbers: str, kit: bool = True, name: str = "f") -> Book:
    return book(connector("c", 2), family(name, [part(one) for one in numbers]), *([KIT] if kit else []))


def gone(old: Book, new: Book) -> list[tuple[str, str, str]]:
    return [(one.number, one.kind, one.entry) for one in removed_numbers(old, new)]


def test_a_part_and_a_kit_that_are_gone() -> None:
    assert gone(of("A-1", "A-2"), of("A-2", kit=False)) == [("A-1", "part", "f"), ("K-1", "kit", "k")]


def test_what_is_new_and_what_stays_is_not_told() -> None:
    assert gone(of("A-1"), of("A-1", "A-2")) == []


def test_another_spelling_and_another_family_are_no_loss() -> None:
    assert gone(of("A-1", "A-2"), of("a 1", "A/2", name="g")) == []
