"""A part put into a family that is in the book: at the end of its list, with marks for what is not known, and no other byte touched."""

from __future__ import annotations

from collections.abc import Iterable

from rangebook.book.book import Book
from rangebook.book.model import Family
from rangebook.desk.new.compose import Draft, part_lines
from rangebook.desk.new.fields import fields
from rangebook.desk.writing.insertion import with_items
from rangebook.reading.nearest import nearest_of
from rangebook.schema.fields import Field, ordered
from rangebook.schema.store import Schemas


class NoFamilyError(Exception):
    """There is no such family; the message names the nearest."""


def find_family(book: Book, name: str) -> Family:
    """A family by its id or title, in any case of letters. Raises :class:`NoFamilyError`."""
    wanted = name.strip().casefold()
    for family in book.families.values():
        if wanted in (family.id.casefold(), family.title.casefold()):
            return family
    if wanted in book.lost_ids:
        raise NoFamilyError(f"the file of {wanted} cannot be read as it is: mend it first, `rangebook lint` says where")
    near = nearest_of(wanted, [*book.families, *(one.title for one in book.families.values())])
    nearest = f"; the nearest: {', '.join(near)}" if near else ""
    raise NoFamilyError(f"there is no family {name} in the book{nearest}; leave --in out to begin one")


def part_fields(schemas: Schemas) -> list[Field]:
    """What can be said of a part."""
    return [one for one in fields(schemas, "switch") if one.of_part]


def beside_the_part(keys: Iterable[str], schemas: Schemas) -> list[str]:
    """Those of the keys that belong to the family and not to a part."""
    own = {one.key for one in part_fields(schemas)}
    return [key for key in keys if key not in own]


def with_part(family: Family, data: bytes, draft: Draft, schemas: Schemas, layer: int = 0) -> bytes:
    """The family's file in the book's own ``layer``, ``data``, with the draft's part at the end of ``parts``. Raises
    ``NotInsertedError``."""
    part = {one.key: ordered(schemas, one.node, one.home, draft.values[one.key]) for one in part_fields(schemas) if one.key in draft.values}
    order = list(schemas.of("switch")["properties"])
    return with_items(family.entry.own(layer), data, "parts", [part], order, part_lines(draft, schemas))
