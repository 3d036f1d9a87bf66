"""The files for other programs, written beside the finished pages."""

from __future__ import annotations

import json
from collections.abc import Callable, Container, Iterable, Iterator

from rangebook.book.build import Item
from rangebook.book.model import Connector, Family, Kit
from rangebook.site.api import table, urls
from rangebook.site.api.data import Api, vehicles
from rangebook.site.api.facts import published
from rangebook.site.output.folder import Folder

_HEAD = table.MARK + table.text([table.HEAD])


def write_book(out: Folder, api: Api) -> None:
    """Lists and schemas. The same book gives the same bytes."""
    out.json(urls.INDEX, api.index())
    for kind, listed in api.listings().items():
        out.json(urls.listing(kind), listed)
    for name, schema in published(api.computed.loaded.schemas).items():
        out.text(urls.schema(name), json.dumps(schema, indent=2, ensure_ascii=False) + "\n")


def addresses(entry: Family | Connector | Kit, taken: Container[str]) -> Iterator[str]:
    """The id of an entry, and those that it had and no other has now: programs go on asking by these."""
    yield entry.id
    yield from (old for old in dict.fromkeys(entry.former_ids) if old not in taken)


def write_piece(out: Folder, api: Api, items: Iterable[Item]) -> None:
    """What is about some entries, which are all that hang together with these; of a site in parts what of it is in the part. A vehicle goes
    with the first of its families."""
    book, shard = api.computed.book, api.computed.shard
    families = []
    for one in items:
        if isinstance(one, Family):
            families.append(one)
        if not shard.has(one.id):
            continue
        match one:
            case Connector():
                for name in addresses(one, book.connectors):
                    out.json(urls.connector(name), api.connector(one))
            case Kit():
                for name in addresses(one, book.kits):
                    out.json(urls.kit(name), api.kit(one))
            case Family():
                _write_family(out, api, one)
    for name, applications in vehicles(families).items():
        if shard.has(applications[0][0].id):
            out.json(urls.vehicle(name), api.vehicle(name, applications))


def _write_family(out: Folder, api: Api, family: Family) -> None:
    """A family, its parts, and its interchange table."""
    for name in addresses(family, api.computed.book.families):
        out.json(urls.family(name), api.family(family))
    for part in family.parts:
        out.json(urls.part(part.key), api.part(part))
    rows = table.rows(api.computed, api.computed.seats_by_family.get(family.id, ()))
    out.text(urls.table(family.id), _HEAD + table.text(rows))


def write_whole_table(out: Folder, read: Callable[[str], bytes], families: Iterable[str]) -> None:
    """The table of the whole book, from those of its families, which ``read`` gives by their addresses."""
    head = _HEAD.encode()
    out.data(urls.TABLE, head + b"".join(read(urls.table(family)).removeprefix(head) for family in families))
