"""Which keys are asked of a kind of entry, in which order."""

from __future__ import annotations

from collections.abc import Iterator

from rangebook.schema.fields import Field, fields_at
from rangebook.schema.store import Schemas

_GIVEN = frozenset({"kind", "parts"})
"""Written by the command itself."""

_OF_THE_ENTRY = frozenset({"note", "allow", "photos"})
"""Keys that a part has too, and that are taken to be meant for the entry; all others that both have are meant for the part."""


def fields(schemas: Schemas, kind: str) -> list[Field]:
    """Every key of a kind, in the order in which they stand in an entry; those of a part of a switch family in their place."""
    return list(_fields(schemas, kind))


def _fields(schemas: Schemas, kind: str) -> Iterator[Field]:
    of_part = fields_at(schemas, kind, "parts")
    for key, one in fields_at(schemas, kind).items():
        if key == "parts":
            yield from (inner for inner in of_part.values() if inner.key not in _OF_THE_ENTRY)
        elif key not in _GIVEN and (key in _OF_THE_ENTRY or key not in of_part):
            yield one
