"""A book's own stock list, ``shelf.csv`` beside ``entries/``: its bytes -> how many of which number lie where, and what is wrong with it.

It is a table as :mod:`rangebook.reading.table` reads any: a heading ``number``, and where there are such ``count`` and ``place``.
"""

from __future__ import annotations

import re
from typing import Any, NamedTuple

from rangebook.book.numbers import normalise
from rangebook.reading.files import MAX_BYTES
from rangebook.reading.links import LinkError
from rangebook.reading.table import Row, Table, TableError, read_table
from rangebook.words.shown import of_cell, seen

MOST = 9999
"""So many pieces of a number at the most; more are a number that slipped into the wrong column."""
LONGEST = 60
"""Characters of a number or a place."""

_WHOLE = re.compile(r"[0-9]+")


class Lying(NamedTuple):
    """What lies on the shelf: a number as the list has it, how many pieces, and where, empty where that is not stated; and its line."""

    number: str
    pieces: int
    place: str
    line: int


class Wrong(NamedTuple):
    """Something that cannot be right: the line, what it is, and what is put into its words."""

    line: int
    code: str
    values: dict[str, Any]


class Stock(NamedTuple):
    """What a list holds. A line that is wrong lies nowhere."""

    lying: tuple[Lying, ...] = ()
    wrong: tuple[Wrong, ...] = ()


def stock_of(data: bytes | OSError | None) -> Stock:
    """What a stock list holds, by its bytes or why they could not be read; nothing where there is none."""
    if data is None:
        return Stock()
    if isinstance(data, LinkError):
        return _unread("link")
    if isinstance(data, OSError):
        return _unread("unreadable", why=data.strerror or str(data))
    if len(data) > MAX_BYTES:
        return _unread("too_large", most=MAX_BYTES // 1024)
    try:
        table = read_table(data, ("number",))
    except TableError as error:
        return _unread("no_table", why=str(error))
    columns = {name: _column(table, name) for name in ("number", "count", "place")}
    found: dict[str, Lying] = {}
    wrong: list[Wrong] = []
    for row in table.rows:
        number, count, place = (_cell(row, columns[name]) for name in ("number", "count", "place"))
        key = normalise(number)
        code = _wrong(number, count, place) or ("twice" if key in found else "")
        if code:
            first = found[key].line if code == "twice" else 0
            wrong.append(Wrong(row.line, code, {"number": number, "count": count, "first": first, "most": MOST, "longest": LONGEST}))
        else:
            found[key] = Lying(number, int(count or 1), place, row.line)
    return Stock(tuple(found.values()), tuple(wrong))


def _unread(code: str, **values: Any) -> Stock:
    return Stock((), (Wrong(1, code, values),))


def _column(table: Table, name: str) -> int | None:
    try:
        return table.column(name)
    except KeyError:
        return None


def _cell(row: Row, column: int | None) -> str:
    return of_cell(row.cells[column].strip()) if column is not None and column < len(row.cells) else ""


def _wrong(number: str, count: str, place: str) -> str:
    """The code of what is wrong with a line; empty where nothing is."""
    if not (seen(number) and seen(count) and seen(place)):
        return "unseen"
    if not normalise(number):
        return "no_number"
    if max(len(number), len(place)) > LONGEST:
        return "long"
    # Figures of other scripts are none here.
    return "" if not count or (_WHOLE.fullmatch(count) and len(count) < 8 and int(count) <= MOST) else "count"
