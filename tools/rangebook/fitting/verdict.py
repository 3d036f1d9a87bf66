"""What a verdict is. The words in data are fixed; on screen there are others."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from enum import StrEnum
from types import MappingProxyType

from rangebook.book.model import Part
from rangebook.fitting.parcel import Needed


class Word(StrEnum):
    """The verdicts, best first."""

    STRAIGHT = "straight"
    WITH_PARTS = "with_parts"
    REWIRE = "rewire"
    UNKNOWN = "unknown"
    NO = "no"


RANK = {word: rank for rank, word in enumerate(Word)}
"""Verdict -> its place, 0 the best."""

FITS = frozenset({Word.STRAIGHT, Word.WITH_PARTS})
"""The verdicts with which a part counts as fitting a seat."""


class Says(StrEnum):
    """What one reason comes to."""

    FOR = "for"
    AGAINST = "against"
    MISSING = "missing"


@dataclass(frozen=True, slots=True)
class Reason:
    """One thing that was checked: ``check`` is ``mount``, ``mating``, ``behaviour`` or ``safety``, ``text`` a plain sentence.

    ``settles`` is, for something missing, how many open comparisons would be settled by measuring it.
    """

    check: str
    says: Says
    text: str
    settles: int = 0


@dataclass(frozen=True, slots=True)
class Verdict:
    """Whether a part can stand in on a seat.

    ``moves`` maps each cavity of the vehicle's plug whose wire has to be handled to the cavity that it goes to;
    ``unused_pins`` are the part's pins that get no wire. ``equal_answers`` is how many ways of moving the wires are as
    good as the one given. ``checked`` is everything that was looked at, in the order mount, mating, behaviour, safety.
    """

    part: Part
    word: Word
    needs: tuple[Needed, ...] = ()
    moves: Mapping[str, str] = field(default_factory=lambda: MappingProxyType({}))
    unused_pins: tuple[str, ...] = ()
    equal_answers: int = 1
    checked: tuple[Reason, ...] = ()

    @property
    def reasons(self) -> tuple[Reason, ...]:
        """What decides: all that is against it for ``no``, all that is missing for ``unknown``, else all that is for it."""
        wanted = {Word.NO: Says.AGAINST, Word.UNKNOWN: Says.MISSING}.get(self.word, Says.FOR)
        return tuple(reason for reason in self.checked if reason.says is wanted)

    @property
    def settled(self) -> tuple[Reason, ...]:
        """What speaks for the part, whatever the verdict: for ``unknown``, what need not be measured any more."""
        return tuple(reason for reason in self.checked if reason.says is Says.FOR)

    @property
    def measure_first(self) -> Reason | None:
        """Of what is missing, the one thing whose measurement would settle most."""
        missing = [reason for reason in self.checked if reason.says is Says.MISSING]
        return max(missing, key=lambda reason: reason.settles) if missing and self.word is Word.UNKNOWN else None

    @property
    def fits(self) -> bool:
        """Whether the part fits as it is or with parts that can be ordered."""
        return self.word in FITS


def settle(word: Word, checked: Iterable[Reason]) -> Word:
    """Anything against makes it ``no``, else anything missing makes it ``unknown``, whatever else speaks for it."""
    said = {reason.says for reason in checked}
    if Says.AGAINST in said:
        return Word.NO
    return Word.UNKNOWN if Says.MISSING in said else word
