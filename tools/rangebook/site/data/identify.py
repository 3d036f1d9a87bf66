"""What the browser goes by to find out which switch is in the hand.

It narrows a table that was made here; what fits in place of the part that is found stands in the answers of its family.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

from rangebook.book.model import Part, Plug
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
    """Address and text of every file: the table of :mod:`rangebook.desk.identify`, its seats named as in the answers and with the
    titles of the families; and every face, bare, looking into the switch: what is in its cavities is for the reader to tap. Several
    that belong to one part or plug are one drawing more."""
    titles = [family.title for family in computed.book.families.values()]
    yield from table_files(computed.edition.mark, make_table(computed.fitter, urls.seat_key), titles, is_large(computed))
    yield from face_files(computed)


def table_files(edition: str, table: Table, titles: Sequence[str], large: bool) -> Iterator[tuple[str, str]]:
    """The table, and of a large book its pieces."""
    data = {"edition": edition, **as_data(table), "titles": list(titles)}
    yield IDENTIFY_URL, compact(data)
    if large:
        yield from looks.files(table, data)


def part_of_table(computed: Computed) -> dict[str, Any]:
    """The table of the families of the part of the site that is built, without what it has of the whole book."""
    own = (part for family in computed.own_families for part in family.parts)
    data = as_data(make_table(computed.fitter, urls.seat_key, own))
    return {key: data[key] for key in ("faces", "mountings", "marks", "gearboxes", "vehicles", "places", "rows")}


def face_files(computed: Computed) -> Iterator[tuple[str, str]]:
    """The drawings of faces to tap on."""
    # Of those too that no part has yet: who writes an entry taps on them.
    for connector in computed.book.connectors.values():
        yield face_url(connector.id), str(face(computed, connector, "switch"))
    plugs = (plug for family in computed.book.families.values() for plug in family.plugs.values())
    owners: tuple[Part | Plug, ...] = (*computed.book.parts, *plugs)
    for sockets in dict.fromkeys(one.sockets for one in owners):
        name = face_id(sockets, computed.book.connectors)
        if name is not None and sockets[0].name:
            yield face_url(name), str(face_of(computed, sockets, "switch"))
