"""Several in one text, counts, and sentences: one of each."""

from __future__ import annotations

from collections.abc import Collection, Iterable
from itertools import islice
from typing import NamedTuple

from rangebook.words.catalogue import Words, catalogue

DOZEN = 12
"""So many names are listed where there may be many."""


def listed(values: Iterable[object], style: str = "and") -> Words:
    """``a``, ``a and b``, ``a, b and c``; nothing for none. ``style`` is a list style of the catalogue."""
    return Words(catalogue().listed(values, style))


class Some(NamedTuple):
    """The first dozen of several names, and how many more there are: what the catalogue's ``some`` lists."""

    first: tuple[str, ...]
    more: int


def some(names: Iterable[str]) -> Some:
    """Names as they are listed where there may be many."""
    if not isinstance(names, Collection):
        names = list(names)
    return Some(tuple(islice(names, DOZEN)), max(0, len(names) - DOZEN))


def enumerated(names: Iterable[str]) -> Words:
    """``P, R, N``; the word ``none`` where there is nothing to list; the first dozen where there are many."""
    return catalogue().say("shared", "some", some(names)._asdict())


def sentence(text: str) -> Words:
    """Text with a capital in front."""
    return Words(text[:1].upper() + text[1:])
