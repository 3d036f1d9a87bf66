"""What a rule may look at."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from functools import cached_property

from rangebook.book.book import Book
from rangebook.book.load import Loaded
from rangebook.fitting.fitter import Fitter
from rangebook.schema.store import Schemas


@dataclass(frozen=True)
class TextContext:
    """What a rule of scope ``text`` may look at beside its entry: no other entry has to have been read."""

    schemas: Schemas
    today: date


@dataclass(frozen=True)
class Context:
    """The loaded book, what is computed from it, and the day on which it is looked at. Without ``remembers`` verdicts are not kept."""

    loaded: Loaded
    today: date
    remembers: bool = True

    @property
    def book(self) -> Book:
        """The book."""
        return self.loaded.book

    @property
    def schemas(self) -> Schemas:
        """The book's schema, with its controlled lists."""
        return self.loaded.schemas

    @cached_property
    def fitter(self) -> Fitter:
        """Seats and verdicts."""
        return Fitter(self.book, self.remembers)

    def knows_number(self, key: str) -> bool:
        """Whether a normalised number is in the book, or may be in an entry that could not be taken in."""
        return key in self.book.by_number or key in self.book.lost_numbers

    def knows_id(self, index: object, name: str) -> bool:
        """Whether an id is in one of the book's indexes, or may belong to an entry that could not be taken in."""
        return name in index or name in self.book.lost_ids  # type: ignore[operator]
