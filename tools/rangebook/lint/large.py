"""A large book linted from its files, in pieces that are for themselves: no process ever has all of it in memory.

First each entry is read, looked at by the rules of its text, and kept packed; what it hangs together with goes into the index. Then all
that hangs together is looked at, some of it at a time, as after a change (:mod:`rangebook.lint.again`). Both are shared by processes.
"""

from __future__ import annotations

import zlib
from collections.abc import Collection, Iterable, Mapping, Sequence
from datetime import date
from typing import NamedTuple

from rangebook.book import build
from rangebook.book.book import Asked, Beyond, book_of
from rangebook.book.index import Index, digest_of
from rangebook.book.load import Loaded
from rangebook.book.ties import thing_of
from rangebook.fitting.fitter import COMPUTING, Fitter
from rangebook.lint.again import Found, are_too_many, note_found, note_pieces
from rangebook.lint.context import Basis, Scope
from rangebook.lint.engine import Run, Taken, erring, lint_taken, take_in
from rangebook.lint.finding import Finding
from rangebook.lint.linted import Linted
from rangebook.lint.registry import all_rules
from rangebook.reading import garbage
from rangebook.reading.crew import Crew
from rangebook.reading.entry import Entry
from rangebook.reading.files import read_one
from rangebook.reading.photos import look as look_at_pictures
from rangebook.schema.check import Checker
from rangebook.store.ledger import Thing
from rangebook.store.packing import packed, unpacked

LARGE = 5_000
"""From so many files on a book is linted so by one process too: by then what is saved in memory is worth what packing costs."""

_AT_ONCE = 32
"""So many files are read as one piece."""
_TOGETHER = 48
"""So many entries, or more where more hang together, are looked at as one piece."""


class _Read(NamedTuple):
    """Some entries, packed, what is to be kept of each, and what the rules of their texts find in them."""

    kept: list[bytes]
    things: list[Thing]
    findings: list[Finding]


def lint_large(index: Index, today: date, processes: int) -> Found:
    """Everything that the linter finds in the book of an index, which is begun anew and has it noted. Raises ``SchemaError``."""
    files = list(index.listing.entries)
    reading = _Reading(index, files, today)
    kept: dict[str, bytes] = {}
    texts: dict[str, list[Finding]] = {}

    def things() -> Iterable[Thing]:
        for some in Crew(-(-len(files) // _AT_ONCE), reading.read, processes).results():
            kept.update(zip((one.name for one in some.things), some.kept, strict=True))
            for one in some.findings:
                texts.setdefault(one.file, []).append(one)
            yield from some.things

    with garbage.put_off():
        index.begin_with(things())
        if index.is_plain:
            looking = _Looking(index, kept, texts, reading.checker, today)
            pieces = looking.pieces(processes)
            if not are_too_many(one for piece in pieces for one in piece.found):
                return note_pieces(index, today, ((piece.files, piece.found, piece.asked) for piece in pieces))
        taken = Taken([], [], [one for some in texts.values() for one in some])
        for file in files:
            entry, item = _unpacked(kept.pop(file))
            taken.entries.append(entry)
            taken.items.append(item)
        loaded, found = lint_taken(index.root, taken, index.schemas, reading.checker, today, processes)
        note_found(index, loaded, found, loaded.book.questions.asked, today)
        return Linted(index.root, loaded.entries), found


class _Reading:
    def __init__(self, index: Index, files: Sequence[str], today: date) -> None:
        self._root, self._files, self.checker, self._basis = index.root, files, index.checker, Basis(index.schemas, today)

    def read(self, at: int) -> _Read:
        """The piece at a place."""
        sources = [(file, read_one(self._root, file)) for file in self._files[at * _AT_ONCE : (at + 1) * _AT_ONCE]]
        taken = take_in(sources, self.checker, self._basis)
        digests = [digest_of(data) for _, data in sources]
        made = list(zip(taken.entries, taken.items, strict=True))
        things = [thing_of(entry, item, digest) for (entry, item), digest in zip(made, digests, strict=True)]
        return _Read([zlib.compress(packed(one), 1) for one in made], things, taken.findings)


class _Piece(NamedTuple):
    """Entries that were looked at together, what was found in them, and which questions about the whole were asked for it."""

    files: Collection[str]
    found: list[Finding]
    asked: Asked


class _Looking:
    """Looks at what hangs together. All that is asked of the index is asked before work is shared: a process that is forked must not."""

    def __init__(
        self, index: Index, kept: Mapping[str, bytes], texts: Mapping[str, Sequence[Finding]], checker: Checker, today: date
    ) -> None:
        self._root, self._schemas, self._kept, self._texts = index.root, index.schemas, kept, texts
        self._checker, self._today = checker, today
        self._lost = frozenset(index.around_lost)
        self._beyond = index.told_beyond()
        self._rules = tuple(all_rules().values())
        self._shares: list[list[str]] = []
        for group in index.ledger.groups():
            if not self._shares or len(self._shares[-1]) >= _TOGETHER:
                self._shares.append([])
            self._shares[-1].extend(group)

    def pieces(self, processes: int) -> list[_Piece]:
        """The whole book. What a rule says that goes by which others find an error anywhere is said when that is known."""
        garbage.keep()
        found = list(Crew(len(self._shares), lambda at: self._piece(at, self._beyond), processes).results())
        wrong = [erring(one.found) for one in found]
        for at, one in enumerate(found):
            elsewhere = {rule for other, rules in enumerate(wrong) if other != at for rule in rules} if Asked.ERRING in one.asked else set()
            if elsewhere:
                found[at] = self._piece(at, self._beyond.with_erring(elsewhere))
        return found

    def _piece(self, at: int, beyond: Beyond) -> _Piece:
        try:
            return self._looked_at(at, beyond)
        finally:
            garbage.let_go(COMPUTING)

    def _looked_at(self, at: int, beyond: Beyond) -> _Piece:
        files = frozenset(self._shares[at])
        read = [_unpacked(self._kept[file]) for file in sorted(files | self._lost)]
        for entry, _ in read:
            if entry.tree is None and entry.head is not None:
                entry.again = self._checker.read_again
        book = book_of(read, self._schemas.circuits, beyond)
        entries = [entry for entry, _ in read]
        loaded = Loaded(self._root, entries, self._schemas, book, look_at_pictures(self._root, book.photo_files))
        run = Run(loaded, self._today, self._rules, Fitter(book, remembers=False))
        found = [one for entry in entries for one in self._texts.get(entry.file, ())]
        found += [*run.of_entries(), *run.of_book(Scope.BOOK), *run.of_book(Scope.VERDICTS)]
        return _Piece(files, [one for one in run.settled(found) if one.file in files], book.questions.asked)


def _unpacked(data: bytes) -> tuple[Entry, build.Item | None]:
    return unpacked(zlib.decompress(data))  # type: ignore[no-any-return]
