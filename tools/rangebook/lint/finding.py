"""What a rule yields: problems at places in an entry, which the engine signs and puts into words."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, Protocol

from rangebook.reading.entry import Entry
from rangebook.reading.finding import Finding, Line, Problem, Severity
from rangebook.reading.located import Map, Mark, Seq, mark_at

__all__ = ["Finding", "Line", "Owner", "Problem", "Severity", "place_of", "problem", "problem_at", "problem_in"]


class Owner(Protocol):
    """Anything that came from an entry: a family, a connector, a kit."""

    @property
    def entry(self) -> Entry:
        """The entry."""


def problem(owner: Owner | Entry, path: Sequence[str | int], code: str, /, *, key: bool = False, **values: Any) -> Problem:
    """A problem at the value that ``path`` leads to in the owner's front matter; with ``key`` at its key instead.

    ``code`` names one of the rule's messages, ``values`` what is put into it: texts, numbers, tuples of them; a line as a :class:`Line`.
    """
    entry = owner if isinstance(owner, Entry) else owner.entry
    return Problem("", entry.file, place_of(entry, path, key=key), code, values, _names_of(entry, path), tuple(path))


def problem_at(entry: Entry, mark: Mark, code: str, /, **values: Any) -> Problem:
    """A problem at a place in an entry's text."""
    return Problem("", entry.file, mark, code, values)


def problem_in(file: str, line: int, code: str, /, **values: Any) -> Problem:
    """A problem in a line of a file that is no entry."""
    return Problem("", file, Mark(line, 1), code, values)


def place_of(entry: Entry, path: Sequence[str | int], *, key: bool = False) -> Mark:
    """Where the value that ``path`` leads to begins, or with ``key`` its key; the top of the file where that cannot be read."""
    return mark_at(entry.front, path, key=key) if entry.front is not None else Mark(1, 1)


def _names_of(entry: Entry, path: Sequence[str | int]) -> tuple[str, ...]:
    """A path by names: an item of a list is named by what stands first in it, a part by its number."""
    names = []
    here: Any = entry.front
    for step in path:
        known = step in here if isinstance(here, Map) else isinstance(here, Seq) and isinstance(step, int) and step < len(here)
        here = here[step] if known else None
        names.append(step if isinstance(step, str) else str(next(iter(here.values()), "") if isinstance(here, Map) else here))
    return tuple(names)
