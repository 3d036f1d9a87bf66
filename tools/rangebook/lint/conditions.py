"""The conditions that a family's entry states, with their places and what each is said of."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from rangebook.book.model import Family, KeyPath, When


class Stated(NamedTuple):
    """A ``when``, where it stands, and of what it is said: ``owner`` is ``successor``, ``design`` or ``vehicle``, ``of`` the number or the
    vehicle's name, ``instead_of`` the number that a successor takes the place of."""

    path: KeyPath
    when: When
    owner: str
    of: str
    instead_of: str | None = None


WHO = {"select": "owner", "successor": "{of} in place of {instead_of}", "design": "a design of {of}", "other": "{of}"}
"""The message for what :class:`Stated` says."""


def conditions_in(family: Family) -> Iterator[Stated]:
    """Each ``when`` of a family: of successors, of designs of a number, of vehicles."""
    for part in family.parts:
        for link in part.superseded_by:
            if link.when is not None:
                yield Stated((*link.path, "when"), link.when, "successor", link.number, part.number)
        for one in part.revisions:
            if one.when is not None:
                yield Stated((*one.path, "when"), one.when, "design", part.number)
    for vehicle in family.applications:
        if vehicle.when is not None:
            yield Stated((*vehicle.path, "when"), vehicle.when, "vehicle", vehicle.vehicle)
