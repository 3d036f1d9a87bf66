"""The one way in for the linter, the site and the desk: a folder -> its entries, its schema and its book."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from rangebook.book import build
from rangebook.book.book import Book, book_of, build_book
from rangebook.reading import garbage
from rangebook.reading.entry import Entry, read_all, read_entries, read_entry
from rangebook.reading.files import strays
from rangebook.reading.layers import Layer, layers_of, names_of
from rangebook.reading.photos import FOLDER, PhotoFile, photo_of
from rangebook.reading.shelf import FILE
from rangebook.reading.stack import find_strays, look, read_shelf
from rangebook.schema.check import Checker
from rangebook.schema.store import Schemas, load_schemas


@dataclass(frozen=True)
class Loaded:
    """A book with all that it was made from. ``entries`` include those that could not be taken in. ``photos`` are the pictures that the
    entries state and that are there, by their paths from the root; ``None`` where nobody looked, as in an earlier state. ``shelf`` is the
    book's own stock list as its file has it, or why that cannot be read; ``None`` where there is none."""

    root: Path
    entries: Sequence[Entry]
    schemas: Schemas
    book: Book
    photos: Mapping[str, PhotoFile] | None = None
    shelf: bytes | OSError | None = None
    strays: tuple[str, ...] = ()
    """Files below ``entries/`` that nothing reads; none where nobody looked."""

    @property
    def layers(self) -> Sequence[Layer]:
        """The layers of the book, the lowest first: one, where nothing is laid together."""
        return layers_of(self.root)

    @property
    def names(self) -> tuple[str, ...]:
        """The names of its layers; none where it has but one."""
        return self.book.layers


def load(root: Path) -> Loaded:
    """Read, check and build the book under ``root``. Raises ``SchemaError`` if the schema itself cannot be read."""
    return with_files(assemble(root, read_entries(root), load_schemas(root), names_of(root)))


def with_files(loaded: Loaded) -> Loaded:
    """The same, once it has been looked which of its pictures are there, and what its stock list says."""
    return replace(
        loaded, photos=look(loaded.root, loaded.book.photo_files), shelf=read_shelf(loaded.root), strays=find_strays(loaded.root)
    )


def load_texts(texts: dict[str, bytes], schemas: Schemas | None = None, root: Path = Path()) -> Loaded:
    """The same from file names (relative to the root) and their bytes, without a disk: for tests and for earlier states."""
    lost = strays(texts)
    pictures = {file: photo_of(data) for file, data in texts.items() if f"/{FOLDER}/" in file and file not in lost}
    entries = read_all((file, data) for file, data in texts.items() if file != FILE and file not in lost and file not in pictures)
    loaded = assemble(root, entries, schemas or load_schemas(None))
    return replace(loaded, shelf=texts.get(FILE), strays=lost, photos=pictures or None)


def assemble(root: Path, entries: Sequence[Entry], schemas: Schemas, layers: tuple[str, ...] = ()) -> Loaded:
    """Check each entry against the schema and build the book of those that pass. ``layers`` are the names of the book's layers, the lowest
    first, where it has several."""
    checker = Checker(schemas)
    with garbage.put_off():
        for entry in entries:
            entry.problems += checker.check(entry)
        return Loaded(root, entries, schemas, replace(build_book(entries, schemas.circuits), layers=layers))


def assemble_lightly(root: Path, sources: Iterable[tuple[str, bytes | OSError]], schemas: Schemas, layers: tuple[str, ...] = ()) -> Loaded:
    """The same of files, without the trees of values of entries that passed: who asks for one after all has it read again."""
    checker = Checker(schemas)
    with garbage.put_off():
        made = list(taken_in(sources, checker))
        for entry, _ in made:
            entry.again = checker.read_again
        return Loaded(root, [entry for entry, _ in made], schemas, replace(book_of(made, schemas.circuits), layers=layers))


def taken_in(sources: Iterable[tuple[str, bytes | OSError]], checker: Checker) -> Iterator[tuple[Entry, build.Item | None]]:
    """Each entry, read and checked, with what it is made into. Once the next one is asked for its tree of values is put away where it has
    passed; whoever keeps the entry sets how it is read ``again``."""
    for file, data in sources:
        entry = read_entry(file, data)
        entry.problems += checker.check(entry)
        yield entry, build.item(entry)
        if not entry.problems and not entry.pieces:
            entry.put_away()
