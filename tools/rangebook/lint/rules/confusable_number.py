"""A number that is one look-alike character away from a part or kit of the book.

A number in ``came_with`` or ``superseded_by``, or anywhere in the prose, that the book does not have and that becomes
one that it has when O and 0, I and 1, B and 8, S and 5, or Z and 2 are exchanged in one place. In the prose only numbers
of five characters and more are looked at. (The pairs are common practice, no source.)

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

import re
from collections.abc import Iterator
from itertools import islice

from rangebook.book.numbers import normalise
from rangebook.lint.confusable import PAIRS, LookAlikes, differing
from rangebook.lint.context import WholeBook
from rangebook.lint.mentions import part_numbers
from rangebook.lint.prose import MOST, place
from rangebook.lint.rule import BookCheck, Problem, Severity, finding, finding_at, rule

SHORTEST = 5
"""A number in the prose with fewer characters than this may be anything."""

LONGEST = 4
"""A number in the prose is made of so many pieces at most, with one space, hyphen, dot or slash between them."""

_PIECE = re.compile(r"([A-Za-z]*[0-9][0-9A-Za-z]*)|[A-Za-z]+")
"""A piece of a number or a word; with a group where there is a figure in it."""

_NAMES = {**{letter: f"the letter {letter}" for letter in PAIRS}, **{figure: f"the figure {figure}" for figure in PAIRS.values()}}


def check_book(context: WholeBook) -> Iterator[Problem]:
    """Yield a finding at each mention of such a number."""
    book = context.book
    parts = LookAlikes(part.number for part in book.parts)
    for one in part_numbers(book):
        key = normalise(one.number)
        known = None if context.knows_number(key) else parts.of(key)
        if known:
            yield finding(
                one.family,
                one.path,
                f"{one.who} {one.number}, which the book does not have; {_difference(known, key)}",
                f"write {known}",
            )
    numbers = LookAlikes([*(part.number for part in book.parts), *(kit.number for kit in book.kits.values())])
    for entry in context.entries:
        for start, end, known in islice(_in_prose(entry.prose, numbers), MOST):
            written = entry.prose[start:end]
            key = normalise(written)
            if key not in book.lost_numbers:
                yield finding_at(
                    entry,
                    place(entry, start),
                    f"the prose speaks of {written}, which the book does not have; {_difference(known, key)}",
                    f"write {known}; if {written} is a number of its own, allow this with the reason",
                    same=written,
                )


def _in_prose(prose: str, numbers: LookAlikes) -> Iterator[tuple[int, int, str]]:
    """Where in the prose such numbers begin and end, and the known ones that they look like."""
    pieces = list(_PIECE.finditer(prose))
    for index, piece in enumerate(pieces):
        if piece.lastindex is None:
            continue
        # Every run of pieces in which this is the first one with a figure.
        first = index
        while True:
            key = ""
            for last in range(first, min(first + LONGEST, len(pieces))):
                if last > first and not _joined(prose, pieces[last - 1], pieces[last]):
                    break
                key += pieces[last].group().upper()
                if last >= index and len(key) >= SHORTEST:
                    known = numbers.of(key)
                    if known:
                        yield pieces[first].start(), pieces[last].end(), known
            first -= 1
            if first <= index - LONGEST or first < 0 or pieces[first].lastindex or not _joined(prose, pieces[first], pieces[first + 1]):
                break


def _joined(prose: str, left: re.Match[str], right: re.Match[str]) -> bool:
    return right.start() - left.end() == 1 and prose[left.end()] in " -./\n"


def _difference(known: str, key: str) -> str:
    """What to look at: the one character that differs."""
    as_known = normalise(known)
    index = differing(as_known, key)
    assert index is not None
    return f"{known} has {_NAMES[as_known[index]]} where this has {_NAMES[key[index]]}"


RULE = rule(__name__, __doc__, Severity.ERROR, BookCheck(WholeBook, check_book))
