"""The tables in one file of SQLite."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterable

from rangebook.site.bundle.tables import Table

_VERSION = slice(96, 100)
"""Where a file says which library wrote it last: it would tell two machines apart. Source: SQLite, Database File Format, 1.3."""


def database(made: Iterable[Table]) -> bytes:
    """The bytes of the file, the same by whichever library."""
    with sqlite3.connect(":memory:") as connection:
        for table in made:
            columns = ", ".join(f'"{name}" {"REAL" if kind == "number" else "TEXT"}' for name, kind in table.fields)
            connection.execute(f'CREATE TABLE "{table.name}" ({columns})')
            marks = ", ".join("?" * len(table.fields))
            connection.executemany(f'INSERT INTO "{table.name}" VALUES ({marks})', table.rows)  # noqa: S608 - the names are ours
        connection.commit()
        data = bytearray(connection.serialize())
    data[_VERSION] = bytes(4)
    return bytes(data)
