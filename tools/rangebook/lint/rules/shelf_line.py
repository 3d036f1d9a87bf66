"""A line of the stock list that cannot be right.

The book's own stock list, ``shelf.csv`` beside ``entries/``, is a table with the headings ``number``, ``count`` and ``place``. Each
line has a number, which stands there once; the count is a whole number up to 9999, and one where it is left out; nothing in the line is
longer than 60 characters or has a character that cannot be seen. The file itself is no link, is no larger than an entry may be, and can be
read as a table.

Why it matters: every answer says of what it names how many lie on the shelf and where. A count that slipped into the column beside it
says that a part is there which is not.

Fails: the count is no number, and one number stands there twice.

    # shelf.csv
    number,count,place
    TB-20417,two,bin 4
    TW-7706,3,bin 9
    TW 7706,1,bin 11

Mended:

    # shelf.csv
    number,count,place
    TB-20417,2,bin 4
    TW-7706,4,"bin 9, bin 11"
"""

from __future__ import annotations

from collections.abc import Iterator

from rangebook.lint.context import Shelf
from rangebook.lint.rule import BookCheck, Problem, Severity, Told, problem_in, rule
from rangebook.reading.shelf import FILE


def check_shelf(context: Shelf) -> Iterator[Problem]:
    """Yield a finding at each such line, and at the first where the whole file cannot be used."""
    for line, code, values in context.stock.wrong:
        yield problem_in(FILE, line, code, **values)


MESSAGES = {
    "link": Told("the stock list is a link, and links are not followed", "put the list itself there"),
    "unreadable": Told("the stock list cannot be read: {why}", "make it readable, or take it away"),
    "too_large": Told("the stock list is larger than {most} KiB: nobody has that many switches", "take out what is not stock"),
    "no_table": Told("the stock list is no table: {why}", "save it as CSV UTF-8, with the heading `number` in its first line"),
    "unseen": Told("a character that cannot be seen stands beside {number}", "type the line anew"),
    "no_number": Told("there is no number", "state it, or take the line out"),
    "long": Told("more than {longest} characters stand in one cell, beside {number}", "keep it short"),
    "count": Told("`{count}` is no count of {number}", "write a whole number up to {most}"),
    "twice": Told("{number} stands there twice, in line {first} too", "add the two up in one line", ("first",)),
}

RULE = rule(__name__, __doc__, Severity.ERROR, BookCheck(Shelf, check_shelf), messages=MESSAGES)
