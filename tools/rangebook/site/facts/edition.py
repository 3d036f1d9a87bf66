"""Which edition of the book a site is of, made of its facts alone, so that two builds of one book say the same; and which edition of a
file that is about one entry, which an edit elsewhere does not change."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from rangebook import __version__
from rangebook.book.build import Item
from rangebook.book.load import Loaded
from rangebook.book.model import Family, Source


@dataclass(frozen=True, slots=True)
class Edition:
    """``date`` is the day of the newest check that any source states, ``None`` where none does; ``mark`` tells editions apart."""

    date: str | None
    mark: str

    @property
    def words(self) -> str:
        """The edition in one line."""
        return f"Edition {self.day} · {self.mark}"

    @property
    def day(self) -> str:
        """The date in words."""
        return self.date or "without a date"


OWN = "\ue000m\ue001"
"""What stands in a text in the place of its own mark, until it is written: signs of nobody's writing."""


def marked(text: str) -> str:
    """A text with its own mark, which changes with anything else in it."""
    return text.replace(OWN, hashlib.sha256(text.encode()).hexdigest()[:8]) if OWN in text else text


def edition_of(loaded: Loaded) -> Edition:
    """The edition of a loaded book. Its mark changes with any byte of an entry, with the schema and with the program."""
    digest = hashlib.sha256(__version__.encode())
    for entry in loaded.entries:
        digest.update(f"\0{entry.file}\0{entry.source}".encode())
    digest.update(json.dumps(dict(loaded.schemas.files), sort_keys=True).encode())
    return Edition(_newest(loaded.book.items), digest.hexdigest()[:8])


def own_edition(item: Item) -> Edition:
    """The edition of a page that is about one entry."""
    return Edition(_newest([item]), OWN)


def _newest(items: Iterable[Item]) -> str | None:
    return max((source.on for item in items for source in _sources(item) if source.on), default=None)


def _sources(item: Item) -> Iterator[Source]:
    yield from item.sources
    for part in item.parts if isinstance(item, Family) else ():
        yield from part.sources
        for link in part.superseded_by:
            yield from link.sources
