"""The known word that somebody may have meant who typed another one."""

from __future__ import annotations

import difflib
from collections.abc import Callable, Iterable

LIKE = 0.6
"""How much alike two words have to be, from 0 to 1."""


def nearest(word: str, known: Iterable[str]) -> str | None:
    """The known word that looks most like a typo's, or ``None``."""
    return next(iter(nearest_of(word, known, 1)), None)


def nearest_of(word: str, known: Iterable[str], most: int = 3, like: float = LIKE, key: Callable[[str], str] = str.casefold) -> list[str]:
    """The known words that look most like a typo's, the likeliest first; none where nothing looks like it. Words of one ``key`` are
    the same: case does not count."""
    by_key = {key(one): one for one in known}
    return [by_key[one] for one in difflib.get_close_matches(key(word), list(by_key), n=most, cutoff=like)]
