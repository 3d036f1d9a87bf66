"""The files for other programs, written beside the finished pages."""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping

from rangebook.book.model import Family
from rangebook.site.api import table, urls
from rangebook.site.api.data import Api
from rangebook.site.api.facts import published
from rangebook.site.output.folder import Folder


def write_book(out: Folder, api: Api) -> None:
    """What is of the whole book, but the table, and the schemas. The same book gives the same bytes."""
    out.json(urls.INDEX, api.index())
    for kind, listed in api.listings().items():
        out.json(urls.listing(kind), listed)
    for name, schema in published(api.computed.loaded.schemas).items():
        out.text(urls.schema(name), json.dumps(schema, indent=2, ensure_ascii=False) + "\n")


def write_families(out: Folder, api: Api, families: Iterable[Family]) -> None:
    """A file for each family."""
    for family in families:
        out.json(urls.family(family.id), api.family(family))


def write_whole_table(out: Folder, families: Iterable[str], packed: Mapping[str, str]) -> None:
    """The interchange table of the whole book, from the rows of each of its families as :func:`table.pack` gave them."""
    head = (table.MARK + table.text([table.HEAD])).encode()
    out.data(urls.TABLE, head + b"".join(table.unpack(packed[family]) for family in families))
