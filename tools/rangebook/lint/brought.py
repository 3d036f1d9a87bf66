"""Rules that installed packages bring along.

A package names a module of its own, in the form of ours, under the entry point ``rangebook.rules``. It is a program: who installs it
decides that it runs, and nothing that a book holds does.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache
from importlib.metadata import EntryPoint, entry_points
from typing import Any

GROUP = "rangebook.rules"
"""The entry point of Python's packages by which they are found. Source: PyPA, Entry points specification."""


class RuleError(Exception):
    """A rule of an installed package cannot be used; the message says which and why."""


@cache
def points() -> tuple[EntryPoint, ...]:
    """Where they are, in a fixed order."""
    return tuple(sorted(entry_points(group=GROUP), key=lambda point: (point.name, point.value)))


def brought() -> Iterator[tuple[str, Any]]:
    """Each with the package that it comes from, as its module declares it. Raises :class:`RuleError`."""
    for one in points():
        package = f"{one.dist.name if one.dist else 'a package'} ({one.value})"
        try:
            yield package, one.load().RULE
        except Exception as error:  # whatever a program does when it is imported
            raise RuleError(f"{package} cannot be used as a rule: {type(error).__name__}: {error}") from error
