"""Mappings and lists that remember where each of their values stood in the file.

They are plain ``dict`` and ``list`` to everyone who does not ask, so a schema validator takes them as they are.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, NamedTuple


class Mark(NamedTuple):
    """A place in one file: line and column, both counted from 1, columns in characters."""

    line: int
    column: int


class Map(dict):
    """A mapping with, for each key, the marks of the key and of its value."""

    __slots__ = ("key_marks", "value_marks", "mark")

    def __init__(self, mark: Mark) -> None:
        super().__init__()
        self.mark = mark
        self.key_marks: dict[str, Mark] = {}
        self.value_marks: dict[str, Mark] = {}

    def key_mark(self, key: str) -> Mark:
        """Where ``key`` stands; where the mapping begins if it has no such key."""
        return self.key_marks.get(key, self.mark)

    def value_mark(self, key: str) -> Mark:
        """Where the value of ``key`` begins; where the mapping begins if it has no such key."""
        return self.value_marks.get(key, self.mark)


class Seq(list):
    """A list with the mark of each of its items."""

    __slots__ = ("item_marks", "mark")

    def __init__(self, mark: Mark) -> None:
        super().__init__()
        self.mark = mark
        self.item_marks: list[Mark] = []

    def item_mark(self, index: int) -> Mark:
        """Where item ``index`` begins; where the list begins if it has no such item."""
        return self.item_marks[index] if 0 <= index < len(self.item_marks) else self.mark


def mark_at(root: Map | Seq, path: Sequence[str | int], *, key: bool = False) -> Mark:
    """The mark of the value that ``path`` leads to, from ``root`` down.

    With ``key`` the mark of the last key itself is given, not of its value. A path that leaves the tree gives the last
    place that is still in it, so that a message about something missing points at where it is missing.
    """
    here: Any = root
    mark = root.mark
    last = len(path) - 1
    for depth, step in enumerate(path):
        if isinstance(here, Map):
            if step not in here:
                return mark
            mark = here.key_mark(step) if key and depth == last else here.value_mark(step)
        elif isinstance(here, Seq):
            if not isinstance(step, int) or not 0 <= step < len(here):
                return mark
            mark = here.item_mark(step)
        else:
            return mark
        here = here[step]
    return mark
