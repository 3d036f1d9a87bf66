"""A book's own stock list, ``shelf.csv`` beside ``entries/``: its bytes -> how many of which number lie where, or what is wrong with it.

It is a table as :mod:`rangebook.desk.importing.table` reads any: a heading ``number``, and where there are such ``count`` and ``place``.
"""

from __future__ import annotations

import re
from pathlib import Path
from typing import NamedTuple

from rangebook.book.numbers import normalise
from rangebook.desk.importing.table import Row, Table, TableError, read_table
from rangebook.reading.files import MAX_BYTES, read_bytes
from rangebook.reading.links import LinkError, refuse_links
from rangebook.words.catalogue import say
from rangebook.words.shown import of_cell, seen, shown

FILE = "shelf.csv"
MOST = 9999
"""So many pieces of a number at the most; more are a number that slipped into the wrong column."""
LONGEST = 60
"""Characters of a number or a place."""

_WHOLE = re.compile(r"[0-9]+")


class ShelfError(ValueError):
    """The list cannot be used; the message has a line for each thing that is wrong."""


class Lying(NamedTuple):
    """What lies on the shelf: a number as the list has it, how many pieces, and where, empty where that is not stated."""

    number: str
    pieces: int
    place: str


def read_shelf(root: Path) -> tuple[Lying, ...]:
    """The stock list of the book under ``root``; nothing where it has none. Raises :class:`ShelfError`."""
    path = root / FILE
    try:
        refuse_links(root, path)
        data = read_bytes(path)
    except FileNotFoundError:
        return ()
    except LinkError as error:
        raise ShelfError(say("shelf.link", file=FILE)) from error
    except OSError as error:
        raise ShelfError(say("shelf.unreadable", file=FILE, why=error.strerror or str(error))) from error
    return shelf_of(data)


def shelf_of(data: bytes) -> tuple[Lying, ...]:
    """What a stock list holds, by its bytes. Raises :class:`ShelfError`."""
    if len(data) > MAX_BYTES:
        raise ShelfError(say("shelf.too_large", file=FILE, most=MAX_BYTES // 1024))
    try:
        table = read_table(data, ("number",))
    except TableError as error:
        raise ShelfError(say("shelf.no_table", file=FILE, why=shown(str(error)))) from error
    columns = {name: _column(table, name) for name in ("number", "count", "place")}
    found: dict[str, Lying] = {}
    wrong: list[str] = []
    for row in table.rows:
        number, count, place = (_cell(row, columns[name]) for name in ("number", "count", "place"))
        key = normalise(number)
        code = _wrong(number, count, place) or ("twice" if key in found else "")
        if code:
            wrong.append(say("shelf.line", file=FILE, line=row.line, wrong=code, number=shown(number), count=shown(count)))
        else:
            found[key] = Lying(number, int(count or 1), place)
    if wrong:
        raise ShelfError("\n".join(wrong))
    return tuple(found.values())


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
