"""Two states of a book, as far as they can differ: what has changed, and all that hangs together with it in either.

What is in the index of the book is not read again. Where the rest of the book can tell that something has changed (an entry that cannot
be taken in, a connector that is named and not there, a part that may be on any connector) there is no such excerpt.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping
from types import MappingProxyType
from typing import NamedTuple

from rangebook.book import build
from rangebook.book.book import Beyond, book_of
from rangebook.book.index import Index
from rangebook.book.load import Loaded
from rangebook.book.ties import ANYWHERE
from rangebook.reading import garbage
from rangebook.reading.entry import Entry
from rangebook.reading.files import read_one
from rangebook.revisions.states import States, are_alike

Erring = Callable[[Collection[str]], Collection[str] | None]
"""Some files of the book -> the rules of which an error was found anywhere else; ``None`` where that is not known."""


class _Whole(NamedTuple):
    """What is to be the same of both states as a whole, whether an excerpt can be had, and what there is beside one."""

    alike: tuple[object, ...]
    is_plain: bool
    anywhere: frozenset[str]
    lost: frozenset[str]
    beyond: Beyond


def states_around(index: Index, before: Mapping[str, bytes | OSError | None], erring: Erring) -> States | None:
    """The book of an index and what it was ``before``: what each file was that is not the same now, ``None`` where it was not there.
    ``None`` where the whole has to be looked at."""
    most = max(200, index.ledger.count() // 3)
    if len(before) > most:
        return None
    now = index.listing.entries
    changed = {
        file: data
        for file, data in before.items()
        if not (data is not None and file in now and are_alike(data, read_one(index.root, file)))
    }
    with garbage.put_off():
        old = {file: None if data is None else index.made(file, data) for file, data in changed.items()}
        new = {file: index.taken(file) if file in now else None for file in changed}
        after = _whole(index)
        reached = index.ledger.together(changed) or set()
        with index.supposing(old) as was:
            earlier = _whole(was)
            if not (after.is_plain and earlier.is_plain) or after.alike != earlier.alike:
                return None
            reached = was.ledger.together({*reached, *changed}) or set()
            anywhere = after.anywhere | earlier.anywhere
            if not anywhere.isdisjoint(reached):
                return None
            files = {*(was.ledger.together(reached | anywhere) or ()), *after.lost, *earlier.lost}
        elsewhere = erring(files)
        if len(files) > most or elsewhere is None:
            return None
        shared = {file: index.taken(file) for file in files - changed.keys()}
        first, second = (
            _state(index, {**shared, **own}, whole.beyond.with_erring(elsewhere)) for own, whole in ((old, earlier), (new, after))
        )
    how = {file: "removed" if new[file] is None else "added" if old[file] is None else "changed" for file in sorted(changed)}
    return States(first, second, MappingProxyType(how))


def _state(index: Index, files: Mapping[str, tuple[Entry, build.Item | None] | None], beyond: Beyond) -> Loaded:
    read = [one for _, one in sorted(files.items()) if one is not None]
    return Loaded(index.root, [entry for entry, _ in read], index.schemas, book_of(read, index.schemas.circuits, beyond))


def _whole(index: Index) -> _Whole:
    lost = tuple((file, index.ledger.digest(file)) for file in index.lost)
    return _Whole(
        (index.states_plating, index.lacks_connector, index.lacks_kit, lost),
        index.is_plain and index.knows_its_connectors,
        frozenset(index.ledger.cards(ANYWHERE)),
        frozenset(index.around_lost),
        index.told_beyond(),
    )
