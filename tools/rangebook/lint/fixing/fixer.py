"""What a rule can fix: how it is found, and how safe it is."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from enum import IntEnum, auto

from rangebook.lint.fixing.edits import Fix
from rangebook.lint.fixing.page import Page


class Safety(IntEnum):
    """What the fixes of one fixer do to what an entry says, the safest first."""

    FORM = auto()
    """Nothing: only the form of the text is another."""
    VALUE = auto()
    """A value is said anew that could not be taken as it was, or as the same in one spelling."""
    READABLE = auto()
    """What could not be read can be, and with it all that it says."""


class Turn(IntEnum):
    """When it is asked: first what makes an entry readable, last what moves lines."""

    SPACE = auto()
    READABLE = auto()
    VALUES = auto()
    QUOTES = auto()
    LINES = auto()


@dataclass(frozen=True)
class Fixer:
    """One kind of fix. ``find`` yields fixes, all of them to be made on the same text; it is ``None`` where
    there is nothing to find in the text, and what is wrong is mended where the file is written anew. ``name`` is what people are told."""

    name: str
    safety: Safety
    turn: Turn
    find: Callable[[Page], Iterator[Fix]] | None
