"""The one way in for the linter, the site and the desk: a folder -> its entries, its schema and its book."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from rangebook.book.book import Book, build_book
from rangebook.reading import garbage
from rangebook.reading.entry import Entry, read_all, read_entries
from rangebook.reading.photos import PhotoFile, look
from rangebook.schema.check import Checker
from rangebook.schema.store import Schemas, load_schemas


@dataclass(frozen=True)
class Loaded:
    """A book with all that it was made from. ``entries`` include those that could not be taken in. ``photos`` are the pictures that the
    entries state and that are there, by their paths from the root; ``None`` where nobody looked, as in an earlier state."""

    root: Path
    entries: Sequence[Entry]
    schemas: Schemas
    book: Book
    photos: Mapping[str, PhotoFile] | None = None


def load(root: Path) -> Loaded:
    """Read, check and build the book under ``root``. Raises ``SchemaError`` if the schema itself cannot be read."""
    return with_photos(assemble(root, read_entries(root), load_schemas(root)))


def with_photos(loaded: Loaded) -> Loaded:
    """The same, once it has been looked which of its pictures are there."""
    return replace(loaded, photos=look(loaded.root, loaded.book.photo_files))


def load_texts(texts: dict[str, bytes], schemas: Schemas | None = None, root: Path = Path()) -> Loaded:
    """The same from file names (relative to the root) and their bytes, without a disk: for tests and for earlier states."""
    return assemble(root, read_all(texts.items()), schemas or load_schemas(None))


def assemble(root: Path, entries: Sequence[Entry], schemas: Schemas) -> Loaded:
    """Check each entry against the schema and build the book of those that pass."""
    checker = Checker(schemas)
    with garbage.put_off():
        for entry in entries:
            entry.problems += checker.check(entry)
        return Loaded(root, entries, schemas, build_book(entries, schemas.circuits))
