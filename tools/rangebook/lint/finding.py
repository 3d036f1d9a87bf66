"""What a rule yields: findings at places in an entry."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Protocol

from rangebook.reading.entry import Entry
from rangebook.reading.finding import Finding, Severity
from rangebook.reading.located import Mark, mark_at

__all__ = ["Finding", "Owner", "Severity", "finding", "finding_at", "place_of"]


class Owner(Protocol):
    """Anything that came from an entry: a family, a connector, a kit."""

    @property
    def entry(self) -> Entry:
        """The entry."""


def finding(owner: Owner | Entry, path: Sequence[str | int], message: str, fix: str, *, key: bool = False, same: str = "") -> Finding:
    """A finding at the value that ``path`` leads to in the owner's front matter; with ``key`` at its key instead.

    ``message`` says what was found and what was expected, ``fix`` what to do about it. With a message that names a line elsewhere goes what
    stays the ``same`` when that line moves.
    """
    entry = owner if isinstance(owner, Entry) else owner.entry
    return replace(finding_at(entry, place_of(entry, path, key=key), message, fix, same), path=tuple(path))


def place_of(entry: Entry, path: Sequence[str | int], *, key: bool = False) -> Mark:
    """Where the value that ``path`` leads to begins, or with ``key`` its key; the top of the file where that cannot be read."""
    return mark_at(entry.front, path, key=key) if entry.front is not None else Mark(1, 1)


def finding_at(entry: Entry, mark: Mark, message: str, fix: str, same: str = "") -> Finding:
    """A finding at a place in an entry, which the engine will sign with the rule's name and severity."""
    return Finding(entry.file, *mark, "", Severity.ERROR, message, fix, same)
