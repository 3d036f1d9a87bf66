"""A part number that the book does not have.

The number in an application's ``came_with``, and in a part's ``superseded_by`` or ``goes_with``, is the number of a part of some
family, in any spelling of hyphens, spaces, dots, slashes and capitals.

Why it matters: the part that a vehicle came with is what every other part is compared with; a successor that is not
there ends the search with a number that nobody can check. (A number that is one look-alike character away from a known
one is told by confusable-number.)

Fails:

    kind: switch
    applications:
      - {vehicle: Corran Delver 2.4, years: 2007-2012, gearbox: Tamblin Short, plug: six-wire, came_with: TB-20471}

Mended: two figures had changed places.

    kind: switch
    applications:
      - {vehicle: Corran Delver 2.4, years: 2007-2012, gearbox: Tamblin Short, plug: six-wire, came_with: TB-20417}
"""

from __future__ import annotations

from collections.abc import Iterator

from rangebook.book.numbers import normalise
from rangebook.lint.confusable import LookAlikes
from rangebook.lint.context import WholeBook
from rangebook.lint.mentions import part_numbers
from rangebook.lint.rule import BookCheck, Problem, Severity, Told, problem, rule
from rangebook.lint.words import NEAR, Nearest


def check_book(context: WholeBook) -> Iterator[Problem]:
    """Yield a finding for each mention of a number that no part has."""
    book = context.book
    unknown = [one for one in part_numbers(book) if not context.knows_number(normalise(one.number))]
    if not unknown:
        return
    alike = LookAlikes(part.number for part in book.parts)
    nearest = Nearest(book.part_numbers)
    for one in unknown:
        key = normalise(one.number)
        if alike.of(key) is None:
            near = nearest(key)
            yield problem(one.family, one.path, one.key, of=one.of, number=one.number, near=near and book.part_numbers()[near])


_FIX = [NEAR, "write the part down in its family, if only its number is known"]

MESSAGES = {
    "superseded_by": Told("{of} is said to be superseded by {number}, which the book does not have", _FIX),
    "goes_with": Told("{of} is said to go with {number}, which the book does not have", _FIX),
    "came_with": Told("{of} is said to have come with {number}, which the book does not have", _FIX),
}

RULE = rule(__name__, __doc__, Severity.ERROR, BookCheck(WholeBook, check_book), messages=MESSAGES)
