"""Faces of connectors for pages, each drawn once however many parts and plugs have it."""

from __future__ import annotations

from collections.abc import Container, Mapping

from markupsafe import Markup

from rangebook.book.model import Connector, Socket, Sockets, Wire
from rangebook.site.drawings.connector_face import Side, face_svg, faces_svg
from rangebook.site.facts.computed import Computed
from rangebook.words.lists import listed


def face(
    computed: Computed,
    connector: Connector,
    side: Side,
    pins: Mapping[str, str] | None = None,
    wires: Mapping[str, Wire] | None = None,
    loops: tuple[tuple[str, ...], ...] = (),
) -> Markup:
    """The face of a connector, with the pins or the wires that it has in some part or plug.

    Its text alternative does not name the part: the heading above it does, and so one drawing serves all that are alike.
    """
    return face_of(computed, (Socket("", connector.id),), side, pins, wires, loops) or Markup()


def face_of(
    computed: Computed,
    sockets: Sockets,
    side: Side,
    pins: Mapping[str, str] | None = None,
    wires: Mapping[str, Wire] | None = None,
    loops: tuple[tuple[str, ...], ...] = (),
) -> Markup | None:
    """The same of all connectors of a part or plug, in one drawing; ``None`` where one of them is not in the book."""
    known = computed.book.connectors
    if not sockets or any(one.connector not in known for one in sockets):
        return None
    key = (sockets, side, None if pins is None else tuple(pins.items()), None if wires is None else tuple(wires.items()), loops)

    def draw() -> Markup:
        named = [(one.name, known[one.connector]) for one in sockets]
        title = listed(connector.title for _, connector in named)
        if named[0][0]:
            return Markup(faces_svg(named, side, pins, wires, title, loops))
        return Markup(face_svg(named[0][1], side, pins, wires, title, loops))

    return computed.once(key, draw)


def face_id(sockets: Sockets, known: Container[str]) -> str | None:
    """The name of the drawing of all connectors of a part or plug; ``None`` where one of them is not in the book."""
    if not sockets or any(one.connector not in known for one in sockets):
        return None
    return "+".join(f"{one.name}.{one.connector}" if one.name else one.connector for one in sockets)


def face_rows(known: Mapping[str, Connector], face: str) -> list[list[str | None]]:
    """The cavities of a face by their whole labels, row by row, of each connector after the one before, an empty row between them."""
    rows: list[list[str | None]] = []
    for socket in _sockets(face):
        rows += [[]] if rows else []
        rows += [[label and socket.label(label) for label in row] for row in known[socket.connector].rows]
    return rows


def face_outline(known: Mapping[str, Connector], face: str) -> str:
    """The outlines of its connectors, with a plus between them."""
    return "+".join(known[socket.connector].outline or "" for socket in _sockets(face))


def _sockets(face: str) -> list[Socket]:
    parts = [one.rpartition(".") for one in face.split("+")]
    return [Socket(name, connector) for name, _, connector in parts]
