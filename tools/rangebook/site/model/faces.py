"""Faces of connectors for pages, each drawn once however many parts and plugs have it."""

from __future__ import annotations

from collections.abc import Mapping

from markupsafe import Markup

from rangebook.book.model import Connector, Wire
from rangebook.site.drawings.connector_face import Side, face_svg
from rangebook.site.facts.computed import Computed


def face(
    computed: Computed, connector: Connector, side: Side, pins: Mapping[str, str] | None = None, wires: Mapping[str, Wire] | None = None
) -> Markup:
    """The face of a connector, with the pins or the wires that it has in some part or plug.

    Its text alternative does not name the part: the heading above it does, and so one drawing serves all that are alike.
    """
    key = (connector.id, side, None if pins is None else tuple(pins.items()), None if wires is None else tuple(wires.items()))
    found = computed.drawn.get(key)
    if found is None:
        found = computed.drawn[key] = Markup(face_svg(connector, side, pins, wires, connector.title))
    return found
