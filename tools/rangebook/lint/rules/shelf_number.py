"""A number of the stock list that the book does not know, or that must not be fitted.

Each number of ``shelf.csv`` is that of a part or kit of the book, in any spelling, or another number that a part goes by
(``also_numbered``). A part that its maker has withdrawn does not lie on the shelf.

Why it matters: of a number that the book does not know nobody is told that it lies there. And who finds a withdrawn part on the shelf, in
its box and with its kit, fits it.

Fails: the first is no part of the book, the second was withdrawn.

    # shelf.csv
    number,count,place
    TB-2O417,2,bin 4
    TB-20461,1,bin 5

and

    # entries/switches/tamblin-gate.md
    kind: switch
    parts:
      - number: TB-20417
        connector: oval-9
        mount: short-boss
        status: current
        pins: {1: start_feed, 2: start_out, 3: backup_feed, 4: backup_out, 5: range_signal, 6: range_return}
        contacts:
          - {pins: [1, 2], closed: [P, N]}
          - {pins: [3, 4], closed: [R]}
          - {pins: [5, 6], ohms: {P: 9100, R: 3900, N: 1800, D: 910, 2: 430, 1: 200}, tolerance_percent: 5}
        sources: [{kind: seen}]
      - number: TB-20461
        status: withdrawn
        note: It cranked in R.
        sources: [{kind: seen}]

Mended:

    # shelf.csv
    number,count,place
    TB-20417,2,bin 4
"""

from __future__ import annotations

from collections.abc import Iterator

from rangebook.book.numbers import look, normalise
from rangebook.lint.context import Shelf
from rangebook.lint.rule import BookCheck, Problem, Severity, Told, problem_in, rule
from rangebook.reading.nearest import nearest
from rangebook.reading.shelf import FILE


def check_shelf(context: Shelf) -> Iterator[Problem]:
    """Yield a finding at each line with such a number."""
    book = context.book
    if not context.stock.lying:
        return
    known = book.printed_numbers()
    numbers = {normalise(number): number for number in known}
    looks = {look(key): number for key, number in numbers.items()}
    for one in context.stock.lying:
        key = normalise(one.number)
        part = book.by_number.get(key) or book.by_other_number.get(key)
        if part is not None and part.status == "withdrawn":
            yield problem_in(FILE, one.line, "withdrawn", number=one.number, note=part.note or "")
        elif part is None and key not in numbers and key not in book.lost_numbers:
            alike = looks.get(look(key)) or nearest(key, numbers.values())
            yield problem_in(FILE, one.line, "unknown", number=one.number, alike=alike or "")


MESSAGES = {
    "withdrawn": Told(
        ["{number} was withdrawn by its maker and lies on the shelf", {"given": "note", "yes": ": {note}"}],
        "take it off the shelf, so that nobody fits it, and out of the list",
    ),
    "unknown": Told(
        "{number} is in no entry, so no answer can tell that it lies there",
        [
            {"given": "alike", "yes": "the book has {alike}: compare the two; ", "no": ""},
            "write down what it is in an entry, or take the line out where it is no range switch",
        ],
    ),
}

RULE = rule(__name__, __doc__, Severity.WARNING, BookCheck(Shelf, check_shelf), messages=MESSAGES)
