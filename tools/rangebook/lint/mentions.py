"""What entries say and where they say it, where the model alone does not tell."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any, NamedTuple

from rangebook.book.book import Book
from rangebook.book.model import Connector, Family, KeyPath, Kit, Need, Part, Source
from rangebook.lint.finding import Owner


class Mention(NamedTuple):
    """A number as it is written, where it stands, the key that says it, and of which part or vehicle."""

    family: Family
    path: KeyPath
    number: str
    key: str
    of: str


def part_numbers(book: Book) -> Iterator[Mention]:
    """Every mention of a part in ``superseded_by``, ``goes_with`` and ``came_with``, family by family. What is only needed or sold as may
    be anything, a bracket or a set."""
    for family in book.families.values():
        for part in family.parts:
            for link in part.superseded_by:
                yield Mention(family, (*link.path, "number"), link.number, "superseded_by", part.number)
            for index, number in enumerate(part.goes_with):
                yield Mention(family, (*part.path, "goes_with", index), number, "goes_with", part.number)
        for one in family.applications:
            if one.came_with is not None:
                yield Mention(family, (*one.path, "came_with"), one.came_with, "came_with", one.vehicle)


def needs_said(part: Part) -> Iterator[Need]:
    """Everything that is said to be needed with a part or with what takes its place."""
    yield from part.needs
    yield from (need for link in part.superseded_by for need in link.needs or ())


def beside(part: Part) -> Iterator[str]:
    """The numbers of the parts that a part goes with, is sold as, or is said to need."""
    yield from (*part.goes_with, *part.sold_as.values())
    yield from (need.part for need in needs_said(part) if need.part is not None)


def as_stated(owner: Owner, path: KeyPath) -> Any:
    """The value at ``path`` of the owner's front matter, with the order and the doublings that the model has no use for."""
    node: Any = owner.entry.front
    for step in path:
        node = node[step]
    return node


class Sourced(NamedTuple):
    """Something that sources stand for, where they stand, and what it is: an entry or a part, or that it takes the place of another."""

    sources: tuple[Source, ...]
    path: KeyPath
    of: str
    instead_of: str | None = None


WHAT = [{"given": "instead_of", "yes": "that {of} takes the place of {instead_of}", "no": "{of}"}]
"""The message for what :class:`Sourced` says."""


def sourced(owner: Family | Connector | Kit) -> Iterator[Sourced]:
    """Everything in an entry that has sources of its own, what has none left out."""
    if owner.sources:
        yield Sourced(owner.sources, (), owner.number if isinstance(owner, Kit) else owner.id)
    if isinstance(owner, Family):
        for part in owner.parts:
            if part.sources:
                yield Sourced(part.sources, part.path, part.number)
            for link in part.superseded_by:
                if link.sources:
                    yield Sourced(link.sources, link.path, link.number, part.number)
