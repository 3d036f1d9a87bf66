"""The index of a book: what its entries hang together by, kept between runs, so that a run reads no more of them than it needs.

It is brought up to date by reading the files that were written since. An excerpt is a part of a book that is for itself: whatever is asked
of what hangs together in it has the answer that the whole book gives. Where that cannot be told (a kit or a connector that could not be
read, or a connector that is named and not there, may bear on any answer) there is no excerpt, and the whole is read.
"""

from __future__ import annotations

import hashlib
import json
import os
import sqlite3
import sys
from collections.abc import Callable, Collection, Iterable, Iterator, Mapping
from contextlib import contextmanager, suppress
from dataclasses import replace
from functools import cached_property
from itertools import islice
from pathlib import Path
from typing import Any, TypeVar

from rangebook import __version__
from rangebook.book import build
from rangebook.book.book import Beyond, Book, book_of
from rangebook.book.load import Loaded, assemble, load, with_files
from rangebook.book.numbers import nearest, normalise
from rangebook.book.ties import ANYWHERE, CONNECTOR, KIT, LOST, NAMED, NEEDED, PLATED, WAY, searched, thing_of, ties_of_numbers
from rangebook.reading import garbage
from rangebook.reading.blobs import blob_id
from rangebook.reading.entry import Entry, read_entry
from rangebook.reading.entry import read_all as read_entries_of
from rangebook.reading.layers import layers_of, names_of
from rangebook.reading.listing import Listing
from rangebook.reading.stack import listing, read_all, read_one
from rangebook.reading.stack import look as look_at_pictures
from rangebook.schema.check import Checker
from rangebook.schema.store import Schemas, load_schemas, schema_files
from rangebook.store.errors import DamagedError
from rangebook.store.ledger import Ledger, Thing, using

_Result = TypeVar("_Result")

_PACKAGE = Path(__file__).resolve().parents[1]
_SEVERAL = 50
"""So many changed files are always taken in one by one; of more only as many as are a quarter of all."""
_AT_ONCE = 500
"""So many entries of a whole book are put into the ledger at once: what is kept of all is as large as the book."""
_FEW_LOST = 20
"""With more entries that could not be taken in the whole is read: an excerpt has all of them."""

_MANY = 400
"""With more entries that go by a text all are read."""

BASIS, STAMPS, PICTURES, UNSEEN = "basis", "stamps", "pictures", "unseen"
"""Facts of the ledger: what all in it was computed by; the files and pictures when they were read; the entries of which something that they
hang together with has changed since the linter looked at them last."""


def with_index(root: Path, work: Callable[[Index], _Result]) -> _Result | None:
    """Do something with the index of the book under ``root``; ``None`` where there can be none. May raise what ``work`` raises."""
    return using(_key(root), lambda ledger: work(Index(root, ledger)))


def _key(root: Path) -> str:
    return "\0".join(("book", *(f"{one.name} {one.root}" for one in layers_of(root)))) if names_of(root) else f"book {root}"


def basis_of(root: Path) -> str:
    """A digest of what everything about the book under ``root`` is computed by: the program and the schema."""
    told = hashlib.blake2b(digest_size=20)
    for words in (__version__, sys.version, *_program()):
        told.update(words.encode() + b"\0")
    for layer in layers_of(root):
        for name, path in sorted(schema_files(layer.root).items()):
            data = path.read_bytes() if path.is_file() else b""
            told.update(f"{name} {path} {len(data)}\0".encode() + data)
    return told.hexdigest()


class Index:
    """The index of one book, as its files are now."""

    def __init__(self, root: Path, ledger: Ledger, listed: Listing | None = None) -> None:
        self.root, self.ledger = root, ledger
        self._layers = layers_of(root)
        self.listing: Listing = listed or listing(root)
        self._read: dict[str, tuple[Entry, build.Item | None]] = {}

    @cached_property
    def schemas(self) -> Schemas:
        """The book's schema. Raises ``SchemaError``."""
        return load_schemas(self.root)

    @cached_property
    def checker(self) -> Checker:
        """Checks entries against the book's schema. Raises ``SchemaError``."""
        return Checker(self.schemas)

    @cached_property
    def basis(self) -> str:
        """A digest of what everything is computed by: the program and the schema."""
        return basis_of(self.root)

    # Bringing it up to date

    def refresh(self) -> bool:
        """Take in what has been written since; ``False`` where that is so much that the whole is quicker, or nothing was known."""
        facts = self.ledger.facts
        if facts.get(BASIS) != self.basis:
            return False
        before, now = _read_stamps(facts.get(STAMPS, "")), self.listing.entries
        changed = [file for file, stamp in now.items() if stamp is None or before.get(file) != stamp]
        gone = before.keys() - now.keys()
        pictures = _read_stamps(facts.get(PICTURES, ""))
        pictured = {
            file
            for file in pictures.keys() | self.listing.pictures.keys()
            if (stamp := self.listing.pictures.get(file)) is None or pictures.get(file) != stamp
        }
        # Written is not changed: of a copy just made every file is of just now.
        digests = self.ledger.digests() if changed else {}
        most = max(_SEVERAL, len(now) // 4)
        fresh: list[tuple[str, bytes | OSError, str]] = []
        for file in changed:
            data = read_one(self.root, file, self._layers)
            digest = digest_of(data)
            if digests.get(file) != digest:
                fresh.append((file, data, digest))
            if len(fresh) + len(gone) > most:
                return False
        things = [thing_of(*self._taken(file, data), digest) for file, data, digest in fresh]
        written = {*gone, *(one.name for one in things)}
        touched = {*gone, *(one.name for one in things), *filter(None, map(owner_of, pictured))}
        if touched:
            around = self.ledger.together(touched)
            if written:
                self.ledger.take_out(gone)
                self.ledger.put(things)
                around = self.ledger.together({*(around or ()), *touched} - gone)
            self.unseen |= (around or set()) - gone
        if touched or changed or pictured:
            self.ledger.tell({STAMPS: _stamps(now), PICTURES: _stamps(self.listing.pictures), UNSEEN: json.dumps(sorted(self.unseen))})
        return True

    def begin(self, read: Iterable[tuple[Entry, build.Item | None, str]]) -> None:
        """Take in the whole book anew, each entry with what was made of it, ``None`` where that is nothing, and its digest."""
        self.begin_with(thing_of(*one) for one in read)

    def begin_with(self, things: Iterable[Thing]) -> None:
        """Take in the whole book anew."""
        self.ledger.clear()
        things = iter(things)
        while some := list(islice(things, _AT_ONCE)):
            self.ledger.put(some, new=True)
        self.unseen = set()
        self.ledger.tell(
            {BASIS: self.basis, STAMPS: _stamps(self.listing.entries), PICTURES: _stamps(self.listing.pictures), UNSEEN: json.dumps([])}
        )

    def keep(self) -> None:
        """Write it down for the next run, where that can be done."""
        with suppress(sqlite3.OperationalError):
            self.ledger.write()

    @cached_property
    def unseen(self) -> set[str]:
        """The entries that the linter has to look at again."""
        try:
            return set(map(str, json.loads(self.ledger.facts.get(UNSEEN, "[]"))))
        except (ValueError, TypeError) as error:
            raise DamagedError(UNSEEN) from error

    # What there is

    @cached_property
    def lost(self) -> tuple[str, ...]:
        """The files of the entries that cannot be taken in: those with problems, and those with an id that is there already."""
        return tuple(sorted({*self.ledger.cards(LOST), *self.ledger.claimed_twice()}))

    @cached_property
    def around_lost(self) -> set[str]:
        """What is lost, with what it hangs together with: the second of one id is lost because of the first."""
        return (self.ledger.together(self.lost) or set()) if self.lost else set()

    @cached_property
    def _lost_ids(self) -> frozenset[str]:
        cards = self.ledger.cards(names=self.lost)
        ids = {_stem(file) for file in self.lost} | {one for card in cards.values() for one in _decoded(card).get("ids", ())}
        twice = (one.partition(" ")[2] for one in self.ledger.claims(set(self.lost)))
        return frozenset({*ids, *twice})

    @cached_property
    def is_plain(self) -> bool:
        """Whether an excerpt can be for itself."""
        if len(self.lost) > _FEW_LOST or any(file.split("/")[1] in ("kits", "connectors") for file in self.lost):
            return False
        if self.ledger.said_without((WAY,), CONNECTOR):
            return False
        return not self.lost or self._lost_ids.isdisjoint(self.ledger.words(CONNECTOR))

    @cached_property
    def knows_its_connectors(self) -> bool:
        """Whether every connector that a part or plug names is there: on one that is not, anything may go."""
        return not self.ledger.said_without((NAMED,), CONNECTOR)

    @cached_property
    def states_plating(self) -> bool:
        """Whether it says anywhere what terminals are plated with."""
        return self.ledger.has_flag(PLATED)

    @cached_property
    def lacks_connector(self) -> bool:
        """Whether a connector is named that is not there."""
        return not self.knows_its_connectors and bool(self.ledger.said_without((NAMED,), CONNECTOR) - self._lost_ids)

    @cached_property
    def lacks_kit(self) -> bool:
        """Whether a kit is asked for that is not there."""
        return bool(self.ledger.said_without((NEEDED,), KIT) - self._lost_ids)

    def _asked(self, ask: Callable[[Ledger], list[_Result]]) -> list[_Result]:
        try:
            return ask(self.ledger)
        except sqlite3.ProgrammingError:
            # An excerpt outlives the ledger. Where that has been deleted in between, no name is near.
            return using(_key(self.root), ask) or []

    @cached_property
    def _cards(self) -> list[dict[str, Any]]:
        return [_decoded(card) for card in self._asked(lambda ledger: [card for _, card in ledger.all_cards() if card])]

    def numbers(self) -> list[tuple[str, str]]:
        """Every part's number, normalised and as it is printed, in the order of the entries."""
        return [(str(key), str(number)) for card in self._cards for key, number in card.get("numbers", ())]

    def kit_numbers(self) -> list[str]:
        """Every kit's number, in the order of the entries."""
        return [str(card["kit"]) for card in self._cards if "kit" in card]

    def beyond(self, erring: Collection[str] = ()) -> Beyond:
        """What an excerpt has to know of the rest."""
        return Beyond(
            self.states_plating,
            self.lacks_connector,
            self.lacks_kit,
            frozenset(erring),
            lambda: self._asked(lambda ledger: ledger.words(CONNECTOR)),
            lambda: self._asked(lambda ledger: ledger.words(KIT)),
            self.numbers,
            self.kit_numbers,
            lambda: list(self.listing.entries),
        )

    def told_beyond(self, erring: Collection[str] = ()) -> Beyond:
        """The same, looked up at once: for an index that is not what it is now for long."""
        asked = self.beyond(erring)
        connectors, kits, numbers = list(asked.connectors()), list(asked.kits()), list(asked.numbers())
        kit_numbers, files = list(asked.kit_numbers()), list(asked.files())
        return replace(
            asked, connectors=lambda: connectors, kits=lambda: kits, numbers=lambda: numbers, kit_numbers=lambda: kit_numbers,
            files=lambda: files,
        )  # fmt: skip

    # Excerpts

    def excerpt(self, files: Iterable[str], erring: Collection[str] = ()) -> Loaded:
        """Some entries and all that cannot be taken in, as a book that knows of the rest what it needs. ``files`` have to be all that hang
        together. To be asked only where :attr:`is_plain`."""
        wanted = sorted({*files, *self.around_lost})
        with garbage.put_off():
            read = [self.taken(file) for file in wanted]
            book = replace(book_of(read, self.schemas.circuits, self.beyond(erring)), layers=names_of(self.root))
        return Loaded(self.root, [entry for entry, _ in read], self.schemas, book, look_at_pictures(self.root, book.photo_files))

    def taken(self, file: str) -> tuple[Entry, build.Item | None]:
        """An entry as its file is now, and what is made of it, ``None`` where that is nothing; of one file always the same."""
        return self._read.get(file) or self._taken(file, read_one(self.root, file, self._layers))

    @contextmanager
    def supposing(self, read: Mapping[str, tuple[Entry, build.Item | None] | None]) -> Iterator[Index]:
        """Inside, the index of the book as it would be if some of its files were others, ``None`` for one that is not there."""
        gone = [file for file, one in read.items() if one is None]
        things = [thing_of(*one, f"supposed {file}") for file, one in read.items() if one is not None]
        entries = {file: None for file in sorted({*self.listing.entries, *read}, key=lambda file: file.split("/")) if file not in gone}
        with self.ledger.supposing(gone, things):
            yield Index(self.root, self.ledger, replace(self.listing, entries=entries))

    def blobs(self) -> dict[str, str]:
        """Each file with the name that git has for its bytes; empty for one that could not be read."""
        return {file: digest.partition(" ")[2] for file, digest in self.ledger.digests().items()}

    def made(self, file: str, data: bytes | OSError) -> tuple[Entry, build.Item | None]:
        """An entry as it would be with some bytes, and what would be made of it."""
        entry = read_entry(file, data)
        entry.problems += self.checker.check(entry)
        return entry, build.item(entry)

    def _taken(self, file: str, data: bytes | OSError) -> tuple[Entry, build.Item | None]:
        taken = self._read[file] = self.made(file, data)
        return taken

    def around(self, numbers: Iterable[str], ids: Iterable[str] = ()) -> set[str] | None:
        """The files of all that hangs together with parts or kits of some numbers and with entries of some ids, and of all that may have to
        do with any of them; ``None`` where that is most of the book."""
        ties = {*ties_of_numbers(numbers), *(f"id {one}" for one in ids)}
        return self.ledger.together(self.ledger.cards(ANYWHERE), ties, most=max(200, self.ledger.count() // 3))


def load_around(root: Path, numbers: Collection[str], ids: Iterable[str] = ()) -> Loaded:
    """The book under ``root``, or all of it that has to do with parts of some numbers, in any spelling, and entries of some ids. Raises
    ``SchemaError``."""

    def work(index: Index) -> Loaded | None:
        if not index.refresh():
            return _whole(index)
        index.keep()
        if not index.is_plain or not index.knows_its_connectors:
            return None
        files = index.around(numbers, ids)
        if files is None:
            return None
        book = index.excerpt(files).book
        known = index.numbers
        near = [two for one in numbers if not _is_known(book, one) for two in nearest(one, (number for _, number in known()))]
        if near:
            more = index.around([*numbers, *near], ids)
            return None if more is None else index.excerpt(more)
        return index.excerpt(files)

    return with_index(root, work) or load(root)


def load_naming(root: Path, text: str, finds: Callable[[Book], bool]) -> Loaded:
    """The book under ``root``, or all of it that goes by a text, a number in any spelling or words of a name; where nothing in that is what
    ``finds`` wants, what has a number near to the text too. Raises ``SchemaError``."""

    def work(index: Index) -> Loaded | None:
        if not index.refresh():
            return _whole(index)
        index.keep()
        if not index.is_plain:
            return None
        ledger, key, words = index.ledger, normalise(text), searched(text).split()
        found = set(ledger.tied(ties_of_numbers([text])))
        found |= {*ledger.holding([searched(key)])} if key else set()
        found |= {*ledger.holding(words)} if words else set()
        if len(found) > _MANY:
            return None
        loaded = index.excerpt(found)
        if finds(loaded.book):
            return loaded
        near = nearest(text, [*(number for _, number in index.numbers()), *index.kit_numbers()])
        return index.excerpt(found | set(ledger.tied(ties_of_numbers(near))))

    return with_index(root, work) or load(root)


def _whole(index: Index) -> Loaded:
    """The whole book, and it is noted for the next time."""
    sources = list(read_all(index.root))
    digests = [digest_of(data) for _, data in sources]
    loaded = with_files(assemble(index.root, read_entries_of(sources), index.schemas, names_of(index.root)))
    items = {id(item.entry): item for item in loaded.book.items}
    # Of two with one id the second is lost as well, but what it says is known.
    made = (items.get(id(entry)) or build.item(entry) for entry in loaded.entries)
    index.begin(zip(loaded.entries, made, digests, strict=True))
    index.keep()
    return loaded


def _is_known(book: Book, number: str) -> bool:
    return bool(book.part(number) or normalise(number) in book.by_other_number or book.look_alikes(number))


def digest_of(data: bytes | OSError) -> str:
    """What tells a file's bytes from others, with the name that git has for them, or why they could not be read."""
    if isinstance(data, OSError):
        return f"{type(data).__name__}-{data.errno}"
    return f"{hashlib.blake2b(data, digest_size=16).hexdigest()} {blob_id(data)}"


def _program() -> Iterable[str]:
    """When each file of the program was written: a checkout changes without its version."""
    for here, folders, names in os.walk(_PACKAGE):
        folders[:] = sorted(name for name in folders if name not in ("__pycache__", "client", "style"))
        for name in sorted(names):
            if name.endswith((".py", ".json")):
                seen = os.stat(os.path.join(here, name))  # noqa: PTH116, PTH118 - of hundreds of files, at every start
                yield f"{here} {name} {seen.st_size} {seen.st_mtime_ns}"


def _stem(file: str) -> str:
    return file.rpartition("/")[2].removesuffix(".md")


def owner_of(picture: str) -> str | None:
    """The entry whose folder a picture lies in."""
    steps = picture.split("/")
    return f"{steps[0]}/{steps[1]}/{steps[3]}.md" if len(steps) > 4 else None


def _stamps(stamps: Mapping[str, str | None]) -> str:
    return "\0".join(f"{file}\0{stamp or ''}" for file, stamp in stamps.items())


def _read_stamps(text: str) -> dict[str, str]:
    pieces = text.split("\0") if text else []
    return dict(zip(pieces[::2], pieces[1::2], strict=False))


def _decoded(card: str) -> dict[str, Any]:
    try:
        found = json.loads(card) if card else {}
    except ValueError as error:
        raise DamagedError("card") from error
    if not isinstance(found, dict):
        raise DamagedError("card")
    return found
