"""Words that several rules share: the nearest known name to one that is not known, lists, what a range output reads."""

from __future__ import annotations

from collections.abc import Callable, Iterable

from rangebook.reading.nearest import nearest
from rangebook.words.catalogue import Message

MOST = 20
"""After so many different names the nearest is not looked for: it takes longer the larger the book is."""


class Nearest:
    """Finds the nearest of some known names, which are asked for when there is need of them; capitals and small letters taken as the same.

    What was asked once is remembered, so that a thousand mentions of one wrong name cost no more than one.
    """

    def __init__(self, known: Callable[[], Iterable[str]]) -> None:
        self._known = known
        self._asked: dict[str, str | None] = {}

    def __call__(self, name: str) -> str | None:
        """The nearest known name, or ``None`` where none is near."""
        if name in self._asked:
            return self._asked[name]
        if len(self._asked) >= MOST:
            return None
        self._asked[name] = nearest(name, self._known())
        return self._asked[name]


NEAR: Message = {"given": "near", "yes": "did you mean {near}? If not, "}
"""Begins the remedy for an unknown name: the nearest one, if there is one."""
