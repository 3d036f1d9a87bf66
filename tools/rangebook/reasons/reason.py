"""What a reason is made of. The list of all codes stands in :mod:`rangebook.reasons.codes`."""

from __future__ import annotations

import inspect
from collections.abc import Callable
from dataclasses import dataclass
from enum import IntEnum, StrEnum
from typing import Any, ClassVar, TypeVar, dataclass_transform, get_type_hints


class Check(StrEnum):
    """The checks, in the order in which they are made; safety stands apart from all."""

    MOUNT = "mount"
    MATING = "mating"
    BEHAVIOUR = "behaviour"
    SAFETY = "safety"


class Outcome(StrEnum):
    """What one reason comes to."""

    FOR = "for"
    AGAINST = "against"
    MISSING = "missing"


class Side(StrEnum):
    """Whom or what a reason is about: the part that the vehicle was built with, the one that may stand in, both of them, the vehicle's
    plug, a kit, or the book itself."""

    ORIGINAL = "original"
    CANDIDATE = "candidate"
    BOTH = "both"
    PLUG = "plug"
    KIT = "kit"
    BOOK = "book"


class Of(StrEnum):
    """What of it."""

    ITSELF = "itself"
    MOUNT = "mount"
    CONNECTOR = "connector"
    FILE = "file"
    CONTACTS = "contacts"
    PIN = "pin"
    WIRE = "wire"
    PAIR = "pair"
    POSITION = "position"
    RATING = "rating"


class Rank(IntEnum):
    """How much a missing fact settles, least first. A whole check settles more than any number of single comparisons, and that the
    plug goes on at all more than anything: without it nothing else can be looked at."""

    NOTHING = 0
    COMPARISONS = 1
    CHECK = 2
    ALL_THAT_FOLLOWS = 3


@dataclass(frozen=True, slots=True)
class Subject:
    """``names`` are those of ``of``: a pin or a wire by its cavity, a pair by its two, a connector by its id, a file by its path; none
    where there is but one, as a part's mount."""

    side: Side
    of: Of = Of.ITSELF
    names: tuple[str, ...] = ()

    def data(self) -> dict[str, Any]:
        """As JSON data."""
        return {"side": str(self.side), "of": str(self.of), "names": list(self.names)}


class Detail:
    """One code with its figures. A subclass is declared with :func:`declared`: its fields are the code's parameters, its docstring is
    what the code means."""

    code: ClassVar[str]
    check: ClassVar[Check]
    outcome: ClassVar[Outcome]
    rank: ClassVar[Rank]
    parameters: ClassVar[tuple[str, ...]]

    # What `dataclass(frozen=True)` gives, without a class written and compiled for each of the codes at every start of the command.

    def __init__(self, *values: object, **named: object) -> None:
        names = self.parameters
        known = self.__dict__
        if named or len(values) != len(names):
            given = dict(zip(names, values, strict=False))
            if len(values) > len(names) or given.keys() & named.keys() or {*given, *named} != {*names}:
                raise TypeError(f"{type(self).__name__} takes {', '.join(names) or 'nothing'}")
            given |= named
            values = tuple(given[name] for name in names)
        known.update(zip(names, values, strict=True))

    def __setattr__(self, name: str, value: object) -> None:
        raise AttributeError(f"{type(self).__name__} is not to be changed: {name}")

    def __delattr__(self, name: str) -> None:
        raise AttributeError(f"{type(self).__name__} is not to be changed: {name}")

    def __eq__(self, other: object) -> bool:
        return self.__dict__ == other.__dict__ if type(self) is type(other) else NotImplemented

    def __hash__(self) -> int:
        return hash(tuple(self.__dict__.values()))

    def __repr__(self) -> str:
        return f"{type(self).__name__}({', '.join(f'{name}={value!r}' for name, value in self.__dict__.items())})"


_Declared = TypeVar("_Declared", bound=Detail)

CODES: dict[str, type[Detail]] = {}
"""Every code -> what it holds, in the order in which they are declared."""


@dataclass_transform(frozen_default=True)
def declared(code: str, outcome: Outcome, rank: Rank = Rank.NOTHING) -> Callable[[type[_Declared]], type[_Declared]]:
    """Declare a code. Its check stands before the dot; ``rank`` says what it settles when something is missing."""

    def declare(cls: type[_Declared]) -> type[_Declared]:
        if code in CODES:
            raise ValueError(f"the code {code} is declared twice")
        cls.code, cls.check, cls.outcome, cls.rank = code, Check(code.partition(".")[0]), outcome, rank
        cls.parameters = tuple(inspect.get_annotations(cls))
        cls.__match_args__ = cls.parameters  # type: ignore[misc, attr-defined]
        CODES[code] = cls
        return cls

    return declare


@dataclass(frozen=True, slots=True)
class Reason:
    """One thing that was checked. ``count`` is, for something missing, how many open comparisons hang on it."""

    detail: Detail
    subject: Subject
    count: int = 1

    @property
    def code(self) -> str:
        """The stable name of what it says."""
        return self.detail.code

    @property
    def check(self) -> Check:
        """Which check it belongs to."""
        return self.detail.check

    @property
    def outcome(self) -> Outcome:
        """What it comes to."""
        return self.detail.outcome

    @property
    def weight(self) -> tuple[Rank, int]:
        """What is settled by finding out what is missing: the larger the more."""
        return self.detail.rank, self.count

    @property
    def settles(self) -> bool:
        """Whether finding out what is missing settles anything by itself."""
        return self.detail.rank > Rank.NOTHING and self.count > 0


def parameters_of(detail: Detail | type[Detail]) -> tuple[str, ...]:
    """The names of a code's parameters."""
    return detail.parameters


def types_of(cls: type[Detail]) -> dict[str, Any]:
    """The types of a code's parameters by name."""
    hints = get_type_hints(cls)
    return {name: hints[name] for name in parameters_of(cls)}


def parameters(detail: Detail) -> dict[str, Any]:
    """A code's parameters as JSON data."""
    return {name: _plain(getattr(detail, name)) for name in parameters_of(detail)}


def _plain(value: Any) -> Any:
    if isinstance(value, StrEnum):
        return str(value)
    if isinstance(value, tuple):
        if hasattr(value, "_asdict"):
            return {name: _plain(inner) for name, inner in value._asdict().items()}
        return [_plain(inner) for inner in value]
    return value
