"""A whole book of which most was read before: what was made of each entry is kept, under the bytes that it was made of."""

from __future__ import annotations

import zlib
from base64 import b64decode, b64encode
from collections.abc import Mapping, Sequence
from pathlib import Path

from rangebook.book import build
from rangebook.book.book import book_of
from rangebook.book.index import basis_of
from rangebook.book.load import Loaded, assemble_lightly, taken_in
from rangebook.reading import garbage
from rangebook.reading.entry import HEAD, Entry, read_before
from rangebook.reading.located import At
from rangebook.reading.strict_yaml import PLACE
from rangebook.schema.check import Checker
from rangebook.schema.store import Schemas
from rangebook.store.errors import DamagedError
from rangebook.store.ledger import Ledger, Thing, using
from rangebook.store.packing import packed, unpacked_facts

_FORM = "1"
_BASIS = "basis"
_MODULES = frozenset({"rangebook.book.model", "rangebook.reading.located"})
"""Of whose classes entries are made."""
_ENTRY = "entry"
_PLACES = {PLACE: lambda place: (At, (place.line, place.column))}
"""Whatever parser told a place."""

Source = tuple[str, bytes | OSError]
"""An entry's file, relative to the root, and its bytes."""


def load_made(root: Path, sources: Sequence[Source], digests: Mapping[str, str], schemas: Schemas) -> Loaded:
    """The book of some sources, each with the digest of its bytes, as :func:`rangebook.book.load.assemble` gives it. The front matter of
    what was made before is read when it is asked for. Not for a book of several layers. Raises ``SchemaError``."""

    def work(ledger: Ledger) -> Loaded:
        known = ledger.digests() if ledger.facts.get(_BASIS) == basis_of(root) else {}
        same = [file for file, _ in sources if known.get(file) == digests[file]]
        cards = ledger.cards(names=same)
        return _loaded(root, sources, cards, schemas)

    with garbage.put_off():
        return using(_key(root), work) or assemble_lightly(root, sources, schemas)


def note_made(loaded: Loaded, digests: Mapping[str, str]) -> None:
    """Note what was made of the entries of a book that is all there is, for the next time."""
    items = {item.entry.file: item for item in loaded.book.items}

    def work(ledger: Ledger) -> None:
        basis = basis_of(loaded.root)
        if ledger.facts.get(_BASIS) != basis:
            ledger.clear()
            ledger.tell({_BASIS: basis})
        known = ledger.digests()
        ledger.take_out([file for file in known if file not in items])
        ledger.put_by_and_by(_thing(item, digests[file]) for file, item in items.items() if known.get(file) != digests[file])
        ledger.write()

    using(_key(loaded.root), work)


def _key(root: Path) -> str:
    return f"made {_FORM} {root}"


def _loaded(root: Path, sources: Sequence[Source], cards: Mapping[str, str], schemas: Schemas) -> Loaded:
    checker = Checker(schemas)
    before = {file: data for file, data in sources if file in cards and isinstance(data, bytes)}
    anew = taken_in(((file, data) for file, data in sources if file not in before), checker)
    read = [_made_before(file, before[file], cards[file]) if file in before else next(anew) for file, _ in sources]
    for entry, _ in read:
        entry.again = checker.read_again
    # The last one is put away, too.
    next(anew, None)
    return Loaded(root, [entry for entry, _ in read], schemas, book_of(read, schemas.circuits))


def _made_before(file: str, data: bytes, card: str) -> tuple[Entry, build.Item]:
    entries: list[Entry] = []

    def given(_: str) -> Entry:
        # It is all that is put aside, and the first of the two is its head.
        return entries[0]

    try:
        head, item = (zlib.decompress(b64decode(one)) for one in card.split())
        entries.append(read_before(file, data, unpacked_facts(head, _MODULES, given)))
        made: build.Item = unpacked_facts(item, _MODULES, given)
    except (ValueError, zlib.error) as error:
        raise DamagedError(file) from error
    return entries[0], made


def _thing(item: build.Item, digest: str) -> Thing:
    head = item.entry.head
    assert head is not None
    halves = (packed(one, lambda value: _ENTRY if isinstance(value, Entry) else None, _PLACES) for one in (head.only(HEAD), item))
    card = " ".join(b64encode(zlib.compress(one, 1)).decode() for one in halves)
    return Thing(item.entry.file, digest, None, 0, "", card, frozenset(), frozenset(), frozenset())
