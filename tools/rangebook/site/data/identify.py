"""What the browser goes by to find out which switch is in the hand.

It narrows a table that was made here; what fits in place of the part that is found stands in the answers of its family.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

from rangebook.book.build import Item
from rangebook.book.model import Connector, Family, Part, Plug
from rangebook.desk.identify.data import as_data
from rangebook.desk.identify.table import Table, make_table
from rangebook.site.data import looks
from rangebook.site.data.pieces import is_large
from rangebook.site.facts.computed import Computed
from rangebook.site.model.faces import face, face_id, face_of
from rangebook.site.shared import urls
from rangebook.site.shared.compact import compact

IDENTIFY_URL = "data/identify.json"


def face_url(face_id: str) -> str:
    """The drawing of a face to tap on, by its id."""
    return f"data/faces/{face_id}.svg"


def files(computed: Computed) -> Iterator[tuple[str, str]]:
    """Address and text of the table of :mod:`rangebook.desk.identify`, its seats named as in the answers and with the titles of the
    families."""
    titles = [family.title for family in computed.book.families.values()]
    yield from table_files(computed.edition.mark, make_table(computed.fitter, urls.seat_key, computed.seen), titles, is_large(computed))


def table_files(edition: str, table: Table, titles: Sequence[str], large: bool) -> Iterator[tuple[str, str]]:
    """The table, and of a large book its pieces."""
    data = {"edition": edition, **as_data(table), "titles": list(titles)}
    yield IDENTIFY_URL, compact(data)
    if large:
        yield from looks.files(table, data)


def part_of_table(computed: Computed) -> dict[str, Any]:
    """The table of the families of the part of the site that is built, without what it has of the whole book."""
    own = (part for family in computed.own_families for part in family.parts)
    data = as_data(make_table(computed.fitter, urls.seat_key, computed.seen, own))
    return {key: data[key] for key in ("faces", "mountings", "marks", "gearboxes", "vehicles", "places", "rows")}


def faces(computed: Computed, item: Item) -> Iterator[tuple[str, str]]:
    """Address and drawing of each face of a connector, or of several on one part or plug of a family, bare, looking into the switch: what
    is in its cavities is for the reader to tap."""
    if isinstance(item, Connector):
        # Of those too that no part has yet: who writes an entry taps on them.
        yield face_url(item.id), str(face(computed, item, "switch"))
    if not isinstance(item, Family):
        return
    owners: tuple[Part | Plug, ...] = (*item.parts, *item.plugs.values())
    for sockets in dict.fromkeys(one.sockets for one in owners):
        name = face_id(sockets, computed.book.connectors)
        if name is not None and sockets[0].name:
            yield face_url(name), str(face_of(computed, sockets, "switch"))
