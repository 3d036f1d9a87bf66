"""Several in one text, counts, and sentences: one of each."""

from __future__ import annotations

from collections.abc import Collection, Iterable
from itertools import islice

from rangebook.words.catalogue import Words, catalogue

DOZEN = 12
"""So many names are listed where there may be many."""


def listed(values: Iterable[object], style: str = "and") -> Words:
    """``a``, ``a and b``, ``a, b and c``; nothing for none. ``style`` is a list style of the catalogue."""
    return Words(catalogue().listed(values, style))


def enumerated(names: Iterable[str], none: str = "none") -> Words:
    """``P, R, N``; the word ``none`` where there is nothing to list; the first dozen where there are many."""
    if not isinstance(names, Collection):
        names = list(names)
    words = listed(islice(names, DOZEN), "comma") or none
    return Words(f"{words} and {len(names) - DOZEN} more" if len(names) > DOZEN else words)


def sentence(text: str) -> Words:
    """Text with a capital in front."""
    return Words(text[:1].upper() + text[1:])
