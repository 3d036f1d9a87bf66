"""The file of a book's own stock list."""

from __future__ import annotations

from pathlib import Path

from rangebook.reading.files import read_bytes
from rangebook.reading.links import refuse_links

FILE = "shelf.csv"
"""Its name, beside ``entries/``."""


def read_shelf(root: Path) -> bytes | OSError | None:
    """The bytes of the stock list of the book under ``root``, or the error that reading it gave; ``None`` where the book has none."""
    path = root / FILE
    try:
        refuse_links(root, path)
        return read_bytes(path)
    except FileNotFoundError:
        return None
    except OSError as error:
        return error
