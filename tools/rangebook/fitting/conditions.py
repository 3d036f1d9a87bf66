"""Conditions: which of them hold together, as far as it is known which vehicle it is.

A condition asks for numbers, months, marks and sides. What there is to read falls into a few classes that no condition tells further
apart: before, at and behind each number that is named, each word that is named and any other. Of each class it is plain whether a
condition holds, does not, or cannot be told (``None``); and a class that what is known of the vehicle rules out is not there. So two
halves of one condition never hold together, and between them nothing is left.
"""

from __future__ import annotations

import itertools
import math
import re
from collections.abc import Iterable, Iterator, Sequence
from functools import lru_cache
from typing import NamedTuple

from rangebook.book.book import Book
from rangebook.book.model import Application, Part, Range, When

Truth = bool | None
Truths = tuple[Truth, ...]
"""For each of some conditions whether it holds; ``None`` where that cannot be told."""

MOST = 4_096
"""Of more combinations of classes than this none is looked at: then nothing is known of any condition."""

MOST_ROUTES = 16
"""The same of the different conditions under which chains lead to one part."""

_UNTOLD = frozenset({When(built=(Range("9999", "0001"),))})
"""What cannot be told of any vehicle."""

NUMBERS, WORDS = ("serial", "vin", "gearbox_serial", "built"), ("marked", "steering", "built_for")
KEYS = (*NUMBERS, *WORDS)
"""What a condition may ask for."""

_SIDES = ("left", "right")
_VIN = 17

Routes = tuple[frozenset[When], ...]
"""Several ways, each with the conditions that hold together on it."""


class _Class(NamedTuple):
    """Numbers that begin alike and go on from ``low`` to ``high``."""

    before: str
    low: float
    high: float


# Conditions together ------------------------------------------------------------------------------------------------------


@lru_cache(maxsize=4_096)
def together(conditions: tuple[When, ...], known: tuple[When, ...] = ()) -> frozenset[Truths]:
    """Every way in which conditions can hold together for a vehicle of which all that is ``known`` is so."""
    unknown = frozenset({(None,) * len(conditions)})
    all_of = (*conditions, *known)
    found: list[set[Truths]] = []
    for key in KEYS:
        if any(getattr(one, key) is not None for one in conditions):
            rows = _of_numbers(key, all_of, len(conditions)) if key in NUMBERS else _of_words(key, conditions, all_of)
            found.append({row[: len(conditions)] for row in rows if False not in row[len(conditions) :]})
    if not found:
        return frozenset({(True,) * len(conditions)})
    if any(not rows for rows in found) or math.prod(map(len, found)) > MOST:
        return unknown  # what is known contradicts itself, or it is too much to look at
    return frozenset(tuple(all_hold(column) for column in zip(*rows, strict=True)) for rows in itertools.product(*found)) or unknown


def all_hold(truths: Iterable[Truth]) -> Truth:
    """Whether all of several hold."""
    found = set(truths)
    return False if False in found else None if None in found else True


def any_holds(truths: Iterable[Truth]) -> Truth:
    """Whether any of several holds."""
    found = set(truths)
    return True if True in found else None if None in found else False


def _of_numbers(key: str, all_of: Sequence[When], count: int) -> Iterator[Truths]:
    """For each class of what can be read under a key, whether it does for each condition; one that does not ask for it holds. Those from
    ``count`` on are known to hold."""
    asked: list[tuple[Range, ...] | None] = [getattr(one, key) for one in all_of]
    ends: dict[str, set[float]] = {}
    for one in itertools.chain.from_iterable(ranges or () for ranges in asked):
        for before, low, high in _bounds(key, one):
            # A class begins with the first number of a range, and behind its last.
            ends.setdefault(before, set()).update(end for end in (low, high + 1) if math.isfinite(end))
    classes = []
    for before, starts in ends.items():
        edges = [-math.inf, *sorted(starts), math.inf]
        classes += [_Class(before, low, high - 1) for low, high in itertools.pairwise(edges)]
    for each in classes:
        yield tuple(
            True if ranges is None else any_holds(_in_range(key, one, each, at >= count) for one in ranges)
            for at, ranges in enumerate(asked)
        )


def _in_range(key: str, one: Range, each: _Class, known: bool) -> Truth:
    bounds = _bounds(key, one)
    if not bounds:
        return None
    ((before, low, high),) = bounds
    if each.before != before:
        # What begins otherwise is not between the two. Where one of them is open nobody says how far a condition goes; a vehicle's number
        # begins as it is said to.
        return False if known or (math.isfinite(low) and math.isfinite(high)) else None
    return low <= each.low and each.high <= high


def _bounds(key: str, one: Range) -> tuple[tuple[str, float, float], ...]:
    """How the numbers of a range begin, the first and the last; nothing where these cannot be one range."""
    if key == "built":
        low = -math.inf if one.since is None else month(one.since, 1)
        high = math.inf if one.until is None else month(one.until, 12)
        return (("", low, high),) if low <= high else ()
    ends = [None if end is None else _number(key, end) for end in (one.since, one.until)]
    begins = {end[0] for end in ends if end is not None}
    low = -math.inf if ends[0] is None else ends[0][1]
    high = math.inf if ends[1] is None else ends[1][1]
    return ((begins.pop(), low, high),) if len(begins) == 1 and low <= high else ()


def month(text: str, otherwise: int) -> int:
    """A year and month as the number of months since year 0; ``otherwise`` is the month where only the year is said."""
    year, _, number = text.partition("-")
    return int(year) * 12 + int(number or otherwise) - 1


def _number(key: str, text: str) -> tuple[str, int]:
    """How a number begins, and the figures at its end as one number: those that begin alike are given one after the other (common practice,
    no source).

    A whole VIN counts by its last eight signs; the first eight say what it is, the ninth is a check digit. Source: ISO 3779 (VDS and
    VIS), 49 CFR 565.15; from memory.
    """
    plain = "".join(text.upper().split())
    if key == "vin" and len(plain) == _VIN:
        plain = plain[:8] + plain[9:]
    figures = re.search(r"[0-9]*$", plain).group()  # type: ignore[union-attr]
    return plain[: len(plain) - len(figures)], int(figures or 0)


def _of_words(key: str, conditions: Sequence[When], all_of: Sequence[When]) -> Iterator[Truths]:
    """The same of words. What is marked on a vehicle says nothing against another mark on its part."""
    asked = [None if (said := getattr(one, key)) is None else plain(said) for one in all_of]
    if key == "marked":
        named = {word for word in asked[: len(conditions)] if word is not None}
        asked = [word if at < len(conditions) or word in named else None for at, word in enumerate(asked)]
    others = () if key == "steering" else (None,)
    words: dict[str | None, None] = dict.fromkeys(_SIDES if key == "steering" else [one for one in asked if one is not None])
    for word in (*words, *others):
        yield tuple(True if one is None else one == word for one in asked)


def plain(text: str) -> str:
    """Words as they are compared: case and further spaces do not matter."""
    return " ".join(text.casefold().split())


def is_possible(one: When) -> bool:
    """Whether each of its ranges can be read as one: not backwards, and both ends of a row of numbers that begin alike."""
    return all(_bounds(key, part) for key in NUMBERS for part in getattr(one, key) or ())


# What is known of a vehicle -----------------------------------------------------------------------------------------------


def known_of(application: Application) -> tuple[When, ...]:
    """What an application says of its vehicles, as conditions that they all meet.

    A model year's vehicles are built from January of the year before it to its December. Source: 40 CFR 85.2303 and 85.2304.
    """
    found = [] if application.when is None else [application.when]
    if application.built_from or application.built_to:
        found.append(When(built=(Range(application.built_from, application.built_to),)))
    first, last = application.first_year, application.last_year
    if first is not None:
        found.append(When(built=(Range(f"{first - 1}-01", None if last is None else f"{last}-12"),)))
    return tuple(found)


# Chains -------------------------------------------------------------------------------------------------------------------


class Chains:
    """Under which conditions the makers' chains lead from a part to each that takes its place, looked up once."""

    def __init__(self, book: Book) -> None:
        self._book = book
        self._routes: dict[Part, dict[str, Routes]] = {}

    def from_part(self, part: Part) -> dict[str, Routes]:
        """Normalised number -> the conditions of each way to it; those to which a way without any leads are left out."""
        found = self._routes.get(part)
        if found is None:
            found = self._routes[part] = self._walk(part) if part.superseded_by else {}
        return found

    def _walk(self, part: Part) -> dict[str, Routes]:
        routes: dict[str, list[frozenset[When]]] = {part.key: [frozenset()]}
        todo = [part]
        while todo:
            here = todo.pop(0)
            for link in here.superseded_by:
                successor = self._book.part(link.number)
                if successor is None:
                    continue
                here_to = routes.setdefault(successor.key, [])
                new = [way | {link.when} if link.when else way for way in routes[here.key]]
                fresh = [way for way in new if not any(known <= way for known in here_to)]
                if fresh and (here_to != [_UNTOLD] or frozenset() in fresh):
                    least = _least([*here_to, *fresh])
                    here_to[:] = least if len(least) <= MOST_ROUTES else [_UNTOLD]
                    todo.append(successor)
        del routes[part.key]
        return {key: tuple(ways) for key, ways in routes.items() if frozenset() not in ways}


def _least(ways: Sequence[frozenset[When]]) -> list[frozenset[When]]:
    """Those that no other asks less than."""
    return [way for way in dict.fromkeys(ways) if not any(other < way for other in ways)]


def chains_in(book: Book) -> Chains:
    """What is known of a book's chains; the same object each time."""
    found: Chains | None = book.kept.get(Chains)
    if found is None:
        found = book.kept[Chains] = Chains(book)
    return found


def asked_of(book: Book, part: Part) -> tuple[When, ...]:
    """Every condition that the answer for a seat which came with the part may go by: of its designs, and on its chains."""
    revisions = [one.when for one in part.revisions if one.when is not None]
    links = [when for ways in chains_in(book).from_part(part).values() for way in ways for when in sorted(way, key=repr)]
    return tuple(dict.fromkeys((*revisions, *links)))
