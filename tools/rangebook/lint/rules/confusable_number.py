"""A number that looks like that of a part or kit of the book.

The number of a part or kit that is another one's but for O and 0, I, L and 1, B and 8, S and 5, or Z and 2. And a number in
``came_with`` or ``superseded_by``, or anywhere in the prose, that the book does not have and that becomes one that it has when
two of these are exchanged in one place. In the prose only numbers of five characters and more are looked at. (The pairs are
common practice, no source.)

Why it matters: on a worn switch the two look the same. The number that was copied wrongly is found nowhere, or is ordered
and is another part.

Fails:

    kind: switch
    applications:
      - {vehicle: Corran Delver 2.4, years: 2007-2012, gearbox: Tamblin Short, plug: six-wire, came_with: TB-2O417}

Mended: a nought, not a letter.

    kind: switch
    applications:
      - {vehicle: Corran Delver 2.4, years: 2007-2012, gearbox: Tamblin Short, plug: six-wire, came_with: TB-20417}
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import islice
from typing import Any, NamedTuple

from rangebook.book.book import Book
from rangebook.book.model import KeyPath
from rangebook.book.numbers import LOOKS_LIKE, look, normalise
from rangebook.book.prose_numbers import numbers_in
from rangebook.lint.confusable import LookAlikes
from rangebook.lint.context import WholeBook
from rangebook.lint.mentions import part_numbers
from rangebook.lint.prose import MOST, place
from rangebook.lint.rule import BookCheck, Owner, Problem, Severity, Told, problem, problem_at, rule


class Sign(NamedTuple):
    """One of two that are mistaken for each other."""

    sign: str
    is_letter: bool


def check_book(context: WholeBook) -> Iterator[Problem]:
    """Yield a finding at each mention of such a number."""
    book = context.book
    parts = LookAlikes(part.number for part in book.parts)
    for one in part_numbers(book):
        key = normalise(one.number)
        known = None if context.knows_number(key) else parts.of(key)
        if known:
            yield problem(one.family, one.path, one.key, of=one.of, number=one.number, known=known, **_difference(normalise(known), key))
    yield from _beside(book)
    numbers = LookAlikes([*(part.number for part in book.parts), *(kit.number for kit in book.kits.values())])
    for entry in context.entries:
        for start, end, known in islice(_in_prose(entry.prose, numbers), MOST):
            written = entry.prose[start:end]
            key = normalise(written)
            if key not in book.lost_numbers:
                yield problem_at(entry, place(entry, start), "prose", number=written, known=known, **_difference(normalise(known), key))


def _beside(book: Book) -> Iterator[Problem]:
    """Each number of the book that looks like an earlier one and is another."""
    first: dict[str, tuple[str, str, str]] = {}
    for owner, path, number in _numbers(book):
        key = normalise(number)
        known, there, file = first.setdefault(look(key), (key, number, owner.entry.file))
        if known != key:
            yield problem(owner, path, "beside", number=number, known=there, file=file, **_difference(known, key))


def _numbers(book: Book) -> Iterator[tuple[Owner, KeyPath, str]]:
    for family in book.families.values():
        yield from ((family, (*part.path, "number"), part.number) for part in family.parts)
    yield from ((kit, ("number",), kit.number) for kit in book.kits.values())


def _in_prose(prose: str, numbers: LookAlikes) -> Iterator[tuple[int, int, str]]:
    """Where in the prose such numbers begin and end, and the known ones that they look like."""
    for start, end, key in numbers_in(prose):
        known = numbers.of(key)
        if known:
            yield start, end, known


def _difference(known: str, key: str) -> dict[str, Any]:
    """What to look at: the first character that differs."""
    right, wrong = next((a, b) for a, b in zip(known, key, strict=True) if a != b)
    return {"right": Sign(right, right in LOOKS_LIKE), "wrong": Sign(wrong, wrong in LOOKS_LIKE)}


_DIFFERENCE = "which the book does not have; {known} has {right|sign} where this has {wrong|sign}"

MESSAGES = {
    "superseded_by": Told(f"{{of}} is said to be superseded by {{number}}, {_DIFFERENCE}", "write {known}"),
    "goes_with": Told(f"{{of}} is said to go with {{number}}, {_DIFFERENCE}", "write {known}"),
    "came_with": Told(f"{{of}} is said to have come with {{number}}, {_DIFFERENCE}", "write {known}"),
    "prose": Told(
        f"the prose speaks of {{number}}, {_DIFFERENCE}",
        "write {known}; if {number} is a number of its own, allow this with the reason",
    ),
    "beside": Told(
        "{number} looks like {known} of {file}: {known} has {right|sign} where this has {wrong|sign}",
        "look at the part once more, and correct the number; if both are real, allow this with the reason",
    ),
}

RULE = rule(__name__, __doc__, Severity.ERROR, BookCheck(WholeBook, check_book), messages=MESSAGES)
