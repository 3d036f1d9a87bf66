"""What the findings of a rule in an entry depend on: the ground on which what was found once need not be found again.

An *input* is something that can be looked up in any revision of a book and has a value there. Where the values of all inputs of a rule and
an entry are the same in two revisions, so is what the rule finds in it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from datetime import date
from functools import cached_property
from types import MappingProxyType
from typing import Any, NamedTuple

from rangebook.book import build
from rangebook.book.book import Book
from rangebook.book.load import Loaded
from rangebook.book.model import Connector, Family, Kit, ids_of
from rangebook.book.numbers import normalise
from rangebook.fitting.jumpers import jumpers_in
from rangebook.lint.context import Input
from rangebook.lint.rule import Check, EntryCheck, Rule, TextCheck
from rangebook.reading.entry import Entry
from rangebook.reading.photos import photo_path

TEXT, HOLDER, SCHEMA = "text", "holder", "schema"
"""Inputs that every rule has: the file, for rules of one entry the file that an id belongs to, and the schema without the circuits."""

_Keys = Callable[[build.Item], Iterator[str]]


class Ref(NamedTuple):
    """One input: its kind, and the file, id, number or path that it is of."""

    kind: str
    key: str = ""


def inputs_of(rule: Rule, entry: Entry, book: Book) -> frozenset[Ref]:
    """All inputs of a rule and an entry of a book."""
    item = item_of(entry, book)
    found = set(_own(entry))
    for check in rule.generators:
        if isinstance(check, TextCheck):
            continue
        if isinstance(check, EntryCheck):
            found |= _holder(entry)
            if isinstance(item, check.kind):
                found |= refs(check, item)
        else:
            found |= {Ref(kind) for kind in check.sees.inputs}
    return frozenset(found)


def refs(check: Check, item: build.Item | Entry) -> frozenset[Ref]:
    """The inputs of one generator that is called with ``item``."""
    entry = item if isinstance(item, Entry) else item.entry
    found = set(_own(entry))
    if not isinstance(item, Entry):
        found |= _holder(entry)
        for kind in check.sees.inputs:
            found |= {Ref(kind, key) for key in _KEYS[kind](item)}
    return frozenset(found)


def item_of(entry: Entry, book: Book) -> build.Item | None:
    """What the book took in of an entry; ``None`` where that is nothing."""
    if entry.head is None:
        return None
    item = _held(book, entry.head.get("kind"), entry.head.get("id"))
    return item if item is not None and item.entry.file == entry.file else None


class Values:
    """The values of inputs in one revision of a book, looked at on a day."""

    def __init__(self, loaded: Loaded, today: date, before: Book | None = None) -> None:
        self._loaded, self._today, self._before = loaded, today, before

    def of(self, ref: Ref) -> Any:
        """The value of an input. Two of them can be compared; it holds no more than references to what the book has."""
        return self._lookups[ref.kind](ref.key)

    @cached_property
    def _lookups(self) -> Mapping[str, Callable[[str], Any]]:
        book, schemas = self._loaded.book, self._loaded.schemas
        files = {entry.file: entry for entry in self._loaded.entries}
        texts = tuple((entry.file, entry.source) for entry in self._loaded.entries)
        return MappingProxyType(
            {
                TEXT: lambda key: _said(files.get(key)),
                HOLDER: lambda key: _holding(book, key),
                SCHEMA: lambda key: {name: file for name, file in schemas.files.items() if name != "circuits"},
                Input.CIRCUITS: lambda key: schemas.circuits,
                Input.DAY: lambda key: self._today,
                Input.CONNECTORS: lambda key: _said(one.entry) if (one := book.connectors.get(key)) else None,
                Input.JUMPERS: lambda key: frozenset(jumpers_in(book).get(key, ())),
                Input.MATES: book.switches_for_plug.get,
                Input.PARTS: lambda key: (_said(book.family_of(one).entry), one.path) if (one := book.by_number.get(key)) else None,
                Input.PICTURES: lambda key: None if (photos := self._loaded.photos) is None else (photos.get(key),),
                Input.SHELF: lambda key: self._loaded.shelf,
                Input.STRAYS: lambda key: self._loaded.strays,
                Input.BEFORE: lambda key: self._before and tuple(entry.source for entry in _entries(self._before)),
                **dict.fromkeys(
                    (Input.BOOK, Input.CHAINS, Input.VERDICTS, Input.ALLOWED), lambda key: (texts, schemas.circuits, self._today)
                ),
            }
        )


def _own(entry: Entry) -> set[Ref]:
    return {Ref(TEXT, entry.file), Ref(SCHEMA)}


def _holder(entry: Entry) -> set[Ref]:
    return set() if entry.head is None else {Ref(HOLDER, f"{entry.head.get('kind')} {entry.head.get('id')}")}


def _holding(book: Book, key: str) -> str | None:
    kind, _, name = key.partition(" ")
    item = _held(book, kind, name)
    return None if item is None else item.entry.file


def _held(book: Book, kind: Any, name: Any) -> build.Item | None:
    """What the book has of a kind under an id."""
    indexes: Mapping[str, Mapping[str, build.Item]] = {"switch": book.families, "connector": book.connectors, "kit": book.kits}
    return indexes[kind].get(name) if isinstance(kind, str) and kind in indexes and isinstance(name, str) else None


def _said(entry: Entry | None) -> Any:
    return None if entry is None else (entry.source, entry.form, entry.problems)


def _entries(book: Book) -> Iterator[Entry]:
    for index in (book.families, book.connectors, book.kits):
        yield from (item.entry for item in index.values())
    yield from book.lost


def _connectors(item: build.Item) -> Iterator[str]:
    if isinstance(item, Kit):
        yield from (*item.olds, item.new)
    elif isinstance(item, Connector):
        yield from (mate.connector for mate in item.mates)
    else:
        yield from (name for part in item.designs for name in ids_of(part.sockets))
        yield from (name for plug in item.plugs.values() for name in ids_of(plug.sockets))


def _housings(item: build.Item) -> Iterator[str]:
    if isinstance(item, Family):
        yield from (name for part in item.designs for name in ids_of(part.sockets))


def _plugs(item: build.Item) -> Iterator[str]:
    if isinstance(item, Family):
        yield from (name for plug in item.plugs.values() for name in ids_of(plug.sockets))


def _parts(item: build.Item) -> Iterator[str]:
    if isinstance(item, Family):
        yield from (normalise(one.came_with) for one in item.applications if one.came_with)


def _pictures(item: build.Item) -> Iterator[str]:
    photos = (*item.photos, *(photo for part in item.parts for photo in part.photos)) if isinstance(item, Family) else item.photos
    yield from (photo_path(item.entry.file, photo.file) for photo in photos)


def _everywhere(item: build.Item) -> Iterator[str]:
    yield ""


_KEYS: Mapping[Input, _Keys] = MappingProxyType(
    {
        Input.CIRCUITS: _everywhere,
        Input.DAY: _everywhere,
        Input.CONNECTORS: _connectors,
        Input.JUMPERS: _housings,
        Input.MATES: _plugs,
        Input.PARTS: _parts,
        Input.PICTURES: _pictures,
    }
)
"""Input of rules of one entry -> of what it is an input of an entry."""
