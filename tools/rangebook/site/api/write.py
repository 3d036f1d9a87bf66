"""The files for other programs, written beside the finished pages."""

from __future__ import annotations

import json
from collections.abc import Iterable
from pathlib import Path

from rangebook.book.model import Family
from rangebook.site.api import table, urls
from rangebook.site.api.data import Api, vehicles
from rangebook.site.api.facts import published
from rangebook.site.output.folder import Folder

_HEAD = table.MARK + table.text([table.HEAD])


def write_book(out: Folder, api: Api) -> None:
    """Lists, schemas, and all that is not of one family. The same book gives the same bytes."""
    book = api.computed.book
    out.json(urls.INDEX, api.index())
    for kind, listed in api.listings().items():
        out.json(urls.listing(kind), listed)
    for connector in book.connectors.values():
        out.json(urls.connector(connector.id), api.connector(connector))
    for kit in book.kits.values():
        out.json(urls.kit(kit.id), api.kit(kit))
    for name, applications in vehicles(book.families.values()).items():
        out.json(urls.vehicle(name), api.vehicle(name, applications))
    for name, schema in published(api.computed.loaded.schemas).items():
        out.text(urls.schema(name), json.dumps(schema, indent=2, ensure_ascii=False) + "\n")


def write_family(out: Folder, api: Api, family: Family) -> None:
    """A family, its parts, and its interchange table."""
    out.json(urls.family(family.id), api.family(family))
    for part in family.parts:
        out.json(urls.part(part.key), api.part(part))
    rows = table.rows(api.computed, api.computed.seats_by_family.get(family.id, ()))
    out.text(urls.table(family.id), _HEAD + table.text(rows))


def write_whole_table(site: Path, families: Iterable[str]) -> None:
    """The table of the whole book, from those of its families, which are there by now."""
    with (site / urls.TABLE).open("wb") as whole:
        head = _HEAD.encode()
        whole.write(head)
        for family in families:
            whole.write((site / urls.table(family)).read_bytes().removeprefix(head))
