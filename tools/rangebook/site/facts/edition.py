"""Which edition of the book a page belongs to: made of its facts alone, so that two builds of one book say the same."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterator
from dataclasses import dataclass

from rangebook import __version__
from rangebook.book.load import Loaded
from rangebook.book.model import Source


@dataclass(frozen=True, slots=True)
class Edition:
    """``date`` is the day of the newest check that any source states, ``None`` where none does; ``mark`` tells editions apart."""

    date: str | None
    mark: str
    entries: int | str

    @property
    def words(self) -> str:
        """The edition in one line."""
        return f"Edition {self.day} · {self.mark}"

    @property
    def day(self) -> str:
        """The date in words."""
        return self.date or "without a date"


MARK, DATE, ENTRIES = "\ue000m\ue001", "\ue000d\ue001", "\ue000e\ue001"
"""What stands in a text in the place of an edition's mark, its date in words, and how many entries it has: signs of nobody's writing."""

TO_COME = Edition(DATE, MARK, ENTRIES)
"""An edition that is put into a finished text: so the text can be the same in another one."""


def edition_of(loaded: Loaded) -> Edition:
    """The edition of a loaded book. Its mark changes with any byte of an entry, with the schema and with the program."""
    digest = hashlib.sha256(__version__.encode())
    for entry in loaded.entries:
        digest.update(f"\0{entry.file}\0{entry.source}".encode())
    digest.update(json.dumps(dict(loaded.schemas.files), sort_keys=True).encode())
    return Edition(max(_dates(loaded), default=None), digest.hexdigest()[:8], len(loaded.entries))


def _dates(loaded: Loaded) -> Iterator[str]:
    return (source.on for source in _sources(loaded) if source.on)


def _sources(loaded: Loaded) -> Iterator[Source]:
    book = loaded.book
    for part in book.parts:
        yield from part.sources
        for link in part.superseded_by:
            yield from link.sources
    for owner in book.items:
        yield from owner.sources
