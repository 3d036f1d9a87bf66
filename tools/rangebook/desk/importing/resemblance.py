"""Whether a family that an import begins is one that is there by another name."""

from __future__ import annotations

import difflib
import re
from collections.abc import Iterator, Mapping
from typing import Any

from rangebook.book.book import Book
from rangebook.book.model import Family
from rangebook.book.numbers import normalise
from rangebook.reading.entry import read_entry

ALIKE = 0.8
"""How much alike two words have to be, from 0 to 1."""
_OF_ANY = frozenset(("switch", "switches", "sensor", "range", "family", "the", "of", "with", "and"))
"""Words that any name of a family may have."""


def resemblances(book: Book, files: Mapping[str, bytes]) -> Iterator[tuple[str, Family, str]]:
    """Each family that ``files`` begin and that is like one of the book: its file, the family, and in what it is like it."""
    there = {family.entry.file for family in book.families.values()}
    for file, data in files.items():
        front = read_entry(file, data).front if file not in there else None
        if front is not None:
            for family in book.families.values():
                if why := list(_like(front, family)):
                    yield file, family, "; ".join(why)


def _like(front: Mapping[str, Any], family: Family) -> Iterator[str]:
    mine, theirs = ([_name(one) for one in names] for names in ((front["id"], front["title"]), (family.id, family.title)))
    if any(_alike(one, other) for one in mine for other in theirs):
        yield "the names are alike"
    numbers = {normalise(one["number"]) for one in front["parts"]}
    takes = {normalise(link["number"]) for one in front["parts"] for link in one.get("superseded_by", ())}
    listed = [part.number for part in family.parts if normalise(part.number) in takes]
    listed += [part.number for part in family.parts if numbers & {normalise(link.number) for link in part.superseded_by}]
    if listed:
        yield f"{', '.join(dict.fromkeys(listed))} of it and a number of the list took each other's place"
    vehicles = {(one["vehicle"].casefold(), one.get("years")) for one in front.get("applications", ())}
    both = [one for one in family.applications if (one.vehicle.casefold(), one.years) in vehicles]
    if both:
        yield f"it has {', '.join(dict.fromkeys(' '.join(filter(None, (one.vehicle, one.years))) for one in both))} too"


def _name(text: str) -> tuple[str, ...]:
    words = re.findall(r"[^\W_]+", text.casefold())
    return tuple(word for word in words if word not in _OF_ANY) or tuple(words)


def _alike(one: tuple[str, ...], other: tuple[str, ...]) -> bool:
    """Names of the same letters, or of which one has nearly all words of the other, and not only one."""
    if "".join(one) == "".join(other):
        return True
    shorter, longer = sorted((one, other), key=len)
    return len(shorter) > 1 and all(any(_near(word, each) for each in longer) for word in shorter)


def _near(one: str, other: str) -> bool:
    figures = any(map(str.isdigit, one + other))
    return one == other or (not figures and difflib.SequenceMatcher(None, one, other).ratio() >= ALIKE)
