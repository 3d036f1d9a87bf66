"""What a rule may look at beside its entry: one context for each scope and for each group of inputs, and nothing in it but these.

A generator names the class of its context, and so declares what its findings depend on. The engine makes each context once for a book.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Container, Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from enum import StrEnum
from typing import ClassVar, Protocol, Self

from rangebook.book.book import Asked, Book
from rangebook.book.load import Loaded
from rangebook.book.model import Connector, Part
from rangebook.electrics.range_output import CircuitRoles, roles_of
from rangebook.fitting.jumpers import Jumpers, jumpers_in
from rangebook.fitting.seats import Seat
from rangebook.fitting.verdict import Verdict
from rangebook.lint.finding import Owner
from rangebook.lint.stock import Stock, stock_of
from rangebook.lint.suppression import Suppression
from rangebook.reading.entry import Entry
from rangebook.reading.located import Mark
from rangebook.reading.photos import PhotoFile
from rangebook.schema.store import Circuit, Schemas


class Scope(StrEnum):
    """What a rule looks at."""

    TEXT = "text"
    ENTRY = "entry"
    BOOK = "book"
    VERDICTS = "verdicts"
    SUPPRESSIONS = "suppressions"
    REVISIONS = "revisions"


class Input(StrEnum):
    """Something that what is found in an entry may depend on, beside the entry itself and the schema that it was read by."""

    CIRCUITS = "circuits"
    """The controlled list of circuits."""
    DAY = "day"
    """The day on which the book is looked at."""
    CONNECTORS = "connectors"
    """The connectors that the entry names."""
    MATES = "mates"
    """What the plugs that the entry states go onto."""
    JUMPERS = "jumpers"
    """The jumpers of the plugs that go on the connectors of the entry's parts."""
    PARTS = "parts"
    """The parts that the entry's vehicles came with."""
    PICTURES = "pictures"
    """The picture files that the entry states."""
    BOOK = "book"
    """Every entry."""
    CHAINS = "chains"
    """Of each seat the verdicts along the makers' chain from its part, and the errors in what these were computed from."""
    VERDICTS = "verdicts"
    """Any verdict."""
    ALLOWED = "allowed"
    """What entries allow, and all that was found."""
    SHELF = "shelf"
    """The book's own stock list."""
    STRAYS = "strays"
    """The files below ``entries/`` that nothing reads."""
    BEFORE = "before"
    """An earlier revision of the book."""


@dataclass(frozen=True)
class Basis:
    """What there is before the book is: its schema, and the day on which it is looked at."""

    schemas: Schemas
    today: date


class Judge(Protocol):
    """What is asked for verdicts: the fitter."""

    @property
    def seats(self) -> Sequence[Seat]:
        """Every seat of the book."""

    def verdict(self, seat: Seat, part: Part) -> Verdict:
        """The verdict of one part on one seat."""


@dataclass(frozen=True)
class View(Basis):
    """All that contexts are made from, what takes its time only when it is asked for."""

    loaded: Loaded
    judge: Callable[[], Judge]
    seats: Callable[[], Sequence[Seat]]
    """Those of which anything may have changed; all, where nothing is known of that."""
    errors_in: Callable[[Owner], Sequence[Mark]]
    """The places of what the rules of one entry have against it and it does not allow."""
    allows: Callable[[str, str], bool]
    """Whether the entry in a file lets something stand that the rule of a name finds in it."""
    suppressions: Callable[[], Iterable[Suppression]]
    rules: Collection[str]
    before: Book | None

    @property
    def book(self) -> Book:
        """The book."""
        return self.loaded.book


@dataclass(frozen=True)
class Context:
    """What rules of one entry see: nothing but that entry, unless a class below this one says otherwise."""

    inputs: ClassVar[frozenset[Input]] = frozenset()

    @classmethod
    def of(cls, view: View) -> Self:
        """The context in a book."""
        return cls()


@dataclass(frozen=True)
class TextContext(Context):
    """What rules of an entry's text see: the schema."""

    schemas: Schemas

    @classmethod
    def of(cls, view: Basis) -> Self:
        """What is seen of what there is."""
        return cls(view.schemas)


@dataclass(frozen=True)
class Day(Context):
    """The day on which the book is looked at."""

    inputs = frozenset({Input.DAY})
    today: date

    @classmethod
    def of(cls, view: View) -> Self:
        """What is seen of what there is."""
        return cls(view.today)


@dataclass(frozen=True)
class Circuits(Context):
    """The controlled list of circuits."""

    inputs = frozenset({Input.CIRCUITS})
    circuits: Mapping[str, Circuit]
    roles: CircuitRoles

    @classmethod
    def of(cls, view: View) -> Self:
        """What is seen of what there is."""
        circuits = view.schemas.circuits
        return cls(circuits, roles_of(circuits))


@dataclass(frozen=True)
class Guarded(Context):
    """The controlled list of circuits, and what jumpers in plugs close outside a part, by the connector of its housing."""

    inputs = frozenset({Input.CIRCUITS, Input.JUMPERS})
    circuits: Mapping[str, Circuit]
    jumpers: Jumpers

    @classmethod
    def of(cls, view: View) -> Self:
        """What is seen of what there is."""
        return cls(view.schemas.circuits, jumpers_in(view.book))


@dataclass(frozen=True)
class Housings(Context):
    """Connectors by their ids."""

    inputs = frozenset({Input.CONNECTORS})
    connectors: Mapping[str, Connector]

    @classmethod
    def of(cls, view: View) -> Self:
        """What is seen of what there is."""
        return cls(view.book.connectors)


@dataclass(frozen=True)
class Meeting(Context):
    """What is on the vehicles' plugs: the parts by their numbers in any spelling, what goes onto which plug, and the circuits."""

    inputs = frozenset({Input.PARTS, Input.MATES, Input.CIRCUITS, Input.CONNECTORS})
    part: Callable[[str], Part | None]
    mates: Mapping[str, tuple[str, ...]]
    circuits: Mapping[str, Circuit]
    connectors: Mapping[str, Connector]

    @classmethod
    def of(cls, view: View) -> Self:
        """What is seen of what there is."""
        return cls(view.book.part, view.book.switches_for_plug, view.schemas.circuits, view.book.connectors)


@dataclass(frozen=True)
class Pictures(Context):
    """The picture files that are there, by their paths from the root; ``None`` where nobody looked."""

    inputs = frozenset({Input.PICTURES})
    photos: Mapping[str, PhotoFile] | None

    @classmethod
    def of(cls, view: View) -> Self:
        """What is seen of what there is."""
        return cls(view.loaded.photos)


@dataclass(frozen=True)
class WideContext(Context):
    """What rules see that are asked once for a book."""

    scope: ClassVar[Scope]


@dataclass(frozen=True)
class WholeBook(WideContext):
    """Every entry, and the book that those without problems make."""

    scope = Scope.BOOK
    inputs = frozenset({Input.BOOK})
    book: Book
    entries: Sequence[Entry]

    @classmethod
    def of(cls, view: View) -> Self:
        """What is seen of what there is."""
        return cls(view.book, view.loaded.entries)

    def files(self) -> Iterable[str]:
        """The files of all entries, those beyond an excerpt too."""
        self.book.asks(Asked.NAMES)
        return self.book.beyond.files() if self.book.beyond else [entry.file for entry in self.entries]

    def knows_number(self, key: str) -> bool:
        """Whether a normalised number is in the book, or may be in an entry that could not be taken in."""
        return key in self.book.by_number or key in self.book.lost_numbers

    def knows_id(self, index: Container[str], name: str) -> bool:
        """Whether an id is in one of the book's indexes, or may belong to an entry that could not be taken in."""
        return name in index or name in self.book.lost_ids


@dataclass(frozen=True)
class Shelf(WideContext):
    """The book's own stock list, and the numbers that it may name."""

    scope = Scope.BOOK
    inputs = frozenset({Input.BOOK, Input.SHELF})
    stock: Stock
    book: Book

    @classmethod
    def of(cls, view: View) -> Self:
        """What is seen of what there is."""
        return cls(stock_of(view.loaded.shelf), view.book)


@dataclass(frozen=True)
class Strays(WideContext):
    """The files below ``entries/`` that nothing reads, by their paths from the root."""

    scope = Scope.BOOK
    inputs = frozenset({Input.STRAYS})
    files: Sequence[str]

    @classmethod
    def of(cls, view: View) -> Self:
        """What is seen of what there is."""
        return cls(view.loaded.strays)


@dataclass(frozen=True)
class Verdicts(WideContext):
    """Every seat and any verdict."""

    scope = Scope.VERDICTS
    inputs = frozenset({Input.VERDICTS})
    book: Book
    seats: Sequence[Seat]
    verdict: Callable[[Seat, Part], Verdict]

    @classmethod
    def of(cls, view: View) -> Self:
        """What is seen of what there is."""
        judge = view.judge()
        return cls(view.book, judge.seats, judge.verdict)


@dataclass(frozen=True)
class Chains(WideContext):
    """The seats of the book, or of two revisions those that differ, and the verdicts along the makers' chain from each one's part.

    Nothing may be looked at beside them but the families on that chain, connectors and kits, and what rules of one entry found there.
    """

    scope = Scope.VERDICTS
    inputs = frozenset({Input.CHAINS})
    book: Book
    seats: Sequence[Seat]
    verdict: Callable[[Seat, Part], Verdict]
    errors_in: Callable[[Owner], Sequence[Mark]]
    allows: Callable[[str, str], bool]
    schemas: Schemas

    @classmethod
    def of(cls, view: View) -> Self:
        """What is seen of what there is."""
        return cls(view.book, view.seats(), view.judge().verdict, view.errors_in, view.allows, view.schemas)


@dataclass(frozen=True)
class TwoRevisions(WideContext):
    """The book before and now."""

    scope = Scope.REVISIONS
    inputs = frozenset({Input.BEFORE, Input.BOOK})
    before: Book
    book: Book

    @classmethod
    def of(cls, view: View) -> Self:
        """What is seen of what there is."""
        if view.before is None:
            raise ValueError("there is no earlier revision to compare with")
        return cls(view.before, view.book)


@dataclass(frozen=True)
class Allowed(WideContext):
    """What entries allow and how each of it stands, and the names of all rules."""

    scope = Scope.SUPPRESSIONS
    inputs = frozenset({Input.ALLOWED})
    suppressions: Iterable[Suppression]
    rules: Collection[str]

    @classmethod
    def of(cls, view: View) -> Self:
        """What is seen of what there is."""
        return cls(view.suppressions(), view.rules)
