"""Two states of one book that share every entry which is the same in both: read once, checked once, modelled once."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from pathlib import Path
from types import MappingProxyType

from rangebook.book import build
from rangebook.book.book import Book, book_of
from rangebook.book.load import Loaded, taken_in
from rangebook.fitting.fitter import Fitter
from rangebook.reading import garbage
from rangebook.reading.crew import Crew, can_fork, processors
from rangebook.reading.entry import Entry, read_all
from rangebook.reading.form import form_of
from rangebook.reading.git import BookFiles
from rangebook.reading.stack import with_own
from rangebook.revisions.two_books import beside
from rangebook.schema.check import Checker
from rangebook.schema.errors import SchemaError
from rangebook.schema.shape import ShapeError, parsed
from rangebook.schema.store import FILES, Circuit, Schemas, checked, load_schemas, with_added

Source = tuple[str, bytes | OSError]
"""A file relative to the root and its bytes, or the error that reading it gave."""

MANY = 300
"""From so many unchanged files on other processes are worth their start."""

_AT_ONCE = 32
"""So many files are taken in as one piece, by whichever process is free."""


@dataclass(frozen=True)
class States:
    """``old`` and ``new``; an entry that both have alike is one and the same object in both.

    ``files`` says of each file that is not: ``added``, ``removed`` or ``changed``, in the order of their names.
    """

    old: Loaded
    new: Loaded
    files: Mapping[str, str]

    @cached_property
    def fitters(self) -> tuple[Fitter, Fitter]:
        """Of the old book and of the new one, sharing what they compute where they may."""
        new = Fitter(self.new.book)
        return beside(self.old.book, new), new


def two_states(
    root: Path,
    old: Iterable[Source],
    new: Iterable[Source],
    old_schemas: Schemas,
    new_schemas: Schemas,
    layers: tuple[tuple[str, ...], tuple[str, ...]] = ((), ()),
) -> States:
    """Make both books from their files, ``layers`` the names of the layers of each. What differs in line ends only counts as the same."""
    before, now = dict(old), dict(new)
    shareable = old_schemas.files == new_schemas.files
    same = {file for file, data in before.items() if file in now and are_alike(data, now[file])}
    new_entries, items = _taken(now, same if shareable else set(), new_schemas)
    by_file = {entry.file: entry for entry in new_entries} if shareable else {}
    own = [(file, data) for file, data in before.items() if file not in same or not shareable]
    fresh = {entry.file: entry for entry in _checked(own, old_schemas)}
    old_entries = [fresh.get(file) or by_file[file] for file in before]
    new_book = replace(book_of(zip(new_entries, items, strict=True), new_schemas.circuits), layers=layers[1])
    old_book = replace(_book_beside(old_entries, new_book, old_schemas.circuits), layers=layers[0])
    files = {file: _how(file, before, now) for file in {**before, **now} if file not in same}
    return States(
        Loaded(root, old_entries, old_schemas, old_book),
        Loaded(root, new_entries, new_schemas, new_book),
        MappingProxyType(dict(sorted(files.items()))),
    )


def amended(old: Loaded, files: Mapping[str, bytes]) -> States:
    """A book and what it would be with some files put into its own folder, new ones or in the place of others."""
    was = {entry.file for entry in old.entries}
    own = with_own(old.root, files) if old.book.layers else files
    return States(old, changed(old, own, ()), MappingProxyType({file: "changed" if file in was else "added" for file in sorted(files)}))


def changed(old: Loaded, files: Mapping[str, bytes | OSError], gone: Collection[str]) -> Loaded:
    """A book with some files put into it, new ones or in the place of others, and without those that are ``gone``."""
    was = {entry.file: entry for entry in old.entries if entry.file not in gone}
    fresh = {entry.file: entry for entry in _checked(files.items(), old.schemas)}
    entries = [fresh.get(file) or was[file] for file in sorted({**was, **fresh}, key=lambda file: file.split("/"))]
    book = replace(_book_beside(entries, old.book, old.schemas.circuits), layers=old.book.layers)
    return Loaded(old.root, entries, old.schemas, book)


def _how(file: str, old: Mapping[str, object], new: Mapping[str, object]) -> str:
    if file not in old:
        return "added"
    return "changed" if file in new else "removed"


def schemas_at(files: BookFiles, words: str) -> Schemas:
    """The schema of a book at a commit, with what its layers add. Raises ``SchemaError``, which names ``words``."""
    shipped = load_schemas(None)
    return with_added(schemas_over(shipped, files.schema, words) if files.schema else shipped, files.above)


def schemas_over(shipped: Schemas, files: Mapping[str, bytes], words: str) -> Schemas:
    """The shipped schema with a book's own ``files`` (name and bytes) over it. Raises ``SchemaError``, which names ``words``."""
    loaded = dict(shipped.files)
    own = {name: f"{words}: schema/{name}.json" for name in FILES if f"{name}.json" in files}
    for name, called in own.items():
        try:
            loaded[name] = parsed(files[f"{name}.json"])
        except ShapeError as error:
            raise SchemaError(f"{called} {error}") from error
    return checked(loaded, own, shipped)


def are_alike(one: bytes | OSError, other: bytes | OSError) -> bool:
    """Whether two files say the same to the reader, line ends and all."""
    if isinstance(one, OSError) or isinstance(other, OSError):
        return False
    if one == other:
        return True
    # Git may turn the line ends of a checkout; to the reader they are all the same, unless they are of several kinds.
    return one.replace(b"\r\n", b"\n") == other.replace(b"\r\n", b"\n") and form_of(one).oddities == form_of(other).oddities


def _taken(sources: Mapping[str, bytes | OSError], shared: set[str], schemas: Schemas) -> tuple[list[Entry], list[build.Item | None]]:
    """Every entry and what it is made into. Of a large book other processes help with the files that are ``shared``: of these
    nobody needs the tree of values, so it is put away, and read again for who asks for it after all."""
    if len(shared) < MANY or processors() == 1 or not can_fork():
        entries = _checked(sources.items(), schemas)
        return entries, [build.item(entry) for entry in entries]
    apart = [(file, sources[file]) for file in sorted(shared)]
    crew = Crew(-(-len(apart) // _AT_ONCE), lambda at: _put_away(apart[at * _AT_ONCE : (at + 1) * _AT_ONCE], schemas), processors())
    here = _checked(((file, data) for file, data in sources.items() if file not in shared), schemas)
    found = {entry.file: (entry, build.item(entry)) for entry in here}
    again = Checker(schemas).read_again
    for some in crew.results():
        for entry, item in some:
            entry.again = again
            found[entry.file] = entry, item
    taken = [found[file] for file in sources]
    return [entry for entry, _ in taken], [item for _, item in taken]


def _put_away(sources: Sequence[Source], schemas: Schemas) -> list[tuple[Entry, build.Item | None]]:
    with garbage.put_off():
        return list(taken_in(sources, Checker(schemas)))


def _checked(sources: Iterable[Source], schemas: Schemas) -> list[Entry]:
    entries = read_all(sources)
    checker = Checker(schemas)
    for entry in entries:
        entry.problems += checker.check(entry)
    return entries


def _book_beside(entries: Iterable[Entry], like: Book, circuits: Mapping[str, Circuit]) -> Book:
    """The book of ``entries``, with the models that ``like`` has of those that it shares. The same as
    ``build_book(entries, circuits)``."""
    models = {id(item.entry): item for item in like.items}
    # Of two with one id the second is in no index; which of them counts is decided in one place only.
    return book_of(((entry, models.get(id(entry)) or build.item(entry)) for entry in entries), circuits)
