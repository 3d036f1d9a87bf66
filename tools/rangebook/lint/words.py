"""Words that several rules share: the nearest known name to one that is not known."""

from __future__ import annotations

import difflib
from collections.abc import Iterable

from rangebook.words.lists import enumerated

MOST = 20
"""After so many different names the nearest is not looked for: it takes longer the larger the book is."""

listed = enumerated
"""The name that the rules have for it."""


class Nearest:
    """Finds the nearest of some known names, capitals and small letters taken as the same.

    What was asked once is remembered, so that a thousand mentions of one wrong name cost no more than one.
    """

    def __init__(self, known: Iterable[str]) -> None:
        self._known = known
        self._shown: dict[str, str] | None = None
        self._asked: dict[str, str | None] = {}

    def __call__(self, name: str) -> str | None:
        """The nearest known name, or ``None`` where none is near."""
        if name in self._asked:
            return self._asked[name]
        if len(self._asked) >= MOST:
            return None
        if self._shown is None:
            self._shown = {one.casefold(): one for one in self._known}
        found = difflib.get_close_matches(name.casefold(), self._shown, n=1, cutoff=0.6)
        self._asked[name] = self._shown[found[0]] if found else None
        return self._asked[name]


def meant(near: str | None, otherwise: str) -> str:
    """The remedy for an unknown name: the nearest one if there is one, and what else to do."""
    return f"did you mean {near}? If not, {otherwise}" if near else otherwise
