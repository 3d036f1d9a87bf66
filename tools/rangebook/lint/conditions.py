"""The conditions that a family's entry states, with their places and what each is said of."""

from __future__ import annotations

from collections.abc import Iterator

from rangebook.book.model import Family, KeyPath, When


def conditions_in(family: Family) -> Iterator[tuple[KeyPath, When, str]]:
    """Each ``when`` of a family: of successors, of designs of a number, of vehicles."""
    for part in family.parts:
        for link in part.superseded_by:
            if link.when is not None:
                yield (*link.path, "when"), link.when, f"{link.number} in place of {part.number}"
        for one in part.revisions:
            if one.when is not None:
                yield (*one.path, "when"), one.when, f"a design of {part.number}"
    for vehicle in family.applications:
        if vehicle.when is not None:
            yield (*vehicle.path, "when"), vehicle.when, vehicle.vehicle
